"""The cylinder: its volumes and ratio, the pressure to expect when it is cranked, and what leaks.

volumes.py     swept and clearance volume, compression ratio with its budget, milling, Otto efficiency
cranking.py    the ratio from where the inlet closes, pressure by a polytropic band, leak-down
atmosphere.py  the pressure of the air at an altitude
"""
