"""The film of a demonstration: its chapters from the log, or a log from the words spoken in it. No film is opened.

clock.py     a mark lines two clocks up: the film's and the log's
chapters.py  a chapter for each move of a demonstration log
seen.py      where the parts of a machine are seen done, from a recording's log
looked.py    what the captions of a recording propose besides, and what is against the machine's file
captions/    which moves the captions of an older film speak of
"""
