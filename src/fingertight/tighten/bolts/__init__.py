"""Bolts and the holes they may belong to.

reach.py  does a bolt of this length hold, or bottom before it clamps
match.py  which holes a loose bolt may belong to; a whole tray sorted at once
"""
