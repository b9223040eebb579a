"""The views: guard, ask, render.

workshop/    every bench and machine; the wall
job/         one job: its bench, a part, a set being tightened, a loose bolt, its log
exercise.py  practice at drawn instruments
sums.py      sums without any machine
paper.py     papers without any machine: a degree wheel, a timing tape
refusals.py  one shape for every refusal
assets.py    style sheet and modules under their hash
"""
