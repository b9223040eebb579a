"""The shim that brings a float back to where it belongs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement


@dataclass(frozen=True, slots=True)
class Shimmed:
    """Shims that go in, thinnest first, and the float that is left with them."""

    shims: tuple[float, ...]
    left: float


def shims_for(size: float, shims: Sequence[float], wanted: tuple[float, float], most: int = 2) -> Shimmed:
    """Which of the shims there are bring a float nearest to the middle of what is wanted? [all in one unit]

    None at all is tried too, then each alone, then up to `most` together, as many of one thickness as wanted; of equals
    the fewest.

    >>> shims_for(0.47, [0.10, 0.15, 0.20, 0.30], (0.05, 0.25))
    Shimmed(shims=(0.3,), left=0.17)

    Source: subtraction; the middle is aimed at, so that neither end is nearer than it must be (common practice, no
    source).
    """
    middle = sum(wanted) / 2
    best = min(_stacks(shims, most), key=lambda stack: (round(abs(size - sum(stack) - middle), 9), len(stack)))
    return Shimmed(best, round(size - sum(best), 9))


def _stacks(shims: Sequence[float], most: int) -> Iterator[tuple[float, ...]]:
    for count in range(most + 1):
        yield from combinations_with_replacement(sorted(set(shims)), count)
