"""Uncertainty by drawing at random: any formula, any distributions (GUM Supplement 1, JCGM 101:2008)."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import TWO_SIGMA

Draws = np.ndarray[Any, np.dtype[np.float64]]

_BLOCK = 8192
"""Draws are made in blocks that stay in the processor's cache: twice as fast as arrays of a million."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the draws say: the mean, the standard deviation, and the interval that holds the share asked for."""

    mean: float
    standard: float
    low: float
    high: float


def errors_of(line: Line, draws: int, chance: np.random.Generator) -> Draws:
    """What this cause does to the result in each draw [unit of the result].

    Few degrees of freedom draw from Student's t, scaled as JCGM 101:2008 6.4.9 has it.

    >>> errors = errors_of(Line("limits", 1 / 3**0.5, shape="rectangular"), 10_000, np.random.default_rng(1))
    >>> bool(abs(errors).max() <= 1)
    True
    """
    spread = line.sensitivity * line.standard
    if line.shape == "rectangular":
        errors = chance.random(draws)
        errors -= 0.5
        errors *= 2 * spread * math.sqrt(3)
        return errors
    if line.shape == "triangular":
        errors = chance.random(draws)
        errors -= chance.random(draws)
        errors *= spread * math.sqrt(6)
        return errors
    if line.shape == "u-shaped":
        return np.sin(chance.random(draws) * (2 * math.pi)) * (spread * math.sqrt(2))
    few = not math.isinf(line.dof)
    errors = chance.standard_t(line.dof, draws) if few else chance.standard_normal(draws)
    errors *= spread
    return errors


def of_budget(
    budget: Budget, seed: int, draws: int = 1_000_000, share: float = TWO_SIGMA, *, shortest: bool = False
) -> Drawn:
    """The error of a result, drawn from the lines of its budget: mean near 0, and how wide it spreads.

    Lines that hang together are all normal, or of one shape and wholly so (r of 1 or -1).
    Raises ValueError for others, which want a formula of their own.

    >>> drawn = of_budget(Budget((Line("a", 3.0), Line("b", 4.0))), seed=1, draws=100_000)
    >>> abs(drawn.standard - 5) < 0.05
    True

    Source: JCGM 101:2008, clauses 5 to 7.
    """
    chance = np.random.default_rng(seed)
    paired = sorted({place for pair in budget.correlations for place in pair})
    alone = [line for place, line in enumerate(budget.lines) if place not in paired and line.part]
    total = np.zeros(draws)
    for start in range(0, draws, _BLOCK):
        block = total[start : start + _BLOCK]
        if paired:
            block += _errors_together(budget, paired, len(block), chance)
        for line in alone:
            block += errors_of(line, len(block), chance)
    return summed_up(total, share, shortest=shortest)


def _errors_together(budget: Budget, places: list[int], draws: int, chance: np.random.Generator) -> Draws:
    """What the lines at these places do together, which hang together."""
    lines = [budget.lines[place] for place in places]
    r = np.eye(len(places))
    for (one, other), value in budget.correlations.items():
        first, second = places.index(one), places.index(other)
        r[first, second] = r[second, first] = value
    spreads = np.array([line.sensitivity * line.standard for line in lines])
    if all(line.shape == "normal" and math.isinf(line.dof) for line in lines):
        errors = chance.standard_normal(draws)  # a sum of normal errors is one, however they hang together
        errors *= math.sqrt(max(float(spreads @ r @ spreads), 0.0))
        return errors
    total, left = np.zeros(draws), set(range(len(lines)))
    while left:
        first = min(left)
        tied = [other for other in left if r[first, other]]
        if any(abs(r[first, other]) != 1 or lines[other].shape != lines[first].shape for other in tied):
            raise ValueError("lines that hang together in part are drawn by a formula: use of_formula")
        spread = float(sum(spreads[other] * r[first, other] for other in tied))
        as_one = Line(lines[first].source, 1.0, spread, lines[first].dof, lines[first].shape)
        total += errors_of(as_one, draws, chance)
        left -= set(tied)
    return total


def of_formula(
    formula: Callable[..., Draws], inputs: list[Draws], share: float = TWO_SIGMA, *, shortest: bool = False
) -> Drawn:
    """The same for any formula of inputs already drawn, one array each.

    >>> one = np.random.default_rng(2).normal(10, 0.1, 50_000)
    >>> round(of_formula(lambda x: x * x, [one]).mean, 1)
    100.0

    Source: JCGM 101:2008, 7.3 to 7.6.
    """
    return summed_up(formula(*inputs), share, shortest=shortest)


def summed_up(drawn: Draws, share: float = TWO_SIGMA, *, shortest: bool = False) -> Drawn:
    """Mean, standard deviation, and the interval that holds the share: with equal tails, or the shortest there is.

    Source: JCGM 101:2008, 5.3.4, 7.6 and 7.7.
    """
    last = len(drawn) - 1
    in_order = np.sort(drawn)
    if shortest:
        inside = round(share * last)
        start = int(np.argmin(in_order[inside:] - in_order[: last + 1 - inside]))
    else:
        start, end = round((1 - share) / 2 * last), round((1 + share) / 2 * last)
        inside = end - start
    low, high = float(in_order[start]), float(in_order[start + inside])
    return Drawn(float(drawn.mean()), float(drawn.std(ddof=1)), low, high)
