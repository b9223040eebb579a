"""A machine's file changes: its versions, going back, copying from common assemblies.

versions  every version kept, two side by side, going back
library   common assemblies, one copied into a machine, a machine begun from some
"""
