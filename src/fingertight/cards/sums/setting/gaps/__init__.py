"""Sums about gaps.

feeler/      which leaf makes a gap, what a reading proves, which leaves prove a range, how far the screw is turned
coil.py      a card as gauge between coil and flywheel
ring_gap.py  gaps of a piston ring, and what they say of the bore
words.py     fields, sizes and verdicts they share
"""
