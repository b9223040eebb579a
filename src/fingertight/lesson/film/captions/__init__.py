"""Which moves do the captions of a film speak of, when, and how sure is that?

words.py    captions become words that can be compared; what says “off”, “on” and “not now”
names.py    where a part is named, and how well
heard.py    what is said of a part where it is named
solve.py    the best choice of moves as a whole, by dynamic programming over what was heard
found.py    proposals with their confidence and why; corrections by hand stand
drafted.py  proposals become a demonstration log
"""
