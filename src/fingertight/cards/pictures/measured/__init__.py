"""Pictures of what is measured.

bell.py    a size on its bar with the bell of what it may truly be
places.py  where the instrument goes: the part by its shape, its spots numbered in the order of the boxes
"""
