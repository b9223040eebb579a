"""A thread by its name, and which thread was measured.

names/         a thread by its name: diameter, pitch and what follows from them; threads of no table here
limits.py      between which sizes a sound bolt and a sound nut or hole measure
tolerances.py  the formulas of the standards behind the limits
holes.py       the drill before the tap, the holes a bolt goes through
measured.py    what a caliper and a pitch gauge said, read from a sentence
identify.py    which thread that is: candidates, and the measurement that would settle it
lookalikes.py  which threads start in each other's holes, and after how many turns they bind

Small values here are named tuples: a data class takes long enough to make to be felt when a command starts.
"""
