"""In which order are the fasteners of one set tightened, and loosened?"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, tau

from fingertight.tighten.pattern.layouts import MOST

Position = tuple[float, float]

MAY_BE_UNEVEN = 1.4
"""How many times as uneven as its pattern a pass may be done: common practice, no source. On 200 covers of 4 to 12
bolts, a quarter out of their places, it lets pass all but one in fourteen of the crisscrosses that go by eye, and none
that goes round in a circle (tests/tighten/test_pattern_even.py)."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A pass as it was done: the order its pattern asks for, and how many times as uneven it was."""

    wanted: tuple[int, ...]
    times: float

    @property
    def is_even_enough(self) -> bool:
        """Whether nothing is to be said against it."""
        return self.times <= MAY_BE_UNEVEN


def tightening_order(at: Sequence[Position], pattern: str | None = None, given: Sequence[int] = ()) -> tuple[int, ...]:
    """Which position, counted from 1 as the anatomy lists them, is tightened first, second, …?

    `across`, or no pattern: the order that closes the joint most evenly (even.py). `around`: by angle, clockwise as
    drawn (y up), from the first position. `given`: as given. More than 64, or two at one place: around.

    at: positions x, y [mm].

    >>> from fingertight.tighten.pattern.layouts import ring
    >>> tightening_order(ring(8), "across"), tightening_order(ring(8), "around")
    ((1, 5, 3, 7, 2, 6, 4, 8), (1, 2, 3, 4, 5, 6, 7, 8))

    Source: `most_even_order`.
    """
    if pattern == "given" and given:
        return tuple(given)
    return _sequence(tuple((float(x), float(y)) for x, y in at), pattern == "around")


def loosening_order(at: Sequence[Position], pattern: str | None = None, given: Sequence[int] = ()) -> tuple[int, ...]:
    """Which position is loosened first, second, …? The tightening order backwards (common practice, no source).

    >>> loosening_order([(0, 1), (1, 0), (0, -1), (-1, 0)], "across")
    (4, 2, 3, 1)
    """
    return tightening_order(at, pattern, given)[::-1]


def judge_order(
    at: Sequence[Position], done: Sequence[int], pattern: str | None = None, given: Sequence[int] = ()
) -> Judged:
    """Was a pass done as evenly as its pattern allows?

    at: positions x, y [mm]. done: every position from 1, as they were done; done twice counts where it came first.
    pattern, given: as for `tightening_order`. An order that is more even than the pattern's own is as good; more than
    64 are not judged.

    >>> from fingertight.tighten.pattern.layouts import ring
    >>> judge_order(ring(4), (2, 4, 1, 3), "across").is_even_enough
    True
    >>> round(judge_order(ring(4), (1, 2, 3, 4), "across").times, 1)
    1.5

    Raises ValueError when a position is left out. Source: `unevenness`, and `MAY_BE_UNEVEN`.
    """
    wanted = tightening_order(at, pattern, given)
    first = tuple(dict.fromkeys(one for one in done if 1 <= one <= len(at)))
    if len(first) < len(at):
        raise ValueError("every position is named")
    as_good = first == wanted or len(at) > MOST
    return Judged(wanted, 1.0 if as_good else _times_as_uneven(tuple(at), first, wanted))


@lru_cache(maxsize=2048)
def _times_as_uneven(at: tuple[Position, ...], done: tuple[int, ...], wanted: tuple[int, ...]) -> float:
    from fingertight.tighten.pattern.even import unevenness  # numpy: only where an order was said

    try:
        least = unevenness(at, wanted)
        return unevenness(at, done) / least if least else 1.0
    except ValueError:  # two at one place: no joint, and no judgement
        return 1.0


@lru_cache(maxsize=2048)
def _sequence(at: tuple[Position, ...], around: bool) -> tuple[int, ...]:
    if len(at) < 3:
        return tuple(range(1, len(at) + 1))
    if not around and len(at) <= MOST:
        from fingertight.tighten.pattern.even import most_even_order  # numpy: only where an order is worked out

        try:
            return most_even_order(at).order
        except ValueError:  # two at one place, which a machine file of an earlier day may still say
            pass
    turns = clockwise_turns(at)
    return tuple(sorted(range(1, len(at) + 1), key=lambda number: turns[number - 1]))


def clockwise_turns(at: Sequence[Position]) -> list[float]:
    """How far round the middle from the first position each lies, clockwise, 0 to 1; rounded, so that equal angles tie.

    >>> clockwise_turns([(0, 1), (1, 0), (0, -1), (-1, 0)])
    [0.0, 0.25, 0.5, 0.75]
    """
    middle_x, middle_y = (sum(axis) / len(at) for axis in zip(*at, strict=True))
    angles = [atan2(y - middle_y, x - middle_x) for x, y in at]
    return [round((angles[0] - angle) / tau % 1.0, 6) % 1.0 for angle in angles]
