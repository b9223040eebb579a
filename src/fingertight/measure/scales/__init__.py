"""The scales of instruments that are read by eye: what stands where at a reading, and why one was misread.

kinds.py     verniers, micrometers, dials and bore gauges, metric and inch: steps, turns, ranges
shows.py     what an instrument shows at a reading: whole marks, thimble or hand, the line that meets
misread.py   a random setting for practice, and the slip that explains what was read instead
"""
