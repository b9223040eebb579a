"""Papers as commands.

labels    labels: bag labels of a machine
torques   torques: the tightening sheet of a machine, as text or PDF
measured  measured: the measuring sheet of a job, as text or PDF
wheel     wheel, tape: a degree wheel and a timing tape, as PDF
"""
