"""The sheets labels are printed on: where each label lies on the paper, and where its codes and words lie on it.

Lengths are mm, from the upper left corner of the paper (or of the label). Sizes are those of common blank sheets; the
gaps between labels are common practice, no source: the ruler page shows whether a sheet at hand agrees.
Three distances hold on every sheet and are tested: 2 mm of quiet rim in a label, four modules of quiet around a code
(ISO/IEC 18004), and 5 mm to the paper's edge, where many printers cannot print (common practice, no source).
"""

import math
from dataclasses import dataclass

RIM_MM = 2.0
QUIET_MODULES = 4
MODULES = 21
EDGE_MM = 5.0


class CannotPrint(ValueError):
    """This cannot be put on paper; the message is a sentence that says what is wrong and how to mend it."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: its upper left corner and its size [mm]."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Face:
    """What lies where on one label [mm from its upper left corner]."""

    module: float
    """The side of one square of the code."""
    codes: tuple[tuple[float, float], ...]
    """The upper left corners of the codes."""
    number: Box
    """The bag's number, as large as fits."""
    name: Box
    """The part's name and its place."""
    words: Box
    """The code in letters, then what the bag holds, the care and the machine as far as there is room."""
    letters_pt: float
    """Largest size of the code in letters."""
    text_pt: float
    """Largest size of the rest."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels: the paper, the labels on it, the face of each."""

    name: str
    says: str
    """What it is, for a list to choose from."""
    paper: tuple[float, float]
    label: tuple[float, float]
    columns: int
    rows: int
    left: float
    top: float
    right: float
    bottom: float
    pitch: tuple[float, float]
    """From one label to the next, across and down."""
    face: Face
    hole: tuple[float, float] | None = None
    """Plain card: the middle of the hole to punch; such a sheet has lines to cut along."""

    @property
    def labels(self) -> int:
        """How many labels are on one sheet."""
        return self.columns * self.rows

    def places(self) -> list[tuple[float, float]]:
        """The upper left corners of the labels, row by row."""
        across, down = self.pitch
        return [
            (self.left + column * across, self.top + row * down)
            for row in range(self.rows)
            for column in range(self.columns)
        ]


