"""Gaps, cylinder, drive and oil against published values: tests/outside/setting.toml names the sources."""

import math
import tomllib
from pathlib import Path
from typing import Any, cast

import pytest

from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.setting.cylinder.compression import CompressionCard
from fingertight.cards.sums.setting.cylinder.leakdown import LeakdownCard
from fingertight.cards.sums.setting.drive.clutch import ClutchCard
from fingertight.cards.sums.setting.drive.ratio import RatioCard
from fingertight.cards.sums.setting.gaps.coil import CoilCard
from fingertight.cards.sums.setting.gaps.feeler.card import FeelerCard
from fingertight.cards.sums.setting.gaps.ring_gap import RingGapCard
from fingertight.quantity import converted
from fingertight.setting.cylinder.atmosphere import SEA_LEVEL_BAR, pressure_bar
from fingertight.setting.cylinder.cranking import gauge_bar
from fingertight.setting.cylinder.volumes import Cylinder, disc_ml, milled, otto_efficiency
from fingertight.setting.drive.chain import centre_mm, chain_named, pitch_circle_mm, pitches, worn_at
from fingertight.setting.drive.clutch import Clutch
from fingertight.setting.drive.gears import Stage, Train, hunts, meet_again
from fingertight.setting.drive.grades import iso_vg, sae
from fingertight.setting.gaps.rings import bore_growth_mm, gap_growth_mm
from fingertight.setting.gaps.rocker import change_mm, turn_deg
from fingertight.setting.gaps.said import range_said

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "setting.toml").read_text("utf-8"))
Case = dict[str, Any]
INCH_OF_MERCURY_BAR = 0.0338639


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case["source"].split(",")[0])


def near(case: Case, key: str = "expect") -> Any:
    return pytest.approx(case[key], abs=case.get("abs", 1e-9))


def asked(name: str, **said: object) -> Any:
    return sum_named(name).ask({field.replace("_", "-"): str(text) for field, text in said.items()})


def test_there_are_more_than_a_hundred_values_from_many_sources_each_saying_how_it_was_read() -> None:
    rows = [row for topic in OUTSIDE.values() for row in topic]
    assert len(rows) >= 150
    assert len({row["source"] for row in rows}) >= 40
    assert all(row["how"] for row in rows)
    from_memory = [row for row in rows if row["how"] == "from memory"]
    assert len(from_memory) < 10


@cases("pair")
def test_a_gap_in_inches_is_what_the_manual_has_in_millimetres(case: Case) -> None:
    ends = range_said(f"{case['inch'][0]} to {case['inch'][-1]} in", "")[:2]
    assert ends == pytest.approx((case["mm"][0], case["mm"][-1]), abs=case["abs"])


@cases("coil_range")
def test_the_usual_coil_gap_is_the_trade_s(case: Case) -> None:
    card = cast(CoilCard, asked("coil", gap="0.25 mm"))
    assert card.range_is_usual
    assert (card.least_mm, card.most_mm) == (near(case, "mm"), near(case, "mm"))


@cases("go_no_go")
def test_one_leaf_that_goes_and_one_that_does_not_are_the_manual_s_setting(case: Case) -> None:
    said = {"reading": f"{case['goes']} in goes, {case['stops']} in does not", "leaf_error": "0"}
    card = cast(FeelerCard, asked("feeler", **said, range=f"{case['goes']} to {case['stops']} in"))
    assert card.middle_mm == pytest.approx(case["middle"] * 25.4)
    assert card.verdict == "good"


@cases("ring_verdict")
def test_a_ring_gap_is_allowed_or_not_as_the_manual_has_it(case: Case) -> None:
    card = cast(RingGapCard, asked("ring-gap", gaps=case["gap"], new=case["new"], max=case["max"], step="0.02 mm"))
    assert card.is_no is not case["good"]
    assert card.verdict == ("larger than new, still good" if case["good"] else "worn")


@cases("ring_growth")
def test_a_ring_gap_opens_as_fast_as_published(case: Case) -> None:
    assert gap_growth_mm(case["bore"]) == near(case, "gap")
    assert bore_growth_mm(gap_growth_mm(case["bore"])) == pytest.approx(case["bore"])


@cases("screw")
def test_an_adjusting_screw_moves_the_gap_as_published(case: Case) -> None:
    pitch_mm = 25.4 / case["per_inch"]
    assert change_mm(case["turn"], pitch_mm) / 25.4 == near(case, "change")
    assert turn_deg(change_mm(case["turn"], pitch_mm), pitch_mm) == pytest.approx(case["turn"])


