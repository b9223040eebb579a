"""The film of a demonstration, as people and programs get it.

folder.py    the films there are
moves.py     its moves along a line, to be dragged right
chapters.py  its chapters, from a log
seen.py      one move as the film shows it, for a bench
found.py     the moves its captions seem to speak of, each with its confidence and why
"""
