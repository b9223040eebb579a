"""The uncertainty sums against published figures (tests/outside/uncertainty.toml, nist-tn-1297-b1.csv)."""

import csv
import math
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fingertight.measure.temperature import Expansion, at_20_c, expansion_of, grown
from fingertight.measure.verdict import chance_good, guard_band
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import below, distance, factor
from fingertight.uncertainty.fit import straight_line
from fingertight.uncertainty.monte_carlo import of_formula
from fingertight.uncertainty.standard import combined, expanded, of_limits, of_scatter, of_swing

OUTSIDE = Path(__file__).parents[1] / "outside"
VALUES = {
    value["id"]: value for value in tomllib.loads((OUTSIDE / "uncertainty.toml").read_text(encoding="utf-8"))["value"]
}


def near(name: str) -> Any:
    value = VALUES[name]
    return pytest.approx(value["expect"], abs=value["tolerance"]["abs"])


def said(name: str) -> dict[str, Any]:
    inputs: dict[str, Any] = VALUES[name]["inputs"]
    return inputs


# -- coverage factors -----------------------------------------------------------------------------------------------


def t_table() -> list[tuple[float, float, float, str]]:
    """Degrees of freedom, share, factor, and the factor as printed, which says how far it is rounded."""
    lines = (OUTSIDE / "nist-tn-1297-b1.csv").read_text(encoding="utf-8").splitlines()[1:]
    rows = list(csv.DictReader(lines))
    return [
        (float(row["dof"]), float(share), float(printed), printed)
        for row in rows
        for share, printed in row.items()
        if share != "dof"
    ]


def test_every_coverage_factor_of_the_published_table_is_met() -> None:
    table = t_table()
    assert len(table) == 168
    # 35 degrees of freedom and 90 % are printed as 1.70 and are 1.690: the table's own slip.
    slips, wrong = {(35.0, 90.0)}, []
    for dof, percent, printed, text in table:
        # 68.27, 95.45 and 99.73 stand for one, two and three standard deviations (footnote a of the table).
        share = {68.27: math.erf(1 / 2**0.5), 95.45: math.erf(2 / 2**0.5), 99.73: math.erf(3 / 2**0.5)}.get(
            percent, percent / 100
        )
        half = 0.5 * 10.0 ** -len(text.partition(".")[2])
        if (dof, percent) not in slips and abs(factor(share, dof) - printed) > half + 1e-9:
            wrong.append((dof, percent, printed, factor(share, dof)))
    assert wrong == []


@pytest.mark.parametrize("name", ["k-normal-90", "k-normal-99"])
def test_a_normal_distribution_has_its_published_factors(name: str) -> None:
    assert factor(said(name)["coverage_percent"] / 100) == near(name)


# -- the worked examples of the GUM ---------------------------------------------------------------------------------


def end_gauge() -> Budget:
    """GUM H.1: the lines of table H.1, in nanometres."""
    s = said("gum-h1-length")
    d = combined([s["u_d_repeat_nm"], s["u_d_random_nm"], s["u_d_systematic_nm"]])
    d_dof = d**4 / (
        s["u_d_repeat_nm"] ** 4 / s["dof_repeat"]
        + s["u_d_random_nm"] ** 4 / s["dof_random"]
        + s["u_d_systematic_nm"] ** 4 / s["dof_systematic"]
    )
    length = s["l_s_nm"]
    return Budget(
        (
            Line("standard", s["u_l_s_nm"], dof=s["dof_l_s"]),
            Line("difference", d, dof=d_dof),
            Line(
                "expansion, difference", of_limits(s["halfwidth_delta_alpha"]), length * 0.1, dof=s["dof_delta_alpha"]
            ),
            Line(
                "temperature, difference",
                of_limits(s["halfwidth_delta_theta_C"]),
                -length * s["alpha_s_per_C"],
                dof=s["dof_delta_theta"],
            ),
        )
    )


def test_the_end_gauge_of_the_gum() -> None:
    s = said("gum-h1-length")
    assert (s["l_s_nm"] + s["d_mean_nm"]) / 1e6 == near("gum-h1-length")
    budget = end_gauge()
    assert budget.standard == near("gum-h1-u")
    assert math.floor(budget.dof) == VALUES["gum-h1-dof"]["expect"]
    assert factor(0.99, math.floor(budget.dof)) * budget.standard == near("gum-h1-U99")


def test_the_end_gauge_with_its_second_order_terms() -> None:
    """GUM H.1.7: two products of uncertainties that the first order leaves out, 11.7 nm and 1.7 nm."""
    s = said("gum-h1-u2")
    theta = combined([s["u_theta_mean_C"], of_swing(s["theta_cycle_halfwidth_C"])])
    more = [
        s["l_s_nm"] * of_limits(s["halfwidth_delta_alpha"]) * theta,
        s["l_s_nm"] * of_limits(s["halfwidth_alpha_s"]) * of_limits(s["halfwidth_delta_theta_C"]),
    ]
    assert combined([end_gauge().standard, *more]) == near("gum-h1-u2")


