"""A machine file is changed by forms: text and forms stay in step, comments survive.

part.py    what a form says of a part becomes edits of the text
words.py   what changed from one anatomy to the next, in sentences
"""
