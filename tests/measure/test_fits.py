"""Limits and fits, warm clearances, shims and run-out against published values: tests/outside/fits.toml."""

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.measure.workshop.clearance import ClearanceCard
from fingertight.measure.fits.iso_286 import GRADES, LETTERS, Fit, fit_said, zone
from fingertight.measure.fits.round import middle_of, run_out
from fingertight.measure.fits.shims import shims_for
from fingertight.measure.fits.wear import (
    most_end_play,
    wear_by_length,
)
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.tables import rows
from fingertight.measure.temperature import gap_when_warm
from fingertight.measure.verdict import Word, judged
from fingertight.quantity import NotUnderstood, converted
from fingertight.setting.gaps.rings import gap_growth_mm

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "fits.toml").read_text("utf-8"))
Case = dict[str, Any]


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case["id"])


def test_every_value_says_where_it_is_from_and_how_it_was_read() -> None:
    values = [case for topic in OUTSIDE.values() for case in topic]
    assert len(values) >= 200
    assert len({case["source"] for case in values}) >= 20
    assert all(case["how"] for case in values)


@cases("zone")
def test_a_hole_or_a_shaft_lies_where_the_standard_has_it(case: Case) -> None:
    found = zone(case["nominal_mm"], case["name"])
    assert [found.lower_um, found.upper_um] == case["um"]


@cases("grades")
def test_a_hole_h_is_as_wide_as_the_published_grade(case: Case) -> None:
    assert [zone(case["to_mm"], f"H{grade}").upper_um for grade in GRADES] == case["um"]


@cases("shafts")
def test_a_shaft_begins_where_the_published_deviation_is(case: Case) -> None:
    for letter, deviation in case["um"].items():
        found = zone(case["to_mm"], f"{letter}6")
        assert (found.upper_um if letter < "h" else found.lower_um) == deviation, letter


@cases("lower")
def test_a_hole_d_to_g_begins_where_the_published_deviation_is(case: Case) -> None:
    found = {letter: zone(case["to_mm"], f"{letter}8").lower_um for letter in case["um"]}
    assert found == case["um"]


@cases("holes")
def test_a_hole_k_to_s_stands_higher_in_fine_grades_by_the_published_delta(case: Case) -> None:
    for letter, upper in case["upper_um"].items():
        for grade, delta in zip((5, 6, 7, 8), case["delta_um"], strict=True):
            raised = grade <= (8 if letter in "KMN" else 7)
            if (letter, grade) == ("M", 6) and 250 < case["to_mm"] <= 315:
                continue  # the special case has a row of its own
            assert zone(case["to_mm"], f"{letter}{grade}").upper_um == upper + (delta if raised else 0), (letter, grade)


@cases("end")
def test_one_end_of_a_zone_is_where_it_was_corrected_to(case: Case) -> None:
    found = zone(case["nominal_mm"], case["name"])
    assert {"lower": found.lower_um, "upper": found.upper_um}[case["end"]] == case["um"]


@cases("pair")
def test_a_pair_has_the_play_that_is_published(case: Case) -> None:
    hole, shaft = fit_said(case["fit"])
    fit = Fit(hole, shaft)
    assert [fit.least_play_um, fit.most_play_um] == case["play_um"]
    assert fit.kind == case["kind"]


@cases("bore")
def test_a_bore_is_as_worn_as_the_manual_s_rule_has_it(case: Case) -> None:
    readings = [
        (str(depth), str(side), size) for depth, row in enumerate(case["bores_mm"]) for side, size in enumerate(row)
    ]
    flat = [size for _, _, size in readings]
    found = {"wear": max(flat) - min(flat), "round": out_of_round(readings), "taper": taper(readings)}
    assert found[case["what"]] == pytest.approx(case["expect_mm"], abs=1e-6)


@cases("run_out")
def test_run_out_is_both_readings_of_the_dial_together(case: Case) -> None:
    assert run_out(case["dial"]) == pytest.approx(case["expect"], abs=1e-9)


@cases("warm")
def test_a_warm_piston_has_the_clearance_the_textbook_has(case: Case) -> None:
    by_c = case["to_c"] - case["from_c"]
    bore = case["piston_mm"] + 2 * case["radial_mm"]
    left = gap_when_warm(bore, case["piston_mm"], case["cylinder_per_c"], case["piston_per_c"], by_c=by_c)
    assert left / 2 == pytest.approx(case["expect_mm"], abs=case["abs"])


@cases("unit")
def test_a_size_in_one_unit_is_what_the_manual_has_in_the_other(case: Case) -> None:
    found = [converted(size, case["unit"], case["in"]) for size in case["sizes"]]
    assert found == pytest.approx(case["expect"], abs=case["abs"])


@cases("allowed")
def test_past_new_is_still_allowed_up_to_the_limit_and_no_further(case: Case) -> None:
    assert judged(case["size"], *case["new"]).word is Word.WORN
    assert (judged(case["size"], None, case["limit"]).word is Word.GOOD) == case["expect"]


@cases("ring_gap")
def test_a_ring_gap_opens_as_the_bore_wears(case: Case) -> None:
    assert gap_growth_mm(case["bore_growth_mm"]) == pytest.approx(case["expect_mm"], abs=case["abs"])


@cases("rule")
def test_a_general_rule_allows_the_wear_the_manual_has(case: Case) -> None:
    assert wear_by_length(case["per_length"], case["length_mm"]) == pytest.approx(case["expect_mm"], abs=case["abs"])


