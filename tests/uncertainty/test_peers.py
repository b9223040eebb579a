"""Two other libraries, metrolopy and uncertainties, find the same for budgets and formulas nobody chose."""

import math
import random
import warnings
from collections.abc import Callable
from typing import Any

import pytest
import uncertainties
from uncertainties import umath

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import factor
from fingertight.uncertainty.together import correlation_of, means_of, through

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import metrolopy


def causes(seed: int) -> list[Line]:
    """Some causes, most of them with few degrees of freedom, as of repeats."""
    chance = random.Random(seed)
    return [
        Line(
            f"cause {number}",
            chance.uniform(0.0005, 0.02),
            chance.choice((-1, 1)) * chance.uniform(0.2, 3),
            chance.choice((math.inf, 2, 3, 4, 7, 12)),
        )
        for number in range(chance.randint(2, 6))
    ]


@pytest.mark.parametrize("seed", range(50))
def test_metrolopy_has_the_same_uncertainty_degrees_of_freedom_and_factor(seed: int) -> None:
    lines = causes(seed)
    terms = [line.sensitivity * metrolopy.gummy(0, u=line.standard, dof=line.dof) for line in lines]
    total, budget = sum(terms[1:], terms[0]), Budget(tuple(lines))
    assert budget.standard == pytest.approx(float(total.u), rel=1e-9)
    theirs = float(total.dof)
    if budget.dof > 10_000:  # from there on it takes them for infinite
        assert math.isinf(theirs)
    else:
        assert budget.dof == pytest.approx(theirs, rel=1e-6)
        total.p = 0.95
        assert factor(0.95, budget.dof) == pytest.approx(float(total.k), rel=1e-6)


FORMULAS: dict[str, tuple[Callable[..., float], Callable[..., Any]]] = {
    "a product and a sum": (lambda a, b, c: a * b + c, lambda a, b, c: a * b + c),
    "a ratio": (lambda a, b, c: (a + b) / c, lambda a, b, c: (a + b) / c),
    "a root": (lambda a, b, c: math.sqrt(a * a + b * b) - c, lambda a, b, c: umath.sqrt(a * a + b * b) - c),
    "an angle": (lambda a, b, c: c * math.cos(a / b), lambda a, b, c: c * umath.cos(a / b)),
    "a volume": (lambda a, b, c: math.pi / 4 * a * a * b + c, lambda a, b, c: math.pi / 4 * a * a * b + c),
}


@pytest.mark.parametrize("name", FORMULAS)
@pytest.mark.parametrize("seed", range(10))
def test_uncertainties_has_the_same_for_a_formula_of_causes_that_hang_together(name: str, seed: int) -> None:
    chance = random.Random(seed)
    at = [chance.uniform(20, 90) for _ in range(3)]
    columns = [[value + chance.gauss(0, 0.004) for _ in range(6)] for value in at]
    columns[1] = [other + 0.7 * (one - at[0]) for one, other in zip(columns[0], columns[1], strict=True)]
    read = means_of(*columns)
    matrix = [
        [
            read.standard[i] * read.standard[j] * (1.0 if i == j else read.correlations[min(i, j), max(i, j)])
            for j in range(3)
        ]
        for i in range(3)
    ]
    theirs = uncertainties.correlated_values(read.means, matrix)
    ours, other = FORMULAS[name]
    lines = [Line(str(place), unsure) for place, unsure in enumerate(read.standard)]
    value, budget = through(ours, read.means, lines, read.correlations)
    expected = other(*theirs)
    assert value == pytest.approx(expected.nominal_value, rel=1e-12)
    assert budget.standard == pytest.approx(expected.std_dev, rel=1e-4)
    second = through(FORMULAS["a ratio"][0], read.means, lines, read.correlations)[1]
    between = uncertainties.correlation_matrix([expected, FORMULAS["a ratio"][1](*theirs)])[0][1]
    assert correlation_of(budget, second) == pytest.approx(float(between), abs=1e-4)
