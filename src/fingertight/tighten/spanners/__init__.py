"""Heads, and what turns them.

heads.py   the heads a thread is met under, and the spanner, key or screwdriver for each
widths.py  between which limits a head, a jaw, a key and a socket of one name measure
jaws.py    the play between a jaw and a hexagon, and what it catches of the corner
choose.py  which spanner is right for a head, which is loose, which must not be used
"""
