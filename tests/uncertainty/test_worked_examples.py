"""Worked examples of other people, from inputs to printed results (tests/outside/worked-uncertainty.toml)."""

import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fingertight.measure.temperature import expansion_of
from fingertight.measure.verdict import Parts, risks
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import factor
from fingertight.uncertainty.monte_carlo import of_budget, of_formula
from fingertight.uncertainty.standard import combined, of_limits, of_product, of_swing, of_triangle
from fingertight.uncertainty.together import correlation_of, means_of, through

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "worked-uncertainty.toml").read_text("utf-8"))
DRAWS = 1_000_000


def drawn_normal(said: dict[str, Any], seed: int) -> list[Any]:
    chance = np.random.default_rng(seed)
    return [chance.normal(at, unsure, DRAWS) for at, unsure in zip(said["at"], said["standard"], strict=True)]


# -- budgets with degrees of freedom -------------------------------------------------------------------------------


def test_the_end_gauge_line_by_line() -> None:
    said = OUTSIDE["gum-h1"]
    d_causes = (said["repeat_dof"], said["random_dof"], said["systematic_dof"])
    d = Budget(tuple(Line("", standard, dof=dof) for standard, dof in d_causes))
    assert d.standard == pytest.approx(said["expect_u_d"], abs=0.05)
    # The GUM goes on with 9.7 for 9.684: 25.6 for what is 25.4.
    assert d.dof == pytest.approx(said["expect_dof_d"], abs=0.2)

    def length(*x: float) -> float:
        standard, d_nm, d_alpha, theta, alpha_s, d_theta = x
        return standard + d_nm - standard * (d_alpha * theta + alpha_s * d_theta)

    theta = combined([said["theta_u_c"], of_swing(said["theta_swing_c"])])
    _, budget = through(
        length,
        (said["length_nm"], 215.0, 0.0, said["theta_mean_c"], said["alpha_s_per_c"], 0.0),
        (
            Line("standard", said["standard_dof"][0], dof=said["standard_dof"][1]),
            Line("d", d.standard, dof=d.dof),
            Line("d alpha", of_limits(said["d_alpha_limits"]), dof=said["d_alpha_dof"]),
            Line("theta", theta),
            Line("alpha", of_limits(said["alpha_s_limits"])),
            Line("d theta", of_limits(said["d_theta_limits_c"]), dof=said["d_theta_dof"]),
        ),
    )
    by_name = {line.source: line for line in budget.lines}
    assert by_name["d theta"].part == pytest.approx(said["expect_part_d_theta"], abs=0.05)
    assert by_name["d alpha"].part == pytest.approx(said["expect_part_d_alpha"], abs=0.05)
    assert by_name["theta"].part == pytest.approx(0.0, abs=1e-6)
    assert budget.standard == pytest.approx(said["expect_u"], abs=0.5)
    assert math.floor(budget.dof) == said["expect_dof"]
    second = said["length_nm"] * of_product(of_limits(said["d_alpha_limits"]), theta)
    assert second == pytest.approx(11.7, abs=0.05), "GUM H.1.7 prints 11.7 nm"


def test_degrees_of_freedom_of_a_cause_that_is_known_and_one_that_is_not() -> None:
    said = OUTSIDE["course-dof"]
    budget = Budget((Line("few", said["standard"][0], dof=said["dof"]), Line("known", said["standard"][1])))
    assert budget.dof == pytest.approx(said["expect_dof"], abs=0.1)


def test_a_ratio_with_three_scatters() -> None:
    said = OUTSIDE["course-ratio"]
    causes = [Line("", u, dof=dof) for u, dof in zip(said["standard"], said["dof"], strict=True)]
    value, budget = through(lambda one, other, standard: one / other * standard, said["at"], causes)
    assert value == pytest.approx(said["expect"], abs=1e-4)
    assert budget.standard == pytest.approx(said["expect_u"], abs=1e-5)
    # The notes round on the way: 27.7 for what is 27.9.
    assert budget.dof == pytest.approx(said["expect_dof"], abs=0.5)
    assert factor(0.95, budget.dof) * budget.standard == pytest.approx(said["expect_U95"], abs=1e-4)


