"""Which slip of eye or hand would explain a reading that is not plausible: tenfold, inch for mm, digits turned round.

Only what is not plausible as it was typed is questioned, and only where undoing one slip makes it plausible.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import inf
from statistics import median

from fingertight.quantity import UNITS, converted, plain

INCH_MM = 25.4


class Slip(StrEnum):
    """What may have happened."""

    TENFOLD = "decimal mark one place off"
    INCH = "inch for millimetre"
    MILLIMETRE = "millimetre for inch"
    THIMBLE = "one turn of the thimble"
    DIAL = "one turn of the dial"
    TURNED = "two digits turned round"


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a size before it is read [all in one unit]: limits, size when new, what was read next to it.

    turn: what one turn of the thimble or of the hand is, for instruments that have one; `thimble` says which.
    """

    smallest: float | None = None
    largest: float | None = None
    new: tuple[float, float] | None = None
    neighbours: tuple[float, ...] = ()
    turn: float | None = None
    thimble: bool = False
    metric: bool = True

    @property
    def ends(self) -> tuple[float, float] | None:
        """From the smallest to the largest that a part of this kind has, new or worn; None where nothing is known."""
        limits = [limit for limit in (self.smallest, self.largest, *(self.new or ())) if limit is not None]
        if self.neighbours:
            limits += [min(self.neighbours), max(self.neighbours)]
        return (min(limits), max(limits)) if limits else None

    @property
    def way(self) -> float:
        """How far a part goes from new to worn: how far past its ends a size is still believed. 0 where unknown."""
        ways = [0.0]
        if self.new and self.largest is not None:
            ways.append(self.largest - self.new[1])
        if self.new and self.smallest is not None:
            ways.append(self.new[0] - self.smallest)
        return max(ways)

    @property
    def believed(self) -> tuple[float, float]:
        """Between which sizes a reading is believed as it stands: as far past new and limit as the way from one to the
        other; everything where that is unknown."""
        ends, way = self.ends, self.way
        return (ends[0] - way, ends[1] + way) if ends is not None and way > 0 else (-inf, inf)

    def is_past(self, value: float) -> bool:
        """Whether a size lies further past new and limit than the way from one to the other; never where unknown."""
        low, high = self.believed
        return not low <= value <= high


@dataclass(frozen=True, slots=True)
class Likely:
    """The likeliest slip, and what would have been read without it [the unit of the reading]."""

    slip: Slip
    instead: float


def likely_slip(value: float, known: Known) -> Likely | None:
    """Does this reading look like a slip, and like which? None where it is plausible, or nothing explains it.

    Plausible is what lies no further past new and limit than the way from one to the other. A slip explains a reading
    when, undone, it lies between new and limit, or among its neighbours.

    >>> bore = Known(largest=68.165, new=(68.0, 68.015), turn=0.5, thimble=True)
    >>> likely_slip(2.678, bore).slip.value, likely_slip(68.52, bore).instead, likely_slip(68.17, bore)
    ('inch for millimetre', 68.02, None)

    Source: common practice, no source.
    """
    ends = known.ends
    if ends is None or not known.is_past(value):
        return None
    low, high = ends
    fitting = [one for one in _undone(value, known) if low - 1e-9 <= one.instead <= high + 1e-9]
    if not fitting:
        return None
    best = _rank(fitting[0].slip)
    middle = median(known.neighbours) if known.neighbours else (low + high) / 2
    return min((one for one in fitting if _rank(one.slip) == best), key=lambda one: abs(one.instead - middle))


_RANKS = ((Slip.TENFOLD, Slip.INCH, Slip.MILLIMETRE), (Slip.THIMBLE, Slip.DIAL), (Slip.TURNED,))


def _rank(slip: Slip) -> int:
    return next(rank for rank, slips in enumerate(_RANKS) if slip in slips)


def _undone(value: float, known: Known) -> Iterator[Likely]:
    """What would have been read without each slip, the coarse slips first."""
    for times in (0.1, 10.0, 0.01, 100.0):
        yield Likely(Slip.TENFOLD, round(value * times, 9))
    if known.metric:
        yield Likely(Slip.INCH, round(value * INCH_MM, 6))
    else:
        yield Likely(Slip.MILLIMETRE, round(value / INCH_MM, 6))
    if known.turn:
        for turns in (-1, 1):
            slip = Slip.THIMBLE if known.thimble else Slip.DIAL
            yield Likely(slip, round(value + turns * known.turn, 9))
    yield from (Likely(Slip.TURNED, other) for other in turned_round(value))


