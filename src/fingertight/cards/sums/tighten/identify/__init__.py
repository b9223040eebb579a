"""Which thread was measured.

ask.py   what was read, and the card that answers it
card.py  candidates, what would settle it, what must not be forced together
"""

from fingertight.cards.sums.tighten.identify.ask import SUM

__all__ = ["SUM"]
