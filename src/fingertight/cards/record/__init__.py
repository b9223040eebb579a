"""A machine that is recorded by doing, as its pages show it.

names.py      what parts are usually called, to choose from
recording.py  the parts recorded so far, and what comes next
asking.py     the next question, what is known, likely and unknown
film.py       a chapter for each part of a recording
learned.py    what strips out of logs teach, for programs and people at a terminal
"""