@dataclass(frozen=True, slots=True)
class Nudge:
    """What one printer needs for its prints to lie on the labels: scaled about the paper's corner, then moved.

    >>> Nudge(x_mm=0.5, scale_y=1.002).moved(100, 100)
    (100.5, 100.2)

    Raises CannotPrint for what no printer needs: more than 20 mm, or more than a tenth larger or smaller.
    """

    x_mm: float = 0.0
    y_mm: float = 0.0
    scale_x: float = 1.0
    scale_y: float = 1.0

    def __post_init__(self) -> None:
        """Refuse slips of the finger, which would print beside the paper."""
        for name, shift in (("x", self.x_mm), ("y", self.y_mm)):
            if not (math.isfinite(shift) and abs(shift) <= 20):
                raise CannotPrint(f"A nudge of {shift:g} mm in {name} moves labels off the sheet; write −20 to 20 mm.")
        for name, scale in (("x", self.scale_x), ("y", self.scale_y)):
            if not (math.isfinite(scale) and 0.9 <= scale <= 1.1):
                raise CannotPrint(f"A scale of {scale:g} in {name} is no printer's fault; write 0.9 to 1.1.")

    def moved(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the sheet is drawn [mm]."""
        return round(self.x_mm + self.scale_x * x, 4), round(self.y_mm + self.scale_y * y, 4)


A4 = (210.0, 297.0)
LETTER = (215.9, 279.4)

# fmt: off
_ALL = (
    Sheet(
        "a4-3x8", "A4, 24 labels of 70 × 37 mm", A4, (70, 37),
        columns=3, rows=8, left=0, right=0, top=0.5, bottom=0.5, pitch=(70, 37),
        face=Face(
            module=0.7, codes=((5, 17.8), (50.3, 17.8)), letters_pt=14, text_pt=7.5,
            number=Box(5, 4.6, 13, 10), name=Box(20, 4.6, 45, 10), words=Box(22.5, 15.4, 25, 17.1),
        ),
    ),
    Sheet(
        "a4-3x7", "A4, 21 labels of 63.5 × 38.1 mm", A4, (63.5, 38.1),
        columns=3, rows=7, left=7.25, right=7.25, top=15.15, bottom=15.15, pitch=(66, 38.1),
        face=Face(
            module=0.7, codes=((2.8, 2.8), (46, 20.6)), letters_pt=13, text_pt=8,
            number=Box(20.5, 3, 11.5, 9.5), name=Box(33.5, 2.4, 28, 14.6), words=Box(2.8, 20.6, 40.2, 15.5),
        ),
    ),
    Sheet(
        "a4-2x7", "A4, 14 labels of 99.1 × 38.1 mm", A4, (99.1, 38.1),
        columns=2, rows=7, left=4.65, right=4.65, top=15.15, bottom=15.15, pitch=(101.6, 38.1),
        face=Face(
            module=0.7, codes=((2.8, 11.7), (81.6, 11.7)), letters_pt=18, text_pt=8.5,
            number=Box(20.5, 2.8, 14, 11), name=Box(36.5, 2.4, 42, 12), words=Box(20.5, 15.6, 58, 20.4),
        ),
    ),
    Sheet(
        "a4-4x10", "A4, 40 labels of 48.5 × 25.4 mm (one code)", A4, (48.5, 25.4),
        columns=4, rows=10, left=8, right=8, top=21.5, bottom=21.5, pitch=(48.5, 25.4),
        face=Face(
            module=0.7, codes=((2.8, 5.35),), letters_pt=11, text_pt=6.5,
            number=Box(20.4, 2.2, 7.6, 6.8), name=Box(29, 2, 17.5, 8), words=Box(20.4, 10.6, 26.1, 12.8),
        ),
    ),
    Sheet(
        "a4-5x13", "A4, 65 labels of 38.1 × 21.2 mm (one code, no list of what the bag holds)", A4, (38.1, 21.2),
        columns=5, rows=13, left=4.75, right=4.75, top=10.7, bottom=10.7, pitch=(40.6, 21.2),
        face=Face(
            module=0.72, codes=((2.9, 3.04),), letters_pt=8, text_pt=5.5,
            number=Box(20.9, 2.2, 15.2, 4.6), name=Box(20.9, 7.5, 15.2, 7.5), words=Box(20.9, 15.4, 15.2, 3.8),
        ),
    ),
    Sheet(
        "letter-3x10", "US Letter, 30 labels of 66.7 × 25.4 mm (2 5/8 × 1 in)", LETTER, (66.675, 25.4),
        columns=3, rows=10, left=4.7625, right=4.7625, top=12.7, bottom=12.7, pitch=(69.85, 25.4),
        face=Face(
            module=0.7, codes=((2.8, 5.35), (49.175, 5.35)), letters_pt=11, text_pt=6.5,
            number=Box(20.4, 2.2, 7.6, 6.8), name=Box(29, 2, 17.2, 8), words=Box(20.4, 10.6, 25.8, 12.8),
        ),
    ),
    Sheet(
        "a4-card", "plain A4 card, 10 tags of 95 × 55.4 mm to cut out, with a hole to punch", A4, (95, 55.4),
        columns=2, rows=5, left=10, right=10, top=10, bottom=10, pitch=(95, 55.4), hole=(7.5, 27.7),
        face=Face(
            module=0.7, codes=((76.5, 4.5), (76.5, 36.2)), letters_pt=22, text_pt=10,
            number=Box(15, 4.4, 16, 13), name=Box(33.5, 4, 39.5, 15), words=Box(15, 20.5, 58, 31),
        ),
    ),
    Sheet(
        "letter-card", "plain US Letter card, 10 tags of 95 × 51 mm to cut out, with a hole to punch", LETTER, (95, 51),
        columns=2, rows=5, left=12.95, right=12.95, top=12.2, bottom=12.2, pitch=(95, 51), hole=(7.5, 25.5),
        face=Face(
            module=0.7, codes=((76.5, 4.5), (76.5, 31.8)), letters_pt=22, text_pt=10,
            number=Box(15, 3.4, 16, 12), name=Box(33.5, 3, 39.5, 14), words=Box(15, 18.5, 58, 29),
        ),
    ),
)
# fmt: on
SHEETS: dict[str, Sheet] = {sheet.name: sheet for sheet in _ALL}


def sheet_named(name: str) -> Sheet:
    """Which sheet is meant by this name?

    >>> sheet_named("a4-3x7").labels
    21

    Raises CannotPrint, naming the sheets there are.
    """
    found = SHEETS.get(name.strip().lower())
    if found is None:
        raise CannotPrint(f"There is no sheet “{name}” here; choose one of {', '.join(SHEETS)}.")
    return found
