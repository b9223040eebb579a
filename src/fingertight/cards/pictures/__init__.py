"""Pictures as numbers; the templates draw them as SVG, the papers may draw them otherwise.

rings.py  what lies how deep in the machine, and what is off, free or still on
bolts.py  the fasteners of a part where they sit, numbered in the order they are loosened or tightened
timing.py crank and piston, the dwell at the top, valve timing, lift curves
cylinder.py  the space above the piston, cut open, each volume by its figure
dial.py   how deep a machine is taken apart, across a room
bars.py   a reading between new, worn and limit, with its whisker
drawing.py   lines, outlines and words, the same for a page and for paper
measured/ where the instrument goes; a size with the bell of what it may truly be
instruments/ vernier, micrometer and dial at a reading
study/    the study of the measuring: who read what, where it comes from
"""
