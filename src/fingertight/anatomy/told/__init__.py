"""What there is to say about two texts of one machine.

names.py  ids: who names whom, everything under other ids, what is the same under another id
lists.py  fasteners, small things, questions, ways out: lists that are told entry by entry
carried.py  what is new from one text to the next, as edits of a third
benches.py  what a new text means for a job that is under way
"""
