"""Sums without any machine: what is asked, and the answer as a person reads it.

asked.py   a sum's fields, and what was typed into them as numbers in house units
answer.py  what a person is shown, and what programs get: one shape for every sum
every.py   all the sums there are
tighten/   threads, spanners, torque, wrenches, patterns
setting/   top dead centre, valve timing, teeth out

A sum is data: its fields and a function from what was typed to a card. Command line and pages are made from it.
"""
