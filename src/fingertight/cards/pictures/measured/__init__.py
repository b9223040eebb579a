"""Pictures of what is measured.

places.py  where the instrument goes: the part by its shape, its spots numbered in the order of the boxes
"""
