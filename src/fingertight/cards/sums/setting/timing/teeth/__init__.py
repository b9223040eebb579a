"""By how many teeth a camshaft is out: from its events or lobe centres against the stated ones, or from its dots.

ask.py   the fields, and the shift that follows from them
card.py  the answer
"""

from fingertight.cards.sums.setting.timing.teeth.ask import SUM

__all__ = ["SUM"]