@cases("swept")
def test_a_cylinder_sweeps_what_is_published(case: Case) -> None:
    said = {name: f"{case[name]} {case['unit']}" for name in ("bore", "stroke")}
    chamber = disc_ml(converted(case["bore"], case["unit"], "mm"), converted(case["stroke"], case["unit"], "mm")) / 8
    card = cast(CompressionCard, asked("compression", **said, chamber=chamber, cylinders=case["cylinders"]))
    volume = card.all_swept_ml / (16.387064 if case["unit"] == "in" else 1)
    assert volume == near(case)


@cases("disc")
def test_gasket_and_deck_hold_what_is_published(case: Case) -> None:
    size = converted(1, case["unit"], "mm")
    found = disc_ml(case["diameter"] * size, case["height"] * size)
    assert found / (16.387064 if case["unit"] == "in" else 1) == near(case)


@cases("ratio")
def test_volumes_give_the_published_ratio(case: Case) -> None:
    # A bore and a stroke that sweep so much; the ratio knows volumes only.
    stroke = case["swept"] * 1000 / (math.pi / 4 * 100**2)
    chamber, *others = case["clearance"]
    assert Cylinder(100, stroke, chamber, crown_ml=sum(others)).ratio == near(case)


@cases("milled")
def test_a_milled_head_holds_less_and_compresses_more_as_published(case: Case) -> None:
    # In inches throughout: 1 in² times 1 in is 1 in³, where the formula has mm² · mm / 1000.
    before = Cylinder(100, case["swept"] * 1000 / (math.pi / 4 * 100**2), case["chamber"], crown_ml=case["others"])
    after = milled(before, case["by"], case["face"] * 1000)
    assert after.chamber_ml == pytest.approx(case["chamber_after"], abs=0.05)
    assert after.ratio == near(case)


@cases("otto")
def test_the_otto_cycle_has_its_published_efficiency(case: Case) -> None:
    assert otto_efficiency(case["ratio"]) == near(case)


@cases("cranked")
def test_compression_gives_the_published_pressure(case: Case) -> None:
    gauge = gauge_bar(case["inlet"], case["ratio"], case["exponent"])
    if "gauge" in case:
        assert gauge == near(case, "gauge")
    else:
        assert gauge + case["inlet"] == near(case, "absolute")


@cases("altitude_reading")
def test_a_reading_of_the_sea_is_at_altitude_what_the_letter_says(case: Case) -> None:
    sea = converted(case["sea_psi"], "psi", "bar")
    squeezed = (sea + SEA_LEVEL_BAR) / SEA_LEVEL_BAR
    here = gauge_bar(pressure_bar(case["feet"] * 0.3048), squeezed, 1.0)
    assert converted(here, "bar", "psi") == near(case)


@cases("atmosphere")
def test_the_air_has_its_published_pressure_at_an_altitude(case: Case) -> None:
    bar = pressure_bar(case["feet"] * 0.3048)
    assert (converted(bar, "bar", "psi") if case["unit"] == "psi" else bar / INCH_OF_MERCURY_BAR) == near(case)


@cases("leak")
def test_a_cylinder_leaks_the_published_share(case: Case) -> None:
    card = cast(LeakdownCard, asked("leakdown", cylinder=f"{case['cylinder']} psi", supply=f"{case['supply']} psi"))
    assert card.lost == pytest.approx(case["expect"])


@cases("clutch_torque")
def test_power_at_a_speed_is_the_published_torque(case: Case) -> None:
    clutch = Clutch(4, 1866, 75, 200, 0.3, 552.5)
    torque = clutch.torque_nm(case["per_min"]) / clutch.power_kw(case["per_min"]) * case["kw"]
    assert torque == near(case)


@cases("clutch_mass")
def test_shoes_of_the_published_mass_carry_the_power_asked_for(case: Case) -> None:
    omega = case["per_min"] * math.tau / 60
    spring = case["expect"] * (case["engages"] * omega) ** 2 * case["radius"] / 1000
    card = cast(
        ClutchCard,
        asked(
            "clutch",
            shoes=case["shoes"],
            mass=f"{case['expect']} kg",
            radius=case["radius"],
            drum=2 * case["drum_radius"],
            friction=case["friction"],
            spring=f"{spring} N",
            speed=case["per_min"],
        ),
    )
    assert card.engages_per_min == pytest.approx(case["engages"] * case["per_min"])
    assert card.asked is not None
    assert card.asked.power_kw == pytest.approx(case["kw"], rel=case["abs"] / case["expect"] + 1e-4)


