"""The film of a demonstration, as people and programs get it.

chapters.py  its chapters, from a log
found.py     the moves its captions seem to speak of, each with its confidence and why
"""
