"""Pictures as numbers; the templates draw them as SVG, the papers may draw them otherwise.

rings.py  what lies how deep in the machine, and what is off, free or still on
bolts.py  the fasteners of a part where they sit, numbered in the order they are loosened or tightened
bars.py   a reading between new, worn and limit, with its whisker
"""
