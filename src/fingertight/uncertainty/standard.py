"""Limits, steps and scatter as standard uncertainties; several of them combined, and expanded."""

import math
from collections.abc import Iterable, Sequence

COVERAGE = 2.0


def of_limits(half_width: float) -> float:
    """The standard uncertainty of an error known only by its limits ±a: a / √3 [unit of a].

    >>> round(of_limits(0.005), 5)
    0.00289

    Source: GUM (JCGM 100:2008) 4.3.7, rectangular distribution.
    """
    return half_width / math.sqrt(3)


def of_resolution(step: float) -> float:
    """The standard uncertainty of reading to the nearest step d: d / √12 [unit of d].

    >>> round(of_resolution(0.01), 5)
    0.00289

    Source: GUM (JCGM 100:2008) F.2.2.1.
    """
    return step / math.sqrt(12)


def of_triangle(half_width: float) -> float:
    """The standard uncertainty of an error within ±a whose middle is likelier than its ends: a / √6 [unit of a].

    >>> round(of_triangle(0.6), 3)
    0.245

    Source: GUM (JCGM 100:2008) 4.3.9, triangular distribution.
    """
    return half_width / math.sqrt(6)


def of_swing(half_width: float) -> float:
    """The standard uncertainty of what swings between ±a like a sine, as a heated room does: a / √2 [unit of a].

    >>> round(of_swing(0.5), 2)
    0.35

    Source: GUM (JCGM 100:2008) H.1.3.4, arcsine (U-shaped) distribution.
    """
    return half_width / math.sqrt(2)


def scatter(readings: Sequence[float]) -> float:
    """The standard deviation of repeated readings, by their own mean: √(Σ(x − x̄)² / (n − 1)) [their unit].

    >>> round(scatter([68.16, 68.17, 68.15]), 4)
    0.01

    Source: GUM (JCGM 100:2008) 4.2.2. Raises ValueError for fewer than two readings.
    """
    if len(readings) < 2:
        raise ValueError("one reading does not scatter: two or more are wanted")
    first = readings[0]
    away = [reading - first for reading in readings]  # equal leading digits are taken off before anything is squared
    mean = math.fsum(away) / len(away)
    return math.sqrt(math.fsum((one - mean) ** 2 for one in away) / (len(away) - 1))


def pooled(groups: Iterable[Sequence[float]]) -> tuple[float, int]:
    """The scatter of one reading from several spots read repeatedly, and its degrees of freedom.

    s² = Σ (nᵢ − 1) sᵢ² / Σ (nᵢ − 1); spots read once say nothing. (0, 0) where no spot was read twice.

    >>> pooled([[1.0, 3.0], [10.0, 12.0], [5.0]])
    (1.4142135623730951, 2)

    Source: GUM (JCGM 100:2008) H.3.6 and H.5.2.2; any text on pooled variances.
    """
    squares, dof = 0.0, 0
    for group in groups:
        more = len(group) - 1
        if more == 1:  # the most usual by far: of two readings it is half their difference squared
            squares += (group[0] - group[1]) ** 2 / 2
            dof += 1
        elif more > 1:
            squares += more * scatter(group) ** 2
            dof += more
    return (math.sqrt(squares / dof), dof) if dof else (0.0, 0)


def of_mean(scatter_of_one: float, readings: int) -> float:
    """The standard uncertainty of the mean of n readings: s / √n [unit of s].

    >>> of_mean(0.01, 4)
    0.005

    Source: GUM (JCGM 100:2008) 4.2.3.
    """
    return scatter_of_one / math.sqrt(readings)


def of_scatter(readings: int) -> float:
    """How sure a standard deviation of n readings is itself, as a share of it: 1 / √(2(n − 1)).

    >>> round(of_scatter(30), 2)
    0.13

    Holds for ten readings or more; with five the exact share is 0.36, this says 0.35.
    Source: GUM (JCGM 100:2008) G.1.2 and table E.1.
    """
    return 1 / math.sqrt(2 * (readings - 1))


def of_product(one: float, other: float) -> float:
    """What two unsure factors add to their product where the first order sees nothing, both being about 0: u₁·u₂.

    >>> round(of_product(0.5, 0.02), 2)
    0.01

    Source: GUM (JCGM 100:2008) 5.1.2, note, and H.1.7: the second-order term of a product.
    """
    return one * other


def combined(standard: Iterable[float]) -> float:
    """Independent standard uncertainties together: the root of the sum of squares [their unit].

    >>> combined([3.0, 4.0])
    5.0

    Source: GUM (JCGM 100:2008) 5.1.2, sensitivities 1.
    """
    return math.hypot(*standard)


def expanded(standard: float, coverage: float = COVERAGE) -> float:
    """The expanded uncertainty U = k·u, with k = 2 for about 95 of 100 times [unit of u].

    >>> expanded(0.0041)
    0.0082

    Source: GUM (JCGM 100:2008) 6.2.1 and 6.3.3.
    """
    return coverage * standard
