"""The drive: a centrifugal clutch, wheels and chain, and the oil they run in.

clutch.py  when the shoes of a centrifugal clutch touch, what they carry, what wear and weak springs do
gears.py   trains of gears and chains: ratio, speeds, torque, which way it turns, which teeth meet
chain.py   chains by name, pitch circles, length for a centre distance and back, wear
sumps.py   oil in a sump and on its dipstick: what is poured after draining, after an overhaul, to top up
grades.py  what an oil’s grade says: SAE J300 by edition, ISO 3448
"""
