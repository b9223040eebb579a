"""Who is in the workshop, and its classes: rows without rules.

tables.py   Django models: people, classes, benches, members, the class's log, shared tools, the teacher's lines
people.py   a person is kept, moved, given a new number, forgotten
classes.py  a class is made with its benches, copied, put away, moved to a machine's new text
links.py    a link that lets somebody choose a password once
diary.py    the log of a class: entries only ever added
"""