@cases("end_play")
def test_end_play_may_go_so_far_over_the_high_limit_of_new(case: Case) -> None:
    assert most_end_play(tuple(case["new_in"]), case["over_in"]) == pytest.approx(case["expect_in"], abs=case["abs"])


@cases("clearance")
def test_a_bore_less_its_piston_is_the_published_clearance(case: Case) -> None:
    card = sum_named("clearance").ask({"outer": case["outer"], "inner": case["inner"]})
    assert isinstance(card, ClearanceCard)
    assert card.judged.size_mm == pytest.approx(case["expect_mm"], abs=1e-6)


def test_every_width_is_what_the_formula_of_its_grade_gives_within_its_rounding() -> None:
    """ISO 286-1: i = 0.45 ∛D + 0.001 D, D the geometric mean of the step; 7, 10, 16 … 400 i.

    Up to 3 mm it is rounded up more, and the standard’s own table is what counts.
    """
    times = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160, 13: 250, 14: 400}
    over = 3.0
    for row in rows("iso-286-grades.csv")[1:]:
        to = float(row["to_mm"])
        middle = math.sqrt(over * to)
        unit = 0.45 * middle ** (1 / 3) + 0.001 * middle
        for grade in GRADES:
            assert float(row[f"IT{grade}"]) == pytest.approx(times[grade] * unit, rel=0.06, abs=0.8), (to, grade)
        over = to


@given(st.floats(0.5, 500), st.sampled_from(LETTERS[:5]), st.sampled_from(range(5, 10)))
def test_holes_to_h_mirror_their_shafts_and_every_zone_is_as_wide_as_its_grade(
    size: float, letter: str, grade: int
) -> None:
    shaft, hole = zone(size, f"{letter}{grade}"), zone(size, f"{letter.upper()}{grade}")
    assert (hole.lower_um, hole.upper_um) == pytest.approx((-shaft.upper_um, -shaft.lower_um))
    assert shaft.upper_um - shaft.lower_um == zone(size, f"h{grade}").upper_um - zone(size, f"h{grade}").lower_um


@given(st.floats(3.01, 500), st.sampled_from(("k", "m", "n", "p", "r", "s")))
def test_a_pair_turned_round_to_a_shaft_of_h_has_the_same_play(size: float, letter: str) -> None:
    """ISO 286-1, the rule for Δ: H7 with a shaft of grade 6 and that letter’s hole of grade 7 with h6 fit alike."""
    by_hole = Fit(zone(size, "H7"), zone(size, f"{letter}6"))
    by_shaft = Fit(zone(size, f"{letter.upper()}7"), zone(size, "h6"))
    assert by_hole.most_play_um == pytest.approx(by_shaft.most_play_um)
    assert by_hole.least_play_um == pytest.approx(by_shaft.least_play_um)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("25", "is no fit"),
        ("25 x7", "is no tolerance here"),
        ("25 H3", "grades 5 to 14 are here"),
        ("25 H7/F7", "names two holes"),
        ("25 H7 g6 f7", "names 3 of them"),
        ("600 H7", "sizes over 0 up to 500 mm"),
        ("25 Hg7", "is no tolerance here"),
        ("25 K9", "K is there up to grade 8"),
    ],
)
def test_what_is_no_fit_is_a_sentence(text: str, says: str) -> None:
    with pytest.raises(NotUnderstood, match=says):
        fit_said(text)


def test_a_shim_alone_is_taken_before_two_that_do_the_same_and_none_where_none_is_wanted() -> None:
    assert shims_for(0.47, [0.1, 0.15, 0.2, 0.3], (0.05, 0.25)).shims == (0.3,)
    assert shims_for(0.15, [0.1, 0.2], (0.05, 0.25)).shims == ()
    assert shims_for(0.55, [0.2], (0.05, 0.25)).shims == (0.2, 0.2)


@given(st.floats(0, 0.5), st.floats(0, 359), st.integers(6, 24))
def test_a_shaft_that_is_bent_is_found_as_far_and_as_turned_as_it_was_bent(
    off: float, towards: float, count: int
) -> None:
    readings = [0.2 + off * math.cos(2 * math.pi * nth / count - math.radians(towards)) for nth in range(count)]
    found = middle_of(readings)
    assert found.off == pytest.approx(off, abs=1e-9)
    assert found.left == pytest.approx(0.0, abs=1e-9)
    if off > 1e-6:
        turned = abs(found.towards_deg - towards) % 360
        assert min(turned, 360 - turned) < 1e-3


def test_a_length_or_a_range_that_cannot_be_has_no_rule() -> None:
    with pytest.raises(ValueError, match="more than 0"):
        wear_by_length(0.0005, 0)
    with pytest.raises(ValueError, match="from the smaller to the larger"):
        most_end_play((0.005, 0.003), 0.005)


def test_d_to_p_have_one_deviation_over_a_whole_step_however_it_is_divided_for_r_and_s() -> None:
    """ISO 286-1: only r and s (and what lies beyond) divide the steps over 50 mm; h is the nominal size itself."""
    steps = [float(row["to_mm"]) for row in rows("iso-286-grades.csv")]
    table = {float(row["to_mm"]): row for row in rows("iso-286-shafts.csv")}
    assert set(steps) <= set(table)
    for to, row in table.items():
        whole = table[min(step for step in steps if step >= to)]
        assert {letter: row[letter] for letter in "defgkmnp"} == {letter: whole[letter] for letter in "defgkmnp"}, to
        assert row["h"] == "0"
