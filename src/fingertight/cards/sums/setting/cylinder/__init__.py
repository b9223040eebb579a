"""Sums about the cylinder.

compression.py  volumes, compression ratio and its budget, milling
cranking.py     what a compression gauge should show, and what a reading says
leakdown.py     what a leak-down tester says
words.py        fields and pressures they share
"""
