"""When the valves open and close, from stated figures or from dial readings.

ask.py    the fields, and how two of opening, closing, duration and lobe centre give the rest
curves.py lines of dial readings become a curve with its events and lobe centre
card.py   the answer
"""

from fingertight.cards.sums.setting.timing.events.ask import SUM

__all__ = ["SUM"]
