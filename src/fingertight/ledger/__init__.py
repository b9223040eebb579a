"""Entries become a state and flags, by one fold. No disk, no clock, no screen.

kinds.py   the entry kinds and flag kinds: two tables, read by docs, schema and folds
plan.py    the anatomy seen from each part: what concerns it
entry.py   one line of the log: read, checked, sorted by its corrected time
state.py   where everything is
flags.py   what is wrong, until it is mended or set aside
asked/     what is due now, which holes may lack a bolt: asked of a state
readings/  what readings are worth: which are questioned, how sure each size is
folds/     one function for each entry kind: state + entry → state
replay.py  the whole log: sorting, undo, late entries
"""

from fingertight.ledger.entry import Entry, NotAnEntry, corrected_time, read_entry
from fingertight.ledger.flags import Flag, Flags
from fingertight.ledger.folds.judged import verdict_of, word_on
from fingertight.ledger.kinds import ENTRY_KINDS, FLAG_KINDS
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger, fold, replay
from fingertight.ledger.state import Bag, Slot, State

__all__ = [
    "ENTRY_KINDS",
    "FLAG_KINDS",
    "Bag",
    "Entry",
    "Flag",
    "Flags",
    "Ledger",
    "NotAnEntry",
    "Plan",
    "Slot",
    "State",
    "corrected_time",
    "fold",
    "read_entry",
    "replay",
    "verdict_of",
    "word_on",
]
