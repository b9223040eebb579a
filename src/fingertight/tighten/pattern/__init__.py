"""In which order and passes a joint is closed evenly, and how uneven another order would be.

layouts.py   positions from a few words: a ring, rows, a list of places
joint.py     the elastic joint: what one tightened bolt does to the clamp everywhere
even.py      the most even order, searched; the unevenness of any other
rounds.py    passes, the last round, and what the bolts hold after them
sequence.py  the order of a fastener set by its pattern; the same turned round for loosening

Numbers only come in and out; numpy is read when the first joint is made.
"""