# -- what hangs together -------------------------------------------------------------------------------------------


def test_resistance_and_reactance_from_the_readings_themselves() -> None:
    said = OUTSIDE["gum-h2"]
    read = means_of(said["volt"], said["milliampere"], said["radian"])
    assert read.means == pytest.approx(said["expect_means"], abs=1e-6)
    for found, expected, half in zip(read.standard, said["expect_standard"], (5e-5, 5e-5, 5e-6), strict=True):
        assert found == pytest.approx(expected, abs=half)
    assert list(read.correlations.values()) == pytest.approx(said["expect_r"], abs=0.006)
    causes = [Line(name, u, dof=read.dof) for name, u in zip(("V", "I", "phase"), read.standard, strict=True)]
    formulas = (
        lambda volt, ma, phase: 1000 * volt / ma * math.cos(phase),
        lambda volt, ma, phase: 1000 * volt / ma * math.sin(phase),
        lambda volt, ma, phase: 1000 * volt / ma,
    )
    found = [through(formula, read.means, causes, read.correlations) for formula in formulas]
    assert [value for value, _ in found] == pytest.approx(said["expect_ohm"], abs=0.0005)
    # The GUM prints 0.295 for what is 0.2956.
    assert [budget.standard for _, budget in found] == pytest.approx(said["expect_u_ohm"], abs=0.0007)
    r, x, z = (budget for _, budget in found)
    assert [correlation_of(r, x), correlation_of(r, z), correlation_of(x, z)] == pytest.approx(
        said["expect_r_ohm"], abs=0.006
    )
    # Read side by side five times, R has the four degrees of freedom of five values of R (GUM H.2.4, second way).
    assert r.dof == pytest.approx(4)
    one_by_one = [formulas[0](*each) for each in zip(said["volt"], said["milliampere"], said["radian"], strict=True)]
    assert means_of(one_by_one).standard[0] == pytest.approx(r.standard, rel=5e-3)


# -- the guide for chemists: triangular and rectangular limits -----------------------------------------------------


def test_the_cadmium_standard() -> None:
    said = OUTSIDE["quam-a1"]
    causes = (
        Line("mass", said["mass"][1]),
        Line("purity", of_limits(said["purity"][1]), shape="rectangular"),
        Line("flask", of_triangle(said["flask_limits_ml"]), shape="triangular"),
        Line("filling", said["filling_ml"]),
        Line("warmth", of_limits(said["warmth_limits_ml"]), shape="rectangular"),
    )
    value, budget = through(
        lambda mass, purity, flask, filling, warmth: 1000 * mass * purity / (flask + filling + warmth),
        (said["mass"][0], said["purity"][0], 100.0, 0.0, 0.0),
        causes,
    )
    assert value == pytest.approx(said["expect"], abs=0.05)
    assert budget.standard == pytest.approx(said["expect_u"], abs=0.0005)
    assert [line.part for line in budget.lines] == pytest.approx(said["expect_parts"], rel=1e-4)


def test_the_sodium_hydroxide() -> None:
    said = OUTSIDE["quam-a2"]
    weighing = of_limits(said["weighing_limits_g"])
    molar = sum(count * mass for count, mass, _ in said["atoms"])
    causes = (
        Line("mass", combined([weighing, weighing])),
        Line("purity", of_limits(said["purity_limits"])),
        Line("molar mass", combined(count * of_limits(limits) for count, _, limits in said["atoms"])),
        Line("volume", combined([of_triangle(said["burette_limits_ml"]), said["warmth_ml"]])),
        Line("repeats", said["repeat"]),
    )
    value, budget = through(
        lambda mass, purity, molar_mass, volume, repeats: repeats * 1000 * mass * purity / (molar_mass * volume),
        (said["mass_g"], 1.0, molar, said["volume_ml"], 1.0),
        causes,
    )
    assert value == pytest.approx(said["expect"], abs=5e-7)
    assert budget.standard == pytest.approx(said["expect_u"], abs=5e-8)
    assert [line.part for line in budget.lines] == pytest.approx(said["expect_parts"], rel=1e-4)


