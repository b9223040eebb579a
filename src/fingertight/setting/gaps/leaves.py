"""Feeler leaves: the sets there are, how far a leaf may be off, and which leaves make a gap."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from fingertight.quantity import in_house
from fingertight.setting.tables import rows

THICKEST_MM = 3.0
"""No feeler leaf is thicker (a dictionary of technology gives 0.02 to 3 mm)."""
THINNEST_MM = 0.005

_FINE_MM, _OFF_FINE_MM, _OFF_MM = 0.30, 0.004, 0.006


@dataclass(frozen=True, slots=True)
class Stack:
    """Leaves laid on each other, thinnest first: their thickness by what is marked, and how far it may be off [mm].

    A real stack is a little thicker than its sum, by oil and air between the leaves; by how much nobody publishes.
    """

    leaves_mm: tuple[float, ...]
    error_mm: float = 0.0

    @property
    def thickness_mm(self) -> float:
        """The sum of what is marked on the leaves [mm]."""
        return round(math.fsum(self.leaves_mm), 6)

    @property
    def at_least_mm(self) -> float:
        """What it is at least [mm]: a gap it goes into is no smaller."""
        return self.thickness_mm - self.error_mm

    @property
    def at_most_mm(self) -> float:
        """What it is at most by its leaves [mm]: a gap it does not go into is smaller."""
        return self.thickness_mm + self.error_mm


def leaf_error_mm(thickness_mm: float) -> float:
    """How far may a leaf be off what is marked on it? 0.004 mm up to 0.30 mm, 0.006 mm above.

    >>> leaf_error_mm(0.15), leaf_error_mm(0.5)
    (0.004, 0.006)

    Source: IS 3179 as quoted in a textbook of metrology, which misprints 0.004 as 0.04 (no leaf of 0.03 mm can be off
    by 0.04); taken as limits to either side.
    """
    return _OFF_FINE_MM if thickness_mm <= _FINE_MM + 1e-9 else _OFF_MM


def stack_of(leaves_mm: Sequence[float], error_mm: float | None = None) -> Stack:
    """These leaves on each other; error_mm: what each may be off, where that is known better than `leaf_error_mm`.

    >>> stack_of([0.25, 0.20]).thickness_mm, round(stack_of([0.25, 0.20]).error_mm, 4)
    (0.45, 0.008)

    What each may be off is added, so that what a stack proves is surely so.
    """
    off = [leaf_error_mm(leaf) if error_mm is None else error_mm for leaf in leaves_mm]
    return Stack(tuple(sorted(leaves_mm)), math.fsum(off))


def set_names() -> tuple[str, ...]:
    """The sets there are.

    >>> set_names()
    ('metric', 'metric 20', 'inch')
    """
    return tuple(dict.fromkeys(row["set"] for row in rows("feeler-leaves.csv")))


def leaves_of(name: str) -> tuple[float, ...]:
    """The leaves of a usual set [mm].

    >>> leaves_of("metric")[:9], len(leaves_of("inch"))
    ((0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.09, 0.1, 0.15), 26)

    Source: common practice, no source. Raises KeyError for a set there is not.
    """
    found = [
        round(in_house(float(row["first"]) + step * float(row["step"]), row["unit"]), 6)
        for row in rows("feeler-leaves.csv")
        if row["set"] == name
        for step in range(round((float(row["last"]) - float(row["first"])) / float(row["step"])) + 1)
    ]
    if not found:
        raise KeyError(name)
    return tuple(found)


def stacks(leaves_mm: Sequence[float], most: int = 2, error_mm: float | None = None) -> Iterator[Stack]:
    """Every stack of up to so many of these leaves, single leaves first; each leaf is there once.

    >>> [stack.thickness_mm for stack in stacks([0.05, 0.10])]
    [0.05, 0.1, 0.15]
    """
    for number in range(1, most + 1):
        for chosen in combinations(sorted(leaves_mm), number):
            yield stack_of(chosen, error_mm)


def makes(gap_mm: float, leaves_mm: Sequence[float], most: int = 3, error_mm: float | None = None) -> Stack:
    """Which leaves make this gap: the stack nearest to it, and of equally near ones that of the fewest leaves?

    >>> makes(0.13, leaves_of("metric")).leaves_mm, makes(0.45, leaves_of("metric 20")).leaves_mm
    ((0.03, 0.1), (0.45,))

    Stacks as near as 0.0005 mm count as equally near; of as many leaves the one with the thickest leaf is taken, since
    thin leaves buckle (common practice, no source). Raises ValueError for no leaves.
    """
    return min(
        stacks(leaves_mm, most, error_mm),
        key=lambda stack: (
            round(abs(stack.thickness_mm - gap_mm) / 0.0005),
            len(stack.leaves_mm),
            -stack.leaves_mm[-1],
        ),
    )
