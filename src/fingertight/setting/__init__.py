"""Setting an engine, on plain numbers; no machine is known here.

timing/  crank and piston, true top dead centre, valve events, a camshaft’s teeth, degrees on a flywheel’s rim
"""
