"""Uncertainty by drawing at random: any formula, any distributions (GUM Supplement 1, JCGM 101:2008)."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import TWO_SIGMA

Draws = np.ndarray[Any, np.dtype[np.float64]]


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
        half = spread * math.sqrt(3)
        errors = chance.random(draws)
        errors -= 0.5
        errors *= 2 * half
        return errors
    if line.shape == "triangular":
        return (chance.random(draws) - chance.random(draws)) * (spread * math.sqrt(6))
    if line.shape == "u-shaped":
        return np.sin(chance.random(draws) * (2 * math.pi)) * (spread * math.sqrt(2))
    if not math.isinf(line.dof):
        return chance.standard_t(line.dof, draws) * spread
    errors = chance.standard_normal(draws)
    errors *= spread
    return errors


def of_budget(budget: Budget, seed: int, draws: int = 1_000_000, share: float = TWO_SIGMA) -> Drawn:
    """The error of a result, drawn from the lines of its budget: mean near 0, and how wide it spreads.

    Raises ValueError for correlated lines, which want a formula of their own.

    >>> drawn = of_budget(Budget((Line("a", 3.0), Line("b", 4.0))), seed=1, draws=100_000)
    >>> abs(drawn.standard - 5) < 0.05
    True

    Source: JCGM 101:2008, clauses 5 to 7.
    """
    if budget.correlations:
        raise ValueError("lines that hang together are drawn by a formula: use of_formula")
    chance = np.random.default_rng(seed)
    total = np.zeros(draws)
    for line in budget.lines:
        total += errors_of(line, draws, chance)
    return summed_up(total, share)


def of_formula(formula: Callable[..., Draws], inputs: list[Draws], share: float = TWO_SIGMA) -> Drawn:
    """The same for any formula of inputs already drawn, one array each.

    >>> one = np.random.default_rng(2).normal(10, 0.1, 50_000)
    >>> round(of_formula(lambda x: x * x, [one]).mean, 1)
    100.0

    Source: JCGM 101:2008, 7.3 to 7.6.
    """
    return summed_up(formula(*inputs), share)


def summed_up(drawn: Draws, share: float = TWO_SIGMA) -> Drawn:
    """Mean, standard deviation and the interval with equal tails.

    Source: JCGM 101:2008, 7.6 and 7.7.
    """
    ends = ((1 - share) / 2 * (len(drawn) - 1), (1 + share) / 2 * (len(drawn) - 1))
    places = [round(end) for end in ends]
    parted = np.partition(drawn, places)
    return Drawn(float(drawn.mean()), float(drawn.std(ddof=1)), float(parted[places[0]]), float(parted[places[1]]))
