"""Does a bolt reach? Through what it clamps into its hole, far enough to hold, and not so far that it bottoms."""

from dataclasses import dataclass
from enum import StrEnum

LEAST_HELD = 0.8
"""The least thread that holds, as a share of the diameter: about what a regular nut has (ISO 4032: M6 5.2, M8 6.8,
M10 8.4 mm high). Soft metal wants more; that is for the weakest link to say."""


class Reach(StrEnum):
    """How a bolt and its hole go together."""

    HOLDS = "holds"
    TOO_LONG = "too long"
    TOO_SHORT = "too short"


@dataclass(frozen=True, slots=True)
class Reached:
    """The word, how much thread is engaged [mm], and by how much the bolt is too long or too short (else 0) [mm]."""

    word: Reach
    engaged_mm: float
    by_mm: float


def reach(length_mm: float, grip_mm: float, diameter_mm: float, depth_mm: float | None = None) -> Reached:
    """Does a bolt of this length hold in its hole, or bottom before it clamps?

    engaged = length − grip; too long when engaged > depth, too short when engaged < 0.8 · diameter.

    length_mm: under the head [mm]. grip_mm: what lies between head and first thread, washers included [mm], 0 or more.
    diameter_mm: of the thread [mm]. depth_mm: usable thread of the hole [mm]; None: it goes through, or is not known.

    >>> reach(28, 12, 6, 20).word, reach(35, 12, 6, 20), reach(16, 12, 6)
    (<Reach.HOLDS: 'holds'>, Reached(word=<Reach.TOO_LONG: 'too long'>, engaged_mm=23, by_mm=3), \
Reached(word=<Reach.TOO_SHORT: 'too short'>, engaged_mm=4, by_mm=0.8))

    A hole that is itself shallower than 0.8 diameters holds a bolt that fills it: that is the maker's business.

    Raises ValueError when a length is not above 0, or the grip is below 0. Source: `LEAST_HELD`; the rest is geometry.
    """
    if not (length_mm > 0 and diameter_mm > 0 and grip_mm >= 0 and (depth_mm is None or depth_mm > 0)):
        raise ValueError("lengths are above 0, the grip is 0 or more")
    engaged_mm = length_mm - grip_mm
    if depth_mm is not None and engaged_mm > depth_mm + 1e-9:
        return Reached(Reach.TOO_LONG, engaged_mm, engaged_mm - depth_mm)
    least_mm = LEAST_HELD * diameter_mm if depth_mm is None else min(LEAST_HELD * diameter_mm, depth_mm)
    if engaged_mm < least_mm - 1e-9:
        return Reached(Reach.TOO_SHORT, engaged_mm, round(least_mm - engaged_mm, 9))
    return Reached(Reach.HOLDS, engaged_mm, 0.0)
