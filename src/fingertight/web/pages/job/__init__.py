"""One job at its bench.

bench.py  what can be done now                 part.py   one part
turn.py   one fastener set being tightened     loose.py  whose bolt is this
log.py    every entry, undo, taking the job along   measure.py  one size, the measuring sheet
"""
