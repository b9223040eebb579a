"""How often a rule is wrong: for one part, over many, and where an instrument cannot judge at all."""

import math

import numpy as np
import pytest

from fingertight.measure.budget import Tool, reading_budget
from fingertight.measure.verdict import (
    RULES,
    Parts,
    Way,
    Word,
    cannot_judge,
    chance_good,
    guard_band,
    judged,
    risks,
    settled_by,
)
from fingertight.uncertainty.standard import scatter


def test_the_three_rules_grow_sterner_and_each_keeps_its_word_at_its_guard_band() -> None:
    assert [round(rule.guard, 2) for rule in RULES] == [0.0, 0.82, 1.0]
    for rule in RULES:
        standard = 0.004
        read = 68.165 - rule.guard * 2 * standard
        assert 1 - chance_good(read, None, 68.165, standard) == pytest.approx(rule.wrong_at_most, abs=0.0005)


def test_few_degrees_of_freedom_want_a_wider_guard_band() -> None:
    assert guard_band(dof=4) == pytest.approx(2.132 / 2, abs=0.001)  # one-sided t, 95 %: NIST TN 1297 B.1 at 90 %


def test_without_uncertainty_the_chance_is_one_or_none() -> None:
    assert chance_good(68.165, None, 68.165, 0.0) == 1.0
    assert chance_good(68.166, None, 68.165, 0.0) == 0.0
    assert chance_good(67.0, 67.5, None, 0.0) == 0.0


@pytest.mark.parametrize(
    ("smallest", "largest", "new", "unsure", "cannot"),
    [
        (9.99, 10.01, None, 0.009, False),
        (9.99, 10.01, None, 0.011, True),
        (None, 68.165, (68.0, 68.015), 0.16, False),
        (None, 68.165, (68.0, 68.015), 0.17, True),
        (67.845, None, (67.985, 68.0), 0.15, False),
        (67.845, None, (67.985, 68.0), 0.16, True),
        (None, 68.165, None, 5.0, False),
    ],
)
def test_an_instrument_that_could_call_nothing_good_cannot_judge(
    smallest: float | None, largest: float | None, new: tuple[float, float] | None, unsure: float, cannot: bool
) -> None:
    assert cannot_judge(smallest, largest, new, unsure) is cannot
    ends = [end for end in (smallest, largest, *(new or ())) if end is not None]
    sizes = [min(ends) + (max(ends) - min(ends)) * step / 50 for step in range(51)]
    if new or None not in (smallest, largest):
        assert any(judged(size, smallest, largest, unsure).word is Word.GOOD for size in sizes) is not cannot


def test_risks_need_a_limit_and_an_uncertainty() -> None:
    with pytest.raises(ValueError, match="no limit"):
        risks(None, (1.0, 0.1), 0.1)
    with pytest.raises(ValueError, match="nothing is called wrong"):
        risks(1.0, (1.0, 0.1), 0.0)


def test_all_parts_are_somewhere() -> None:
    over = risks(68.165, (68.14, 0.02), 0.004, guard=0.008, smallest=68.1)
    worn = 0.5 * math.erfc(0.025 / 0.02 / math.sqrt(2)) + 0.5 * math.erfc(0.04 / 0.02 / math.sqrt(2))
    assert over.passed_though_worn + over.undecided_though_worn < worn
    # A guard band of everything leaves all undecided; one far the other way passes every worn part.
    assert risks(68.165, (68.14, 0.02), 0.004, guard=1.0, smallest=68.1).undecided == pytest.approx(1.0)
    assert risks(68.165, (68.14, 0.02), 0.004, guard=-1.0, smallest=68.1).passed_though_worn == pytest.approx(worn)


def test_two_limits_and_leaning_parts_as_when_20_000_are_drawn() -> None:
    """Wear leans: hardly any below new, a long tail above it."""
    standard, guard, parts, low, high = 0.006, 0.008, 20_000, 68.02, 68.165
    chance = np.random.default_rng(23)
    true = 68.0 + chance.gamma(6.0, 0.018, parts)
    read = true + chance.normal(0.0, standard, parts)
    fit = (true >= low) & (true <= high)
    passed = (read >= low + guard) & (read <= high - guard)
    refused = (read < low - guard) | (read > high + guard)

    def density(size: float) -> float:
        over = size - 68.0
        return over**5 * math.exp(-over / 0.018) / (math.factorial(5) * 0.018**6) if over > 0 else 0.0

    over = risks(high, Parts(density, 68.0, 68.9), standard, guard, smallest=low)
    for said, found in (
        (over.passed_though_worn, (passed & ~fit).mean()),
        (over.refused_though_good, (refused & fit).mean()),
        (over.undecided_though_good, (~passed & ~refused & fit).mean()),
        (over.undecided_though_worn, (~passed & ~refused & ~fit).mean()),
    ):
        assert abs(said - found) < 3.5 * math.sqrt(max(said * (1 - said), 1e-4) / parts)


def test_a_part_right_at_its_limit_is_called_so_surely_good_as_often_as_stated() -> None:
    """20,000 parts worn just to their limit, each read three times: with Student's t a chance of 95 in 100 or more is
    stated for five in 100 of them, and so for every chance; the bell would say it is surer than it is."""
    limit, parts = 68.165, 20_000
    chance = np.random.default_rng(24)
    sigma = 0.006 * np.exp(chance.normal(0, 1, (parts, 1)))  # whatever the hand and the spot
    read = limit + sigma * chance.normal(0, 1, (parts, 3))
    means, standard = read.mean(axis=1), read.std(axis=1, ddof=1) / math.sqrt(3)
    assert standard[0] == pytest.approx(scatter(read[0].tolist()) / math.sqrt(3))
    sizes = list(zip(means.tolist(), standard.tolist(), strict=True))
    stated = np.array([chance_good(mean, None, limit, unsure, dof=2) for mean, unsure in sizes])
    for share in np.arange(0.025, 1, 0.025):
        assert abs((stated >= share).mean() - (1 - share)) < 3.5 * math.sqrt(share * (1 - share) / parts)
    by_the_bell = np.array([chance_good(mean, None, limit, unsure) for mean, unsure in sizes])
    assert (by_the_bell >= 0.975).mean() > 0.08


# -- what would settle it ------------------------------------------------------------------------------------------


FINE, COARSE = reading_budget(Tool(0.001, 0.003)), reading_budget(Tool(0.02, 0.02))


def test_the_coarsest_instrument_that_will_do_is_the_one_to_take() -> None:
    finest = reading_budget(Tool(0.0005, 0.001))
    found = settled_by(0.005, COARSE, instruments=[("finest", finest), ("vernier", COARSE), ("micrometer", FINE)])
    assert (found.way, found.instrument) == (Way.BETTER_INSTRUMENT, "micrometer")
    assert found.uncertainty == FINE.expanded


def test_letting_it_cool_comes_before_reading_again_and_that_before_another_instrument() -> None:
    now = COARSE
    assert settled_by(0.005, now, cold=FINE, readings=5, instruments=[("x", FINE)]).way is Way.LET_IT_COOL
    again = settled_by(0.005, now, cold=COARSE, readings=5, instruments=[("x", FINE)])
    assert (again.way, again.readings) == (Way.READ_AGAIN, 5)


def test_where_nothing_would_do_the_instructor_decides() -> None:
    found = settled_by(-0.0001, COARSE, cold=FINE, instruments=[("micrometer", FINE)])
    assert found.way is Way.INSTRUCTOR
    assert found.uncertainty == COARSE.expanded