# -- by drawing ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("example", ["jcgm101-normal", "jcgm101-rectangular"])
def test_four_causes_added(example: str) -> None:
    said = OUTSIDE[example]
    budget = Budget(tuple(Line(f"X{number}", 1.0, shape=said["shape"]) for number in range(4)))
    for shortest in (False, True):
        drawn = of_budget(budget, 101, DRAWS, share=0.95, shortest=shortest)
        assert drawn.standard == pytest.approx(said["expect_u"], abs=0.005)
        assert (-drawn.low, drawn.high) == pytest.approx((said["expect_end_95"],) * 2, abs=0.05 if shortest else 0.015)


def test_a_logarithm_leans_and_the_shortest_interval_leans_with_it() -> None:
    said = OUTSIDE["npl-log"]
    middle, half = (said["low"] + said["high"]) / 2, (said["high"] - said["low"]) / 2
    slope = Line("x", of_limits(half), 1 / middle)
    assert math.log(middle) == pytest.approx(said["expect_first_order"], abs=0.0005)
    assert slope.part == pytest.approx(said["expect_first_order_u"], abs=0.0005)
    drawn_x = np.random.default_rng(11).uniform(said["low"], said["high"], DRAWS)
    drawn = of_formula(np.log, [drawn_x], share=0.95, shortest=True)
    assert (drawn.mean, drawn.standard) == pytest.approx((said["expect_mean"], said["expect_u"]), abs=0.002)
    assert (drawn.low, drawn.high) == pytest.approx(said["expect_shortest_95"], abs=0.005)
    even = of_formula(np.log, [drawn_x], share=0.95)
    assert even.high - even.low > drawn.high - drawn.low


def test_the_expansion_of_a_bar_and_its_uncertainty() -> None:
    said = OUTSIDE["tn1900-e13"]
    causes = [Line("", u) for u in said["standard"]]
    value, budget = through(lambda l0, t0, l1, t1: (l1 - l0) / (l0 * (t1 - t0)), said["at"], causes)
    assert value == pytest.approx(said["expect"], abs=0.0001e-5)
    assert budget.standard == pytest.approx(said["expect_u"], abs=0.005e-6)


def test_the_falling_ball() -> None:
    said = OUTSIDE["tn1900-e3"]

    def viscosity(*x: Any) -> Any:
        of_calibration, t_m, rho_m, rho_c, t_c, rho_b = x
        return of_calibration * t_m * (rho_b - rho_m) / (t_c * (rho_b - rho_c))

    assert viscosity(*said["at"]) == pytest.approx(said["expect_first_order"], abs=0.005)
    drawn = of_formula(viscosity, drawn_normal(said, 3), share=0.95)
    assert drawn.mean == pytest.approx(said["expect_mean"], abs=0.01)
    assert drawn.standard == pytest.approx(said["expect_u"], abs=0.01)
    assert (drawn.low, drawn.high) == pytest.approx(said["expect_interval_95"], abs=0.02)


def test_a_constant_of_nature() -> None:
    said = OUTSIDE["nist-um-10"]

    def sigma(h: Any, gas: Any, rydberg: Any, mass: Any, alpha: Any) -> Any:
        above = 32 * math.pi**5 * h * gas**4 * rydberg**4
        return above / (15 * mass**4 * 0.001**4 * 299792458**6 * alpha**8)

    value, budget = through(sigma, said["at"], [Line("", u) for u in said["standard"]])
    assert value == pytest.approx(said["expect"], abs=0.00001e-8)
    assert budget.standard == pytest.approx(said["expect_u"], abs=0.01e-13)
    drawn = of_formula(sigma, drawn_normal(said, 10), share=0.99)
    assert (drawn.low, drawn.high) == pytest.approx(said["expect_interval_99"], abs=0.00001e-8)


