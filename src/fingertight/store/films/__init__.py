"""Films beside the machines: files in the folder `films` of the workshop. They are in no backup, for they are big.

folder.py  which films are there, by name; room on the disk
draft.py   a film on its way: a hidden file, which gets its name only once it is whole and looks like a film
"""
