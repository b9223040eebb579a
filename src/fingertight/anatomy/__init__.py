"""The anatomy of a machine: read, checked, written back and explained; no log is known here.

model.py      what an anatomy says, as frozen values: the one model behind all the rest
read.py       a text becomes an anatomy, or the list of all its mistakes
text.py       the text before it has a meaning: decoded, kept within measure, syntax mistakes
positions.py  a path of keys becomes line and column
schema.py     the shapes: as JSON Schema, and as sentences when a file does not fit
rules/        what takes two places of a file to be seen wrong
write.py      back to text: changed with comments and order kept, or fresh (import it where it is used)
change/       changed by forms, and what changed in words
told/         what there is to say about two texts of one machine
library/      common assemblies, and how one is copied
mistakes.py   a mistake, and the table of their codes
"""

from fingertight.anatomy.mistakes import CODES, Mistake
from fingertight.anatomy.model import (
    Anatomy,
    Check,
    FastenerSet,
    Gap,
    Instrument,
    MachineTable,
    Part,
    Question,
    Setting,
    Sign,
    SmallThing,
)
from fingertight.anatomy.positions import Positions
from fingertight.anatomy.read import Reading, read
from fingertight.anatomy.schema import anatomy_schema

__all__ = [
    "CODES",
    "Anatomy",
    "Check",
    "FastenerSet",
    "Gap",
    "Instrument",
    "MachineTable",
    "Mistake",
    "Part",
    "Positions",
    "Question",
    "Reading",
    "Setting",
    "Sign",
    "SmallThing",
    "anatomy_schema",
    "read",
]
