"""The class: benches over their lessons; who is there, who waits, what is short, how far they are. No disk, no screen.

diary.py   the log of a class becomes its state: lessons, who is away, who waits for a tool
tools.py   shared tools: how many are free, where they are out, who waits
roster.py  a list of students, however it comes
pace.py    how far a bench is against lessons spread evenly
hands.py   what each person did with their own hands
film/      the film of a demonstration: chapters from its log, a log from its captions
sight.py   what is missing, since when, and who had it last in sight
"""
