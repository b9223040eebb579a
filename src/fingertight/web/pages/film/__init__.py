"""Films beside the machines: kept on the workshop's laptop, shown at the benches, lined up with the machine's moves.

folder.py    the films there are; another is sent here; a film, or a piece of it, is sent out
arriving.py  a film on its way in, to the disk piece by piece
ranges.py    a piece of a file as HTTP asks for it
seen.py      one move as the film shows it
moves.py     where each move is done in a film: found in its captions, dragged right by hand
told.py      what a form of that page says becomes entries of the recording
"""
