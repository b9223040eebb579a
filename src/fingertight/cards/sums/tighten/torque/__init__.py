"""Which torque gives which preload on this bolt, how far friction scatters it, what gives first, which turn does it.

ask.py   what was typed, and the card that answers it
card.py  the answer, as numbers for programs and as a page for people
"""

from fingertight.cards.sums.tighten.torque.ask import SUM

__all__ = ["SUM"]
