"""What is shown about measuring: practice at instruments here, the sizes of a job beside it.

exercise.py  a drawn instrument to be read, and what is said of the reading
record.py    how the class gets on with it, by person and instrument
"""
