"""By drawing at random: the analytic budget is right within the draws' own error, and stated chances come true."""

import math
import random

import numpy as np
import pytest

from fingertight.measure.budget import Tool, reading_budget
from fingertight.measure.verdict import Word, chance_good, judged, risks
from fingertight.uncertainty.budget import Budget, Line, Shape
from fingertight.uncertainty.monte_carlo import of_budget, of_formula

SHAPES: tuple[Shape, ...] = ("normal", "rectangular", "triangular", "u-shaped")


def some_budget(seed: int) -> Budget:
    chance = random.Random(seed)
    return Budget(
        tuple(
            Line(f"cause {number}", chance.uniform(0.001, 0.02), chance.uniform(-3, 3), shape=chance.choice(SHAPES))
            for number in range(chance.randint(1, 7))
        )
    )


def test_a_hundred_budgets_agree_with_their_draws() -> None:
    """GUM Supplement 1 against the sum of squares: the standard deviation of n draws is known to 1/√(2n) of itself, for
    a normal result (flatter ones less); four times that is allowed."""
    draws, far = 20_000, []
    for seed in range(100):
        budget = some_budget(seed)
        drawn = of_budget(budget, seed, draws)
        allowed = 4 / math.sqrt(2 * draws)
        if abs(drawn.standard / budget.standard - 1) > allowed or abs(drawn.mean) > 4 * budget.standard / draws**0.5:
            far.append((seed, drawn, budget.standard))
    assert far == []


def test_the_same_seed_draws_the_same() -> None:
    assert of_budget(some_budget(1), 7, 1000) == of_budget(some_budget(1), 7, 1000)
    assert of_budget(some_budget(1), 7, 1000) != of_budget(some_budget(1), 8, 1000)


def test_few_degrees_of_freedom_draw_a_wider_interval() -> None:
    few = of_budget(Budget((Line("scatter", 1.0, dof=4),)), 1, 200_000)
    assert (few.high - few.low) / 2 == pytest.approx(2.87, abs=0.05)


def test_lines_that_hang_together_are_drawn_together() -> None:
    lines = (Line("a", 3.0), Line("b", 3.0, -1.0))
    assert of_budget(Budget(lines, {(0, 1): 1.0}), 1, 1000).standard == pytest.approx(0.0, abs=1e-9)
    assert of_budget(Budget(lines, {(0, 1): -1.0}), 1, 50_000).standard == pytest.approx(6.0, rel=0.02)


def test_two_other_libraries_agree() -> None:
    import uncertainties

    outer, inner = uncertainties.ufloat(68.05, 0.0041), uncertainties.ufloat(67.96, 0.0052)
    gap = outer - inner
    budget = Budget((Line("outer", 0.0041), Line("inner", 0.0052, -1.0)))
    assert budget.standard == pytest.approx(gap.std_dev)
    warm = outer * (1 + 11.5e-6 * uncertainties.ufloat(15, 0.58))
    slope = Budget((Line("size", 0.0041, 1 + 11.5e-6 * 15), Line("temperature", 0.58, 68.05 * 11.5e-6)))
    assert slope.standard == pytest.approx(warm.std_dev)


def test_metrolopy_agrees_with_the_budget_of_a_reading() -> None:
    metrolopy = pytest.importorskip("metrolopy")
    step = metrolopy.gummy(metrolopy.UniformDist(center=0, half_width=0.005))
    error = metrolopy.gummy(metrolopy.UniformDist(center=0, half_width=0.005))
    scatter = metrolopy.gummy(68.05, u=0.003, dof=4)
    both = step + error + scatter
    budget = Budget(
        (
            Line("step", 0.005 / 3**0.5, shape="rectangular"),
            Line("error", 0.005 / 3**0.5, shape="rectangular"),
            Line("scatter", 0.003, dof=4),
        )
    )
    assert budget.standard == pytest.approx(float(both.u))
    assert budget.dof == pytest.approx(float(both.dof), rel=1e-3)


def test_a_formula_is_drawn_through() -> None:
    chance = np.random.default_rng(3)
    bore, skirt = chance.normal(68.05, 0.004, 200_000), chance.normal(67.96, 0.005, 200_000)
    drawn = of_formula(lambda outer, inner: outer - inner, [bore, skirt])
    assert drawn.mean == pytest.approx(0.09, abs=1e-4)
    assert drawn.standard == pytest.approx(math.hypot(0.004, 0.005), rel=0.01)


# -- do the stated chances come true? ------------------------------------------------------------------------------


def test_the_stated_chance_of_a_wrong_verdict_is_true_over_20_000_parts() -> None:
    """Parts of any size about the limit, read with step and error of a bore gauge: of those said to be good with
    chance p, a share p is. In ten bands of p, within three standard deviations of the sampling."""
    limit, tool, parts = 68.165, Tool(0.01, 0.005), 20_000
    chance = np.random.default_rng(20)
    true = chance.uniform(limit - 0.05, limit + 0.05, parts)
    read = np.round((true + chance.uniform(-tool.error, tool.error, parts)) / tool.resolution) * tool.resolution
    standard = reading_budget(tool).standard
    stated = np.array([chance_good(size, None, limit, standard) for size in read.tolist()])
    good = true <= limit
    middle = np.abs(read - limit) < 0.03  # beyond, the parts drawn do not reach far enough to fill the bands
    wrong_said = np.minimum(stated, 1 - stated)[middle].mean()
    wrong_found = np.where(stated >= 0.5, ~good, good)[middle].mean()
    sampling = 3 * math.sqrt(wrong_said * (1 - wrong_said) / middle.sum())
    # The bell stands for a step and limits, which are flat: what that costs is allowed besides (two in a hundred).
    assert abs(wrong_said - wrong_found) < sampling + 0.02


def test_with_a_normal_scatter_the_stated_chances_are_exact() -> None:
    limit, standard, parts = 68.165, 0.004, 20_000
    chance = np.random.default_rng(21)
    true = chance.uniform(limit - 0.04, limit + 0.04, parts)
    read = true + chance.normal(0, standard, parts)
    inside = np.abs(read - limit) < 0.02
    stated = np.array([chance_good(size, None, limit, standard) for size in read[inside].tolist()])
    good = (true <= limit)[inside]
    for low in np.arange(0, 1, 0.1):
        band = (stated >= low) & (stated < low + 0.1)
        expected, found, many = stated[band].mean(), good[band].mean(), band.sum()
        assert abs(expected - found) < 3.5 * math.sqrt(max(expected * (1 - expected), 1e-4) / many)


def test_the_rule_lets_through_no_more_wrong_ones_than_it_says() -> None:
    """JCGM 106 clause 9 by integration, against 20,000 parts and readings drawn; guard band U: at most 2.5 % wrong."""
    limit, spread, standard, parts = 68.165, (68.13, 0.02), 0.005, 20_000
    chance = np.random.default_rng(22)
    true = chance.normal(*spread, parts)
    read = true + chance.normal(0, standard, parts)
    words = np.array([judged(size, None, limit, 2 * standard).word for size in read.tolist()])
    over = risks(limit, spread, standard, guard=2 * standard)
    for said, found in (
        (over.passed_though_worn, ((words == Word.GOOD) & (true > limit)).mean()),
        (over.refused_though_good, ((words == Word.WORN) & (true <= limit)).mean()),
        (over.undecided, (words == Word.CLOSE).mean()),
    ):
        assert abs(said - found) < 3.5 * math.sqrt(max(said * (1 - said), 1e-4) / parts)
    assert over.passed_though_worn < 0.025
