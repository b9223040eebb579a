"""Torque, preload and the wrench.

strength.py   how strong a bolt is by the mark on its head, and how it bears a preload
preload.py    torque and preload, short form and long form, and the twist of tightening
friction.py   how slippery surfaces are, what rubs under a head, and the band of preload that leaves
stripping.py  what gives first: bolt, its thread, or the tapped hole; the least engagement
turn.py       tightening by angle
wrench.py     what a torque wrench is set to with an extension, and how far it may be off
slips.py      is a pass right, and which slip explains one that is not
"""
