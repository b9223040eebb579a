"""One function for each entry kind: state and entry in, the state changed and flags raised or closed.

moved.py      off, on, absent: where the pieces are, and whose turn it was
fitted.py     what a fitting asks: answers, stock, settings, sign-offs
tightened.py  tighten: passes, their torque and their order
judged.py     reading, decide: what was measured, and what it says of the part
counted.py    count, renew, lost, found, tool: what should be there and is not
told.py       note, help, aside, aim, finish
"""
