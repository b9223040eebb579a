"""Torque, preload and the wrench.

strength.py   how strong a bolt is by the mark on its head, and how it bears a preload
preload.py    torque and preload, short form and long form, and the twist of tightening
friction.py   how slippery surfaces are, what rubs under a head, and the band of preload that leaves
stripping.py  what gives first: bolt, its thread, or the tapped hole; the least engagement
turn.py       tightening by angle
borne.py      a bolt in its place: what a torque or a turn does to it, and what gives first
wrench.py     what a torque wrench is set to with an extension, how far it may be off, slips of reading it
"""
