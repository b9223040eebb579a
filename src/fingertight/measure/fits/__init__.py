"""Parts that run in each other.

iso_286.py  limits of holes and shafts by their letters, and how a pair fits
shims.py    the shim that brings a float back
round.py    what a dial says round a shaft: run-out, how far its middle is off, what is left
wear.py     how much wear a general rule allows where the maker gives no limit
"""
