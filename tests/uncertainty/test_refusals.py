"""What the uncertainty sums refuse to work out, and what they say of nothing."""

import math

import pytest

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import factor
from fingertight.uncertainty.fit import straight_line
from fingertight.uncertainty.monte_carlo import of_budget
from fingertight.uncertainty.standard import pooled, scatter
from fingertight.uncertainty.together import means_of, through


def test_a_budget_without_lines_is_sure() -> None:
    nothing = Budget(())
    assert (nothing.standard, nothing.dof, nothing.coverage, nothing.expanded) == (0.0, math.inf, 2.0, 0.0)
    assert of_budget(nothing, 1, 100).standard == 0.0


def test_scatter_of_nothing_has_no_degrees_of_freedom_and_does_no_harm() -> None:
    budget = Budget((Line("scatter", 0.0, dof=2), Line("step", 0.003)))
    assert budget.dof == math.inf
    assert budget.coverage == 2.0


def test_causes_that_cancel_leave_no_doubt_and_no_division_by_it() -> None:
    budget = Budget((Line("a", 1.0, dof=4), Line("b", 1.0, -1.0, dof=4)), {(0, 1): 1.0})
    assert (budget.standard, budget.dof, budget.expanded) == (0.0, math.inf, 0.0)


def test_causes_that_hang_together_count_as_one_with_the_fewest_degrees_of_freedom() -> None:
    lines = (Line("a", 1.0, dof=4), Line("b", 1.0, dof=9), Line("c", 1.0))
    together = Budget(lines, {(0, 1): 0.5})
    # By hand: (1 + 1 + 2 · 0.5 + 1)² / ((1 + 1 + 2 · 0.5)² / 4).
    assert together.dof == pytest.approx(16 / (9 / 4))


@pytest.mark.parametrize(("share", "dof"), [(0.0, 4), (1.0, 4), (0.95, 0), (0.95, -1)])
def test_there_is_no_factor_for_a_share_that_is_none_or_without_degrees_of_freedom(share: float, dof: float) -> None:
    with pytest.raises(ValueError, match=r"share|degrees of freedom"):
        factor(share, dof)


def test_one_reading_does_not_scatter() -> None:
    with pytest.raises(ValueError, match="two or more"):
        scatter([68.1])
    assert pooled([[68.1], [], [68.2]]) == (0.0, 0)


def test_thirteen_equal_leading_digits_lose_nothing() -> None:
    assert scatter([1e12 + 0.1, 1e12 + 0.2, 1e12 + 0.3]) == pytest.approx(0.1, rel=1e-3)
    assert pooled([[1e12 + 0.1, 1e12 + 0.3]])[0] == pytest.approx(0.2 / math.sqrt(2), rel=1e-3)


def test_pooling_two_at_a_time_is_what_the_sum_of_squares_says() -> None:
    groups = [[1.0, 1.3], [2.0, 2.2, 2.9], [5.0]]
    by_hand = (0.3**2 / 2 + 2 * scatter(groups[1]) ** 2) / 3
    assert pooled(groups) == (pytest.approx(math.sqrt(by_hand)), 3)


def test_a_line_wants_three_readings_at_two_places() -> None:
    with pytest.raises(ValueError, match="three readings"):
        straight_line([1, 2], [1, 2])
    with pytest.raises(ValueError, match="at one place"):
        straight_line([1, 1, 1], [1, 2, 3])


def test_what_was_read_side_by_side_has_as_many_of_each() -> None:
    with pytest.raises(ValueError, match="as many readings"):
        means_of([1.0, 2.0], [1.0])
    assert means_of([1.0, 1.0], [1.0, 2.0]).correlations == {(0, 1): 0.0}


def test_a_value_known_exactly_adds_nothing() -> None:
    value, budget = through(lambda a, b: a * b, (2.0, 3.0), (Line("a", 0.1), Line("b", 0.0)))
    assert (value, budget.standard) == (6.0, pytest.approx(0.3))


def test_flat_causes_that_hang_together_in_part_want_a_formula() -> None:
    lines = (Line("a", 1.0, shape="rectangular"), Line("b", 1.0, shape="rectangular"))
    with pytest.raises(ValueError, match="use of_formula"):
        of_budget(Budget(lines, {(0, 1): 0.5}), 1, 100)
    whole = of_budget(Budget(lines, {(0, 1): 1.0}), 1, 50_000)
    assert whole.standard == pytest.approx(2.0, rel=0.02)
    assert whole.high < 2 * math.sqrt(3), "one flat cause, twice as wide"


def test_normal_causes_that_hang_together_in_part_spread_as_the_budget_says() -> None:
    budget = Budget((Line("a", 1.0), Line("b", 2.0, -1.0), Line("c", 0.5)), {(0, 1): 0.6})
    assert of_budget(budget, 5, 200_000).standard == pytest.approx(budget.standard, rel=0.01)
