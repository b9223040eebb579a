"""Tightening with a machine: its bolts and their torques, and whose a loose bolt is.

turn.py    one set being tightened: which bolt next, how much, on which scale
sheet.py   every torque of the machine, for the wall
pull.py    how hard its torque pulls each bolt, and what gives when it is too much
words.py   what both of these say of a set
bolt.py    a bolt from the floor: which holes it may belong to
tray.py    a whole spilled tray, sorted
places.py  what both of these call a hole
"""