def test_a_size_and_an_angle_near_nothing_where_the_first_order_fails() -> None:
    said = OUTSIDE["jcgm102-magnitude"]
    causes = [Line("re", said["standard"]), Line("im", said["standard"])]
    # Slopes are found by trying one u to either side, which is not the slope where a formula bends so; here it is.
    slopes = (Line("re", said["standard"], 0.0), Line("im", said["standard"], 1 / said["at"][0]))
    assert Budget(slopes).standard == pytest.approx(said["expect_first_order_u"][1], abs=0.0005)
    assert through(lambda re, im: re, said["at"], causes)[1].standard == pytest.approx(said["expect_first_order_u"][0])
    inputs = drawn_normal({"at": said["at"], "standard": [said["standard"]] * 2}, 102)
    drawn = of_formula(np.hypot, inputs)
    assert (drawn.mean, drawn.standard) == pytest.approx((said["expect_mean"], said["expect_u"]), abs=0.0005)
    angle = of_formula(lambda re, im: np.arctan2(im, re), inputs)
    assert angle.standard == pytest.approx(said["expect_u_angle"], abs=0.005)


def test_two_flat_causes_need_a_smaller_factor_than_two() -> None:
    said = OUTSIDE["ea402-s10"]
    flat = tuple(Line("", of_limits(limits), shape="rectangular") for limits in said["flat_um"])
    budget = Budget((*flat, *(Line("", u) for u in said["normal_um"])))
    drawn = of_budget(budget, 410, DRAWS, share=0.95)
    assert (drawn.high - drawn.low) / 2 / drawn.standard == pytest.approx(said["expect_k_95"], abs=0.01)


# -- deciding over many parts --------------------------------------------------------------------------------------


@pytest.mark.parametrize("case", OUTSIDE["deaver"]["cases"], ids=str)
def test_false_accepts_and_false_rejects_of_normal_parts(case: dict[str, float]) -> None:
    limit = case["limit"]
    guard = limit * (1 - case.get("guard", 1.0))
    over = risks(limit, (0.0, 1.0), 1 / case["ratio"], guard, smallest=-limit)
    if "accepted" in case:
        assert over.passed_though_worn == pytest.approx(case["accepted"], abs=case["abs"])
    if "rejected" in case:  # there what is not accepted is rejected
        rejected = over.refused_though_good + over.undecided_though_good
        assert rejected == pytest.approx(case["rejected"], abs=case["abs"])


def test_ball_bearings_that_lean_to_one_side() -> None:
    said = OUTSIDE["jcgm106-bearings"]
    scale, shape = said["scale_um"], said["shape"]

    def density(size: float) -> float:
        return size ** (shape - 1) * math.exp(-size / scale) / (math.factorial(shape - 1) * scale**shape)

    parts, largest, standard = Parts(density, 0.0, 6.0), said["largest_um"], said["standard_um"]
    over = risks(largest, parts, standard)
    worn = over.passed_though_worn + over.undecided_though_worn
    assert over.passed_though_worn == pytest.approx(said["expect_passed"], abs=0.0005)
    # With hardly any uncertainty none of the worn pass: they are all that lie past the limit.
    sure = risks(largest, parts, 1e-6, guard=-largest)
    assert sure.passed_though_worn == pytest.approx(said["expect_worn"], abs=0.0005)
    assert worn < said["expect_worn"]
    guarded = risks(largest, parts, standard, guard=largest - said["guarded_limit_um"])
    assert guarded.passed_though_worn == pytest.approx(said["expect_passed_guarded"], abs=0.00005)


# -- how materials grow --------------------------------------------------------------------------------------------


def test_materials_grow_as_the_textbook_says_and_its_alloys_lie_within_our_limits() -> None:
    said = OUTSIDE["callister-b6"]
    for material, expected in said["expect"].items():
        assert expansion_of(material).per_c * 1e6 == pytest.approx(expected), material
    for material, alloys in (("steel", said["steels"]), ("aluminium", said["aluminium_alloys"])):
        grows = expansion_of(material)
        assert all(abs(alloy * 1e-6 - grows.per_c) <= grows.limits_per_c for alloy in alloys), material
