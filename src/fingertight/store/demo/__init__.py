"""The demo workshop of a first start. All of it is invented, and says so.

workshop.py  the example machines, the class, its lessons
benches.py   a bench that was stripped lawfully so far, by these hands at these times
"""
