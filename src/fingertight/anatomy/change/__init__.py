"""A machine file is changed by forms: text and forms stay in step, comments survive.

edits.py    the small named edits: what each does to the values, and the edit that takes it back
on_text.py  one edit on the lines of the file, all others left alone
fresh.py    an anatomy, or a table of one, as fresh text
table.py    what a form says of a table becomes edits
named.py    who names a part, size or instrument; and what takes it out of all lists
mend.py     a mistake that has a mechanical mend is mended in the text
words.py    what changed from one anatomy to the next, in sentences
"""
