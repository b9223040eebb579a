"""Which spanner: for a thread under its heads, for a head by its width, and whether one spanner is right on one head.

ask.py        what was typed, and which card answers it
heads.py      a thread and the heads it is met under
fit.py        one tool on one head: yes or no, and why
on_thread.py  one tool on a thread: under which of its heads it is right
"""

from fingertight.cards.sums.tighten.spanner.ask import SUM

__all__ = ["SUM"]
