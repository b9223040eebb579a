"""Results of any formula: what each cause does to it, found by trying; and causes that were read side by side."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_mean, scatter

Pairs = Mapping[tuple[int, int], float]


@dataclass(frozen=True, slots=True)
class Means:
    """Several quantities read side by side: their means, the standard uncertainty of each, and r for each pair."""

    means: tuple[float, ...]
    standard: tuple[float, ...]
    correlations: Pairs
    dof: int


def means_of(*columns: Sequence[float]) -> Means:
    """What are the means of quantities that were read at the same time, and how do they hang together?

    Each column has the readings of one quantity, in the same order as the others.

    >>> read = means_of([1.0, 2.0, 3.0], [2.0, 4.0, 6.1])
    >>> read.means[0], round(read.standard[0], 3), round(read.correlations[0, 1], 3)
    (2.0, 0.577, 1.0)

    Source: GUM (JCGM 100:2008) 4.2.3, 5.2.3, equation 17, and H.2.3.
    Raises ValueError for columns of different length, or of fewer than two readings.
    """
    n = len(columns[0])
    if any(len(column) != n for column in columns):
        raise ValueError("what was read side by side has as many readings of each")
    means = tuple(math.fsum(column) / n for column in columns)
    scatters = [scatter(column) for column in columns]
    pairs = {}
    for one in range(len(columns)):
        for other in range(one + 1, len(columns)):
            products = (
                (x - means[one]) * (y - means[other]) for x, y in zip(columns[one], columns[other], strict=True)
            )
            both = scatters[one] * scatters[other]
            pairs[one, other] = math.fsum(products) / (n - 1) / both if both else 0.0
    return Means(means, tuple(of_mean(one, n) for one in scatters), pairs, n - 1)


def through(
    formula: Callable[..., float], at: Sequence[float], causes: Sequence[Line], correlations: Pairs | None = None
) -> tuple[float, Budget]:
    """What does a formula give at these values, and how sure is that?

    causes: a line for each value, its sensitivity not yet known; it is found by trying one standard uncertainty to
    either side. correlations: r for pairs of values by their places.

    >>> size, budget = through(lambda wide, deep: wide * deep, (4.0, 2.0), (Line("wide", 0.03), Line("deep", 0.02)))
    >>> size, round(budget.standard, 6)
    (8.0, 0.1)

    Source: GUM (JCGM 100:2008) 5.1.4, note 2, and 5.2.2.
    """
    lines = []
    for place, line in enumerate(causes):
        above, below = list(at), list(at)
        above[place] += line.standard
        below[place] -= line.standard
        by = above[place] - below[place]
        lines.append(replace(line, sensitivity=(formula(*above) - formula(*below)) / by if by else 0.0))
    return formula(*at), Budget(tuple(lines), correlations or {})


def correlation_of(one: Budget, other: Budget) -> float:
    """How do two results hang together that come from the same causes? r, from -1 to 1.

    Both budgets have the same lines in the same order, and the same correlations.

    >>> causes = (Line("a", 1.0), Line("b", 1.0))
    >>> total, difference = through(lambda a, b: a + b, (0, 0), causes), through(lambda a, b: a - b, (0, 0), causes)
    >>> correlation_of(total[1], difference[1])
    0.0

    Source: GUM (JCGM 100:2008) H.2.3, equation H.9.
    """
    first = [line.sensitivity * line.standard for line in one.lines]
    second = [line.sensitivity * line.standard for line in other.lines]
    covariance = math.fsum(x * y for x, y in zip(first, second, strict=True))
    for (left, right), r in one.correlations.items():
        covariance += r * (first[left] * second[right] + first[right] * second[left])
    return covariance / (one.standard * other.standard)
