"""A study of the measuring itself: who read what, how far hands differ, who stands apart, is the gauge fit.

ask.py    the fields, and the table that was typed, worked out
card.py   the numbers, and the answer
said.py   its sentences
tables.py its tables and its pictures
"""

from fingertight.cards.sums.measure.study.ask import SUM

__all__ = ["SUM"]
