"""What is asked of a state, besides where everything is: nothing here changes it.

aimed.py      how far a job is that only wants some parts
due.py        what is to be done now, so that a flag need never be raised
openholes.py  which holes may lack a bolt
measured.py   what a verdict rests on, and what would settle it
wanted.py     what is to be ordered
"""
