"""Crank, piston and valves. Angles are degrees of the crank; 0 is top dead centre, plus is after it.

crank.py        how far down the piston is at an angle, how fast, and the angles at which it is so far down
angles.py       an angle as a mechanic says it (“15 before TDC”, “329”), and back
dead_centre.py  true top dead centre from two readings, how sure, and how many degrees the dwell hides
events.py       when valves open and close: duration, overlap, lobe centres
lift.py         the same from dial readings: events at a stated lift, lobe centre, each with its uncertainty
teeth.py        by how many teeth a camshaft is out, as chances
rim.py          degrees as millimetres on a rim: arc, chord, the strips of a timing tape
"""
