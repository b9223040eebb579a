"""The class and its lessons.

classes.py  a class is set up, changed, put away, copied; its bench cards
lesson.py   a lesson is opened, run, counted and closed
tools.py    shared tools, for the workshop and at one bench
"""
