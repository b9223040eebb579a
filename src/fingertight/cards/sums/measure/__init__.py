"""The sums about measuring, a module each; what they share in typed.py and words.py.

measure.py     is it worn, and how sure is that
instrument.py  what an instrument looks like at a reading
workshop/      bore, clearance, shim, run-out, fit
study/         how well is it measured, by a class or by instruments
"""
