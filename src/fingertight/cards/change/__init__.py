"""A machine's file changes: from text to text in words, version by version, by copying from common assemblies.

difference.py  what one file says that another did not, and what that means at a bench
versions.py    all that was kept of a machine; two of them side by side, line by line
library.py     common assemblies to copy from
"""
