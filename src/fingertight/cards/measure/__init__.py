"""What is shown about measuring.

page.py      one size of a job: where the instrument goes, the readings, what they say so far
said.py      the sentences under its verdict: chances, what would settle it, spreads, shim, the class
sheet.py     the measuring sheet of a job, and what is to be ordered
linked.py    the sum of a check or a setting, its boxes filled
exercise.py  a drawn instrument to be read, and what is said of the reading
record.py    how the class gets on with it, by person and instrument
"""
