"""Signing in, changing hands, leaving; what one person has done.

shown.py    what every page is told of who looks at it
join.py     students: the class's code or a bench's card, the name, the number
teach.py    instructors: name and password, the first link, the own number
people.py   the owner: who teaches here
student.py  what one person has done with their own hands
"""
