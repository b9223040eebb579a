"""What is asked of a state, besides where everything is: nothing here changes it.

due.py        what is to be done now, so that a flag need never be raised
openholes.py  which holes may lack a bolt
measured.py   what a verdict rests on, and what would settle it
wanted.py     what is to be ordered
"""
