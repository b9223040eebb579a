"""What is measured on an engine, a sum each: bore, clearance, shim, run-out; and what letters and grades mean.

bore.py       size, out of round and taper from readings at heights and in directions
clearance.py  an outer size less an inner one, cold and warm
shim.py       which shim brings an end float back
runout.py     what a dial says round a shaft
fit.py        limits of holes and shafts by ISO 286
judge.py      what they share: a size against its limits, with its uncertainty, as a row
"""