@pytest.mark.parametrize("quantity", ["R", "X", "Z"])
def test_correlated_readings_of_the_gum(quantity: str) -> None:
    """GUM H.2: voltage, current and phase hang together (r = −0.36, 0.86, −0.65); left out, R would be 0.19 unsure."""
    volt, amp, phase = 4.999, 19.661e-3, 1.04446
    size = {"R": volt / amp * math.cos(phase), "X": volt / amp * math.sin(phase), "Z": volt / amp}[quantity]
    turn = {"R": -volt / amp * math.sin(phase), "X": volt / amp * math.cos(phase), "Z": 0.0}[quantity]
    lines = (
        Line("voltage", 3.2e-3, size / volt),
        Line("current", 9.5e-6, -size / amp),
        Line("phase", 7.5e-4, turn),
    )
    budget = Budget(lines, {(0, 1): -0.36, (0, 2): 0.86, (1, 2): -0.65})
    expected = VALUES[f"gum-h2-{quantity}"]["expect"]
    assert size == pytest.approx(expected[0], abs=0.006)
    assert budget.standard == pytest.approx(expected[1], abs=0.006)
    if quantity == "R":
        assert Budget(lines).standard > 2 * budget.standard


def test_the_calibration_line_of_the_gum() -> None:
    s = said("gum-h3-slope")
    line = straight_line(s["t_C"], s["b_C"], s["t0_C"])
    assert line.intercept == near("gum-h3-intercept")
    assert line.slope == near("gum-h3-slope")
    value, unsure = line.at(30)
    assert value == near("gum-h3-b30")
    assert unsure == near("gum-h3-ub30")


def test_a_product_of_three_in_percent() -> None:
    s = said("gum-g41-u")
    budget = Budget(tuple(Line("", u, dof=dof) for u, dof in zip(s["u_percent"], s["dof"], strict=True)))
    assert budget.standard == near("gum-g41-u")
    assert budget.dof == near("gum-g41-dof")
    assert factor(0.95, math.floor(budget.dof)) * budget.standard == near("gum-g41-U95")


def test_limits_swings_and_the_doubt_in_a_scatter() -> None:
    s = said("gum-445-rect")
    assert of_limits((s["high_C"] - s["low_C"]) / 2) == near("gum-445-rect")
    assert of_swing(said("u-shaped")["halfwidth_C"]) == near("u-shaped")
    s = said("rect-7-10")
    assert of_limits((s["high"] - s["low"]) / 2) == near("rect-7-10")
    assert 100 * of_scatter(said("gum-e1-30")["readings"]) == near("gum-e1-30")
    assert 100 * of_scatter(said("gum-e1-5")["readings"]) == near("gum-e1-5")


@pytest.mark.parametrize("name", ["ea402-caliper-u", "npl-string-u"])
def test_budgets_of_other_guides(name: str) -> None:
    lines = tuple(Line(cause, size) for cause, size in said(name).items())
    assert Budget(lines).standard == near(name)


def test_the_calliper_of_ea_is_known_to_six_hundredths() -> None:
    s = said("ea402-caliper-U")
    assert expanded(s["u_um"], s["k"]) / 1000 == near("ea402-caliper-U")


def test_the_calibration_standard_of_eurachem() -> None:
    s = said("eurachem-a1-c")
    drawn = of_formula(
        lambda mass, purity, volume: 1000 * mass * purity / volume,
        [np.full(3, s[name]) for name in ("mass_mg", "purity", "volume_ml")],
    )
    assert drawn.mean == near("eurachem-a1-c")


# -- conformity -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["jcgm106-upper", "jcgm106-lower", "jcgm106-two-sided"])
def test_the_chance_of_being_within_the_limits(name: str) -> None:
    s = said(name)
    assert chance_good(s["measured"], s.get("lower_limit"), s.get("upper_limit"), s["u"]) == near(name)


@pytest.mark.parametrize("name", ["jcgm106-z-95", "jcgm106-z-99"])
def test_how_far_inside_is_sure_enough(name: str) -> None:
    assert distance(said(name)["conformance_probability"]) == near(name)


def test_guard_bands_keep_what_they_promise() -> None:
    assert 100 * (1 - below(2.0 * said("ilac-guard-U")["guard_band_in_U"])) == near("ilac-guard-U")
    assert guard_band(said("iso14253-guard")["conformance_probability"]) == near("iso14253-guard")


# -- warmth ---------------------------------------------------------------------------------------------------------


def test_what_is_warm_is_larger_by_the_published_coefficients() -> None:
    assert expansion_of("aluminium").per_c * 1e6 == near("alpha-aluminium")
    s = said("expand-differential")
    part, gauge = Expansion(s["alpha_part_per_C"]), Expansion(s["alpha_gauge_per_C"])
    read = s["length_mm"]
    assert read - at_20_c(read, part, gauge, s["temperature_C"]) == near("expand-differential")


def test_a_piston_grows_into_its_cylinder() -> None:
    s = said("piston-heat-gap")
    by_c = s["to_C"] - s["from_C"]
    bore = s["piston_mm"] + 2 * s["radial_clearance_mm"]
    warm = grown(bore, s["alpha_cylinder_per_C"], by_c) - grown(s["piston_mm"], s["alpha_piston_per_C"], by_c)
    assert warm / 2 == near("piston-heat-gap")


def test_a_budget_without_a_line_keeps_what_hangs_together() -> None:
    budget = Budget((Line("a", 1.0), Line("b", 2.0), Line("c", 2.0, -1.0)), {(1, 2): 1.0})
    assert budget.standard == pytest.approx(1.0)
    assert budget.without("a").standard == pytest.approx(0.0)
    assert replace(budget, correlations={}).standard == pytest.approx(3.0)
