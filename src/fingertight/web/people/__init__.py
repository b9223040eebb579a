"""Who is at a tablet, and what that lets them do.

who.py     who sends a request: found from the session, remembered for a moment
roles.py   the table of addresses: who may look, who may write; and the guard that holds it
signin.py  numbers, passwords, codes and links are checked; wrong guesses are counted per person
names.py   what people are called, for pages that may show it
"""
