"""Orders that are looked for while somebody waits: in a process of their own, so that no tap at a bench is delayed.

looking.py  start one, hear each better answer, stop it
"""
