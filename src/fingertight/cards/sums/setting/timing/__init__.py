"""Sums about crank, piston and valves, and what is printed for them.

piston.py   how far down the piston is at an angle, and the angles of a depth
tdc.py      true top dead centre from two readings
events/     when valves open and close, from stated figures or dial readings (the sum `timing`)
teeth/      by how many teeth a camshaft is out
rim.py      degrees as millimetres on the rim of a flywheel
printed.py  what stands on a degree wheel and on a timing tape
words.py    fields, sentences and readings they share
"""
