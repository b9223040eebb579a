"""Sums about setting an engine.

timing/    piston and crank, top dead centre, valve events, a camshaft’s teeth, degrees on a rim
gaps/      feeler leaves, the gap of a coil, ring gaps
cylinder/  compression ratio, cranking pressure, leak-down
drive/     centrifugal clutch, gears and chain, oil
"""