@cases("clutch_power")
def test_a_clutch_with_travel_and_stiff_springs_carries_what_is_published(case: Case) -> None:
    clutch = Clutch(case["shoes"], case["mass"], case["radius"], case["drum"], case["friction"], case["spring"],
                    case["rate"], case["travel"])  # fmt: skip
    # The answer key rounds ω to 41.89.
    assert clutch.press_n(case["per_min"]) == pytest.approx(case["press"], abs=0.3)
    assert clutch.torque_nm(case["per_min"]) == pytest.approx(case["torque"], abs=0.1)
    assert clutch.power_kw(case["per_min"]) == pytest.approx(case["kw"], abs=0.005)


@cases("clutch_moves")
def test_shoes_leave_their_stops_at_the_published_speed(case: Case) -> None:
    clutch = Clutch(3, case["mass"], case["radius"], 4 * case["radius"], 0.3, case["spring"])
    assert clutch.moves_per_min == near(case)


@cases("train")
def test_a_train_has_its_published_ratio_speed_and_direction(case: Case) -> None:
    card = cast(RatioCard, asked("ratio", stages=case["stages"], speed=case.get("per_min", 1000)))
    assert card.ratio == near(case, "ratio")
    assert card.reverses is case["reverses"]
    if "last" in case:
        assert abs(cast(float, card.last_per_min)) == pytest.approx(case["last"])


@cases("geared_torque")
def test_a_ratio_and_its_loss_give_the_published_torque(case: Case) -> None:
    train = Train((Stage((10, round(10 * case["ratio"]))),))
    assert train.torque_nm(case["torque"], case["keeps"]) == near(case)


@cases("geared_speed")
def test_a_ratio_gives_the_published_speed(case: Case) -> None:
    train = Train((Stage((10, round(10 * case["ratio"]))),))
    assert abs(train.speeds(case["per_min"])[-1]) == near(case)


@cases("meets")
def test_teeth_meet_again_when_it_is_published(case: Case) -> None:
    assert meet_again(case["driver"], case["driven"]) == case["expect"]
    assert hunts((case["driver"], case["driven"])) is case["hunts"]


@cases("pitch_circle")
def test_a_wheel_has_its_published_pitch_circle(case: Case) -> None:
    assert pitch_circle_mm(case["teeth"], case["pitch"]) == near(case)


@cases("chain_name")
def test_a_chain_has_its_published_pitch(case: Case) -> None:
    found = chain_named(case["name"])
    assert found is not None
    assert found.pitch_mm == near(case, "pitch")


@cases("chain_roller")
def test_chains_of_one_pitch_differ_in_their_rollers_as_published(case: Case) -> None:
    found = chain_named(case["name"])
    assert found is not None
    assert found.roller_mm == near(case)


@cases("chain_length")
def test_a_chain_is_as_long_as_published(case: Case) -> None:
    assert pitches(case["centre"], 1, tuple(case["teeth"])) == near(case)


@cases("chain_centre")
def test_so_many_links_are_taut_at_the_published_distance(case: Case) -> None:
    assert centre_mm(case["links"], 1, tuple(case["teeth"])) == near(case)


@cases("chain_limit")
def test_a_chain_is_worn_out_where_its_makers_say(case: Case) -> None:
    assert worn_at(case["teeth"], fixed=case["fixed"]) == pytest.approx(case["expect"])


@cases("sae")
def test_a_grade_is_as_thick_as_its_edition_has_it(case: Case) -> None:
    grade = sae(case["grade"], case["edition"])
    assert grade is not None
    assert (grade.least_100c, grade.below_100c) == (case["least"], case["below"])
    assert grade.high_shear == case.get("shear", grade.high_shear)


@cases("sae_cold")
def test_a_winter_grade_may_be_so_thick_when_cranked(case: Case) -> None:
    for edition in ("2015", "1999"):
        grade = sae(case["grade"], edition)
        assert grade is not None
        assert (grade.cranking, grade.cranking_c) == (case["cranking"], case["at"])


@cases("iso_vg")
def test_a_class_of_viscosity_lies_where_it_is_published(case: Case) -> None:
    found = iso_vg(case["grade"])
    assert found == (case["least"], case["most"])
    # The classes are their number ± 10 %.
    assert found == pytest.approx((0.9 * float(case["grade"]), 1.1 * float(case["grade"])))
