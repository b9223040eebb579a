"""A thread by its name: "M6", "M6x0.75", "1/4-20 UNC", "#10-24", "1/4-20 BSW", "G1/4".

table.py      the threads of the published series, and the sizes that follow from diameter and pitch
spelling.py   which of them is meant by what was typed, and the nearest where there is none
elsewhere.py  threads that are real but stand in no table of sizes here: taper pipe threads, BA, BSF
"""

from fingertight.tighten.threads.names.elsewhere import TAPER, TaperPipe, named_elsewhere, taper_pipes
from fingertight.tighten.threads.names.spelling import (
    NoSuchThread,
    is_left_hand,
    thread_meant,
    thread_named,
)
from fingertight.tighten.threads.names.table import INCH_MM, SERIES, Thread, threads

__all__ = [
    "INCH_MM",
    "SERIES",
    "TAPER",
    "NoSuchThread",
    "TaperPipe",
    "Thread",
    "is_left_hand",
    "named_elsewhere",
    "taper_pipes",
    "thread_meant",
    "thread_named",
    "threads",
]
