"""Common assemblies, each a small machine file of its own: invented, marked so, and copied into machines.

*.toml     the assemblies
shelf.py   which there are, and their texts
copied.py  one of them copied into a machine's text; a machine begun from some
"""
