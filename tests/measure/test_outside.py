"""Units, rounding, uncertainty and verdicts against published values (tests/outside/measure.toml)."""

import statistics
import tomllib
from pathlib import Path
from typing import Any

import pytest

from fingertight.measure.verdict import judged
from fingertight.quantity import converted, in_house, read_number, shown
from fingertight.uncertainty.standard import combined, expanded, of_limits

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "measure.toml").read_text("utf-8"))
Case = dict[str, Any]


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case["source"].split(",")[0])


def near(case: Case) -> Any:
    return pytest.approx(case["expect"], rel=case.get("rel"), abs=case.get("abs"))


@cases("conversion")
def test_a_torque_converts_as_published(case: Case) -> None:
    assert converted(case["value"], case["from"], case["to"]) == near(case)
    assert in_house(case["value"], case["from"]) == near(case)


@cases("inches")
def test_a_spanner_typed_as_a_fraction_of_an_inch_is_as_wide_as_published(case: Case) -> None:
    assert converted(read_number(case["typed"]), "in", "mm") == pytest.approx(case["expect_mm"], abs=1e-9)


@cases("rounding")
def test_a_tie_goes_to_even_on_the_decimal_text(case: Case) -> None:
    assert shown(case["value"], case["step"]) == case["expect"]


@cases("limits")
def test_limits_alone_give_the_published_standard_uncertainty(case: Case) -> None:
    assert of_limits((case["high"] - case["low"]) / 2) == near(case)


@cases("together")
def test_standard_uncertainties_combine_as_published(case: Case) -> None:
    assert combined(case["standard"]) == near(case)


@cases("expanded")
def test_an_expanded_uncertainty_is_as_published(case: Case) -> None:
    assert expanded(case["standard"], case["coverage"]) == near(case)


@cases("verdict")
def test_a_verdict_is_given_only_when_the_published_rule_proves_it(case: Case) -> None:
    verdict = judged(case["value"], case.get("smallest"), case.get("largest"), case["uncertainty"])
    assert verdict.word.value == case["expect"], case["why"]


def test_with_k_of_two_a_good_size_right_at_its_guard_band_is_wrong_in_one_of_forty_at_most() -> None:
    # ILAC-G8:09/2019: a guard band of one expanded uncertainty (k = 2) leaves at most 2.5 % false acceptance.
    # 2.5 is rounded: two standard uncertainties leave 2.28 %.
    standard = 0.004
    verdict = judged(10.0 - expanded(standard), None, 10.0, expanded(standard))
    assert verdict.word.value == "good"
    risk = 1 - statistics.NormalDist(verdict.worst, standard).cdf(10.0)
    assert risk == pytest.approx(0.025, abs=0.003)
