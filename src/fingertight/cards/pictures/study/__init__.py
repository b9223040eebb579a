"""Pictures of a study of the measuring itself.

axes.py      sizes up the side, with figures at round steps, and dots
readings.py  what everybody read: part by part, and person by person against the part's mean
shares.py    bars: where what readings vary by comes from, and how much of the tolerance it takes up
"""
