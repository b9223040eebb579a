"""The views: guard, ask, render.

front.py     every bench and machine; starting a job, reading one in
job/         one job: its bench, a part, a set being tightened, a loose bolt, its log
machine.py   a machine's picture, text, labels
wall.py      all benches at once, looked at again every two seconds
exercise.py  practice at drawn instruments
sums.py      sums without any machine
paper.py     papers without any machine: a degree wheel, a timing tape
refusals.py  one shape for every refusal
assets.py    style sheet and modules under their hash
"""
