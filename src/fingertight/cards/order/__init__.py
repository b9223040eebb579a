"""Orders as people see them: whole ones, the shortest way in, and what lies on the bench before anybody begins.

whole.py   a whole strip, rebuild or way in, step by step, with its cost and how near that is to the least
dragged.py an order somebody drags: where a move may go, why not, what it costs now
within.py  what can be reached in so many minutes
picture.py the way in, lit in the ring picture
layout.py  spanners, tools, what is renewed, bags, what is set and filled, the safety lines
"""