def turned_round(value: float) -> list[float]:
    """The numbers that differ from this one by two neighbouring digits in each other's place.

    >>> turned_round(86.02)
    [68.02, 80.62, 86.2]
    """
    text = plain(abs(value))
    found = []
    for place in range(len(text) - 1):
        first, second = place, place + 1
        if text[second] == ".":
            second += 1
        if text[first] == "." or second >= len(text) or text[first] == text[second]:
            continue
        swapped = list(text)
        swapped[first], swapped[second] = swapped[second], swapped[first]
        found.append(float("".join(swapped)) * (-1 if value < 0 else 1))
    return found


# One turn of a micrometer’s thimble, and of a dial’s hand, in the system its unit belongs to.
_THIMBLE = {"mm": (0.5, "mm"), "in": (0.025, "in")}
_HAND = {"mm": (1.0, "mm"), "in": (0.1, "in")}


def turn_of(kind: str | None, unit: str) -> float | None:
    """What is one turn of the thimble or the hand of such an instrument [its unit]? None where it has neither.

    >>> turn_of("micrometer", "mm"), turn_of("dial", "in"), turn_of("vernier", "mm")
    (0.5, 0.1, None)

    Source: the usual pitch of the screw and the usual dial: common practice, no source.
    """
    if kind not in {"micrometer", "dial", "bore gauge"} or UNITS[unit].measures != "length":
        return None
    size, of = (_THIMBLE if kind == "micrometer" else _HAND)["in" if unit in {"in", "thou"} else "mm"]
    return converted(size, of, unit)


def sentence(value: float, likely: Likely, unit: str) -> str:
    """The question a person reads.

    >>> sentence(68.52, Likely(Slip.THIMBLE, 68.02), "mm")
    '68.52 mm: one turn of the thimble too many or too few? Then it is 68.02 mm.'
    """
    asks = {
        Slip.TENFOLD: "is the decimal mark in its place?",
        Slip.INCH: "was it read in inches?",
        Slip.MILLIMETRE: "was it read in millimetres?",
        Slip.THIMBLE: "one turn of the thimble too many or too few?",
        Slip.DIAL: "one turn of the dial too many or too few?",
        Slip.TURNED: "are two digits turned round?",
    }
    return f"{plain(round(value, 6))} {unit}: {asks[likely.slip]} Then it is {plain(round(likely.instead, 4))} {unit}."


def out_of_reach(value: float, shows: tuple[float, float] | None) -> bool:
    """Can the instrument not have shown this? A hundredth of its range is left for what goes beyond its ends.

    >>> out_of_reach(27.3, (0.0, 25.0)), out_of_reach(25.1, (0.0, 25.0))
    (True, False)

    Source: common practice, no source.
    """
    if shows is None:
        return False
    over = 0.01 * (shows[1] - shows[0])
    return not shows[0] - over <= value <= shows[1] + over


def apart_from_class(value: float, others: Sequence[float], step: float) -> tuple[float, float] | None:
    """What did the other benches find, when this is far from it? The smallest and largest of theirs; None when not far.

    Far is more than three times their usual spread (the median distance from their median, as for a normal
    distribution), and more than three steps of the instrument. Fewer than three others say nothing.

    >>> apart_from_class(68.21, [68.02, 68.03, 68.05, 68.04], 0.01)
    (68.02, 68.05)

    Source: the median absolute deviation, times 1.4826; three of them: common practice, no source.
    """
    if len(others) < 3:
        return None
    middle = median(others)
    spread = 1.4826 * median(abs(other - middle) for other in others)
    return (min(others), max(others)) if abs(value - middle) > max(3 * spread, 3 * step) + 1e-9 else None


def nearest_place(place: str, places: Iterable[str]) -> str | None:
    """The place that was meant by a place there is not, where one begins alike.

    >>> nearest_place("Top ", ("top", "middle", "bottom"))
    'top'
    """
    meant = place.strip().lower()
    return next((one for one in places if one.lower() == meant or (meant and one.lower().startswith(meant))), None)
