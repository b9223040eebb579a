"""Sums about setting an engine.

timing/  piston and crank, top dead centre, valve events, a camshaft’s teeth, degrees on a rim
"""
