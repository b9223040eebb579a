"""What is poured into each sump, and what a grade says.

ask.py   sumps as a person says them, grades
card.py  the answer
"""

from fingertight.cards.sums.setting.drive.oil.ask import SUM

__all__ = ["SUM"]
