"""What feeler leaves prove, which of them prove a range or make a gap, how far the screw is turned.

ask.py   the fields, and what was typed as leaves
card.py  the answer
"""

from fingertight.cards.sums.setting.gaps.feeler.ask import SUM

__all__ = ["SUM"]
