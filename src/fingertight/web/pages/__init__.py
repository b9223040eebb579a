"""The views: guard, ask, render.

front.py     every bench and machine; starting a job, reading one in
bench.py     one bench at one stage: what can be done now
part.py      one part at one bench                log.py       every entry, undo, taking the job along
machine.py   a machine's picture, text, labels    refusals.py  one shape for every refusal
assets.py    style sheet and modules under their hash
"""
