"""In which order are the fasteners of one set tightened, and loosened?

A simple sequence by angle. It looks only at where the holes lie around their middle; how evenly they clamp is not
computed here.
"""

from collections.abc import Sequence
from math import atan2, tau

Position = tuple[float, float]


def tightening_order(at: Sequence[Position], pattern: str | None = None, given: Sequence[int] = ()) -> tuple[int, ...]:
    """Which position, counted from 1 as the anatomy lists them, is tightened first, second, …?

    `across`: the star. Each next hole is the one farthest by angle from all done so far, then farthest from the last.
    `around`: by angle, clockwise as drawn (y up), from the first position. `given`: as given. No pattern: as listed.

    at: positions x, y [mm].

    >>> eight = [(0, 1), (0.7, 0.7), (1, 0), (0.7, -0.7), (0, -1), (-0.7, -0.7), (-1, 0), (-0.7, 0.7)]
    >>> tightening_order(eight, "across")
    (1, 5, 3, 7, 2, 6, 4, 8)

    Four and eight holes give the cross of flange practice (1-3-2-4 and 1-5-3-7-2-6-4-8: ASME PCC-1, legacy pattern,
    from memory); for other numbers it is common practice, no source.
    """
    if pattern == "given" and given:
        return tuple(given)
    if pattern not in {"across", "around"} or len(at) < 2:
        return tuple(range(1, len(at) + 1))
    turn = _clockwise_turns(at)
    if pattern == "around":
        return tuple(sorted(range(1, len(at) + 1), key=lambda number: turn[number - 1]))
    return _star(turn)


def loosening_order(at: Sequence[Position], pattern: str | None = None, given: Sequence[int] = ()) -> tuple[int, ...]:
    """Which position is loosened first, second, …? The tightening order backwards (common practice, no source).

    >>> loosening_order([(0, 1), (1, 0), (0, -1), (-1, 0)], "across")
    (4, 2, 3, 1)
    """
    return tightening_order(at, pattern, given)[::-1]


def _clockwise_turns(at: Sequence[Position]) -> list[float]:
    """How far round from the first position each lies, clockwise, 0 to 1; rounded, so that equal angles tie."""
    middle_x, middle_y = (sum(axis) / len(at) for axis in zip(*at, strict=True))
    angles = [atan2(y - middle_y, x - middle_x) for x, y in at]
    return [round((angles[0] - angle) / tau % 1.0, 6) % 1.0 for angle in angles]


def _star(turn: Sequence[float]) -> tuple[int, ...]:
    """Greedy: farthest from all done, then farthest from the last, then the next one round."""

    def apart(one: int, other: int) -> float:
        gap = abs(turn[one] - turn[other])
        return round(min(gap, 1 - gap), 6)

    done = [0]
    nearest = {hole: apart(hole, 0) for hole in range(1, len(turn))}
    while nearest:
        last = done[-1]
        chosen = max(nearest, key=lambda hole: (nearest[hole], apart(hole, last), -turn[hole], -hole))
        del nearest[chosen]
        done.append(chosen)
        for hole, gap in nearest.items():
            nearest[hole] = min(gap, apart(hole, chosen))
    return tuple(hole + 1 for hole in done)
