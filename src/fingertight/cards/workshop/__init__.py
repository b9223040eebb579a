"""What stands around the benches.

front.py    the front page: every bench, every machine, starting a job
machine.py  a machine's file: its picture, its parts, its text with the mistakes at their lines
wall.py     all benches at once: who waits, which tool is where, what is not right
tally.py    the count at the end of a lesson, over all benches
handover.py where each bench stopped, for the next lesson
log.py      every entry of a job as a sentence, and which may be undone
"""
