"""Instruments drawn at a reading, every line where it belongs, so that they can be read.

drawn.py       which picture belongs to an instrument of a machine's file, and to a practice setting
vernier.py     the vernier calliper: where its 0 stands, and a window on the lines that meet
micrometer.py  sleeve and thimble, with or without a vernier on the sleeve
dial.py        dial gauge and bore gauge: the hand, and the small hand that counts its turns
"""
