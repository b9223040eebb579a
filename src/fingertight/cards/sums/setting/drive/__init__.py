"""Sums about the drive and its oil.

clutch.py  when a centrifugal clutch engages and what it carries
ratio.py   trains of gears and chains, with which teeth meet again
chain.py   a chain’s length, centre distance and wear
oil.py     what is poured into each sump, and what a grade says
"""
