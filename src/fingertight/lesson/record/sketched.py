"""Fasteners tapped on a sketch: a distance between two of them says how large it is."""

from collections.abc import Sequence
from math import dist, isfinite

Dot = tuple[float, float]
LARGEST_MM = 5000.0


class NotPlaced(ValueError):
    """The sketch says no places; the message says why."""


def places(dots: Sequence[Dot], apart_mm: float) -> tuple[Dot, ...]:
    """Where the fasteners sit [mm], to a tenth, when the first two are so far apart in truth.

    dots: in any unit, y up.

    >>> places([(-20, 10), (20, 10), (0, -10)], 80)
    ((-40.0, 20.0), (40.0, 20.0), (0.0, -20.0))

    Raises NotPlaced for fewer than two dots, two on one place, or no distance up to 5 m.
    """
    if len(dots) < 2 or not all(isfinite(one) for dot in dots for one in dot):
        raise NotPlaced("Two fasteners or more are wanted on the sketch.")
    drawn = dist(dots[0], dots[1])
    if not drawn or not 0 < apart_mm <= LARGEST_MM:
        raise NotPlaced("That is no distance between the first two. Measure it, or leave it out.")
    scale = apart_mm / drawn
    return tuple((round(x * scale, 1), round(y * scale, 1)) for x, y in dots)
