"""What two students at a bench are shown.

words.py   counts and nouns as people say them; why a part may not move yet
moves.py   one part that may come off, or go on, now: bolts, spanner, bag, care, caution, questions
bags.py    the row of bags, and the count of them
sizes.py   what is measured, as a list: verdict, bar, what it waits for; what is to be ordered
due.py     passes, settings and sign-offs that are due now
page.py    the bench page: moves, what waits, rings, bags, flags, finish
part.py    one part by itself, wherever it is
"""
