"""Setting an engine, on plain numbers; no machine is known here.

timing/    crank and piston, true top dead centre, valve events, a camshaft’s teeth, degrees on a flywheel’s rim
gaps/      what leaves and cards prove of a gap; ring gaps as a measure of the bore
cylinder/  volumes and compression ratio, cranking pressure at an altitude, leak-down
drive/     centrifugal clutch, trains of gears and chain, oil in sumps and its grades
tables/    the published tables they rest on
"""
