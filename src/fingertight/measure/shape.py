"""Out-of-round and taper from readings taken at heights and in directions."""

from collections import defaultdict
from collections.abc import Iterable

Reading = tuple[str | None, str | None, float]


def out_of_round(readings: Iterable[Reading]) -> float | None:
    """How far from round: at one height the largest less the smallest, and of all heights the most [as the readings].

    A reading is (height, direction, value). None while no height has two directions.

    >>> round(out_of_round([("top", "along", 68.052), ("top", "across", 68.071)]), 3)
    0.019

    Source: the usual workshop definition (common practice, no source); stated in the contract of the anatomy.
    """
    return _largest_spread((height, direction, value) for height, direction, value in readings)


def taper(readings: Iterable[Reading]) -> float | None:
    """How far from straight: in one direction, the largest less the smallest, and of all directions the most.

    >>> round(taper([("top", "along", 68.052), ("bottom", "along", 68.031)]), 3)
    0.021

    Source: as `out_of_round`.
    """
    return _largest_spread((direction, height, value) for height, direction, value in readings)


def _largest_spread(readings: Iterable[tuple[str | None, str | None, float]]) -> float | None:
    """Group by the first; within a group compare the second (repeats of one spot say nothing of shape)."""
    groups: dict[str | None, dict[str | None, list[float]]] = defaultdict(lambda: defaultdict(list))
    for group, spot, value in readings:
        groups[group][spot].append(value)
    spreads = []
    for spots in groups.values():
        if len(spots) > 1:
            middles = [sum(values) / len(values) for values in spots.values()]
            spreads.append(max(middles) - min(middles))
    return max(spreads, default=None)
