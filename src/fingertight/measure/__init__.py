"""From readings to a verdict, on plain numbers; no machine is known here.

typed.py        a reading as a person types it: stacked leaves, turns of a dial, several at once
odd.py          which readings cannot be right
slips.py        which slip would explain a reading that is not plausible
shape.py        out-of-round and taper from readings at heights and in directions
temperature.py  what warmth does to a size, and back to 20 °C
budget.py       how sure a size is, and the difference of two: instrument, repeats, temperature
verdict.py      good, worn or too close to call: the chance, the risks, what would settle it
fits/           ISO 286, shims, run-out, general rules of wear
study/          the class measured the same: repeatability, reproducibility, who stands apart
scales/         what an instrument that is read by eye shows, and how it is misread
tables/         published tables
"""
