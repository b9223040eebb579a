"""What is printed for timing: a degree wheel, and a tape for the rim of a flywheel; sizes, strips and pages."""

import math
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.asked import Field, Typed
from fingertight.cards.sums.setting.timing.words import mm
from fingertight.quantity import NotUnderstood, plain
from fingertight.setting.timing.rim import arc_mm, strips

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Upright: width and height [mm]."""
EDGE_MM = 10.0
"""How far from the edge of the paper everything stays: many printers reach no further."""
LEAST_WHEEL_MM = 80.0
"""On a smaller one the figures cannot be read at arm’s length: common practice, no source."""
OVERLAP_MM = 8.0
FIRST_ROWS, ROWS = 4, 6
"""How many strips of a tape go on the first page, which has the ruler and the words, and on each that follows."""
RULER_MM = 100.0


@dataclass(frozen=True)
class PrintedWheel(Card):
    """A degree wheel. turns: which way the crank turns, seen from the side the wheel is looked at.

    printed_100_mm: what the ruler of 100 mm measured on an earlier print of the same printer, which this one mends.
    """

    file: str
    paper: str
    pages: int
    diameter_mm: float
    hole_mm: float
    turns: str
    mm_per_deg: float
    printed_100_mm: float


@dataclass(frozen=True)
class TapeStrip(Card):
    """One strip of a tape, left to right, in degrees after top dead centre (minus: before)."""

    from_deg: float
    to_deg: float
    page: int


@dataclass(frozen=True)
class PrintedTape(Card):
    """A timing tape: how long it is once round, and the strips it is printed in. The rest as for a wheel."""

    file: str
    paper: str
    pages: int
    flywheel_mm: float
    length_mm: float
    strips: tuple[TapeStrip, ...]
    turns: str
    mm_per_deg: float
    printed_100_mm: float


_SHARED = (
    Field("turns", "Turns", "choice", "which way the crank turns, seen from where the marks are read",
          usual="clockwise", choices=("clockwise", "anticlockwise")),
    Field("paper", "Paper", "choice", "the paper in the printer", usual="A4", choices=tuple(PAPERS)),
    Field("printed", "Ruler measured", "size", "what the ruler of 100 mm measures on your print; 100 where it is right",
          "100 mm", usual="100 mm", unit="mm", above=0, most=1000),
)  # fmt: skip
WHEEL_FIELDS = (
    Field("diameter", "Diameter", "size", "of the wheel", "120 mm", usual="120 mm", unit="mm", above=0, most=10_000),
    Field("hole", "Hole", "size", "its middle is marked for a hole so wide; 0: a cross only", "0 mm", usual="0 mm",
          unit="mm", least=0, most=1000),
    *_SHARED,
)  # fmt: skip
TAPE_FIELDS = (
    Field("flywheel", "Flywheel", "size", "its outside diameter, where the tape will lie", "180 "
    "mm", must=True, unit="mm",
          above=0, least=40, most=1000),
    *_SHARED,
)  # fmt: skip


def wheel_card(typed: Typed, file: str) -> PrintedWheel:
    """The wheel that was asked for.

    Raises NotUnderstood for one that does not fit the paper, is too small to be read, or has a hole too wide.
    """
    diameter, hole, paper = typed.must("diameter"), typed.must("hole"), typed.choice("paper")
    printed = _printed(typed)
    largest = math.floor((PAPERS[paper][0] - 2 * EDGE_MM) * printed / RULER_MM)
    if not LEAST_WHEEL_MM <= diameter <= largest:
        why = f"is wider than {paper} takes" if diameter > largest else "is too small for its degrees to be read"
        raise NotUnderstood(
            f"Diameter: a wheel of {mm(diameter)} {why}; write {plain(LEAST_WHEEL_MM)} to {largest} mm, or print a "
            "tape for the flywheel."
        )
    if hole > diameter / 3:
        raise NotUnderstood(
            f"Hole: {mm(hole)} leaves no room for the figures of a wheel of {mm(diameter)}; write "
            f"{mm(diameter / 3, 1)} or less."
        )
    return PrintedWheel(
        file=file,
        paper=paper,
        pages=1,
        diameter_mm=diameter,
        hole_mm=hole,
        turns=typed.choice("turns"),
        mm_per_deg=arc_mm(diameter, 1),
        printed_100_mm=printed,
    )


def tape_card(typed: Typed, file: str) -> PrintedTape:
    """The tape that was asked for. Raises NotUnderstood as `wheel_card` does."""
    flywheel, paper, turns = typed.must("flywheel"), typed.choice("paper"), typed.choice("turns")
    printed = _printed(typed)
    room = (PAPERS[paper][1] - 2 * EDGE_MM) * printed / RULER_MM - OVERLAP_MM
    way = -1.0 if turns == "clockwise" else 1.0
    # Left to right: where the crank turns clockwise, what comes after top dead centre lies to the left of it.
    laid = [(way * one.from_deg, way * one.to_deg) for one in strips(flywheel, room)]
    pages = [1 + max(0, (number - FIRST_ROWS) // ROWS + 1) for number in range(len(laid))]
    return PrintedTape(
        file=file,
        paper=paper,
        pages=pages[-1],
        flywheel_mm=flywheel,
        length_mm=arc_mm(flywheel, 360),
        strips=tuple(TapeStrip(start, end, page) for (start, end), page in zip(laid, pages, strict=True)),
        turns=turns,
        mm_per_deg=arc_mm(flywheel, 1),
        printed_100_mm=printed,
    )


def _printed(typed: Typed) -> float:
    """What 100 mm measured; a tenth off is no printer’s fault."""
    printed = typed.must("printed")
    if not 90 <= printed <= 110:
        raise NotUnderstood(
            f"Ruler measured: {mm(printed)} instead of 100 mm is more than a tenth off; print again at 100 % (“actual "
            "size”), never “fit to page”, and write what the ruler measures then."
        )
    return printed
