"""Papers as commands.

measured  measured: the measuring sheet of a job, as text or PDF
wheel  wheel, tape: a degree wheel and a timing tape, as PDF
"""
