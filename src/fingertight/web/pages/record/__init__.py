"""A machine is recorded by doing.

recording.py  a name, then part by part what came off
asked.py      questions and ticks that loosen the chain; the machine is made
strips.py     what benches took apart teaches too
film.py       the film beside its chapters
photos.py     pictures of parts
kept.py       the recording at an address, and its entries
"""
