"""Tightening, on plain numbers and names: no machine is known here.

threads.py   a thread by its name: diameter, pitch and what follows from them
passes.py    is a pass right, and which slip explains one that is not
pattern.py   in which order a set is tightened and loosened
spanners.py  which spanner, key or screwdriver fits a thread under a head
tables/      the published tables behind both, one file a source
"""

from fingertight.tighten.spanners import HEADS, NoSuchHead, NoSuchSpanner, head_named, spanner_for
from fingertight.tighten.threads import NoSuchThread, Thread, thread_named, threads

__all__ = [
    "HEADS",
    "NoSuchHead",
    "NoSuchSpanner",
    "NoSuchThread",
    "Thread",
    "head_named",
    "spanner_for",
    "thread_named",
    "threads",
]
