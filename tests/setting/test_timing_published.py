"""Crank, dead centre, valves, teeth, rim against published values: tests/outside/timing.toml names the sources."""

import math
import tomllib
from pathlib import Path
from typing import Any, cast

import pytest

from fingertight.cards.sums.setting.timing.events import SUM as TIMING
from fingertight.cards.sums.setting.timing.events.card import TimingCard
from fingertight.cards.sums.setting.timing.piston import SUM as PISTON
from fingertight.cards.sums.setting.timing.piston import PistonCard
from fingertight.cards.sums.setting.timing.tdc import SUM as TDC
from fingertight.cards.sums.setting.timing.tdc import TdcCard
from fingertight.cards.sums.setting.timing.teeth import SUM as TEETH
from fingertight.cards.sums.setting.timing.teeth.card import TeethCard
from fingertight.setting.timing.crank import (
    Crank,
    angles_at,
    depth_mm,
    fastest_deg,
    pin_height_mm,
    speed_m_s,
    two_term_fastest_deg,
    two_term_speed_m_s,
)
from fingertight.setting.timing.events import Opening, ValveTiming
from fingertight.setting.timing.rim import arc_mm, chord_mm
from fingertight.setting.timing.teeth import offset_deg, tooth_deg

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "timing.toml").read_text("utf-8"))
Case = dict[str, Any]


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case["source"].split(",")[0])


def crank(case: Case) -> Crank:
    return Crank(case["stroke"], case["rod"])


def near(case: Case, key: str = "expect") -> Any:
    return pytest.approx(case[key], abs=case.get("abs", 1e-9))


def timing(**said: str) -> TimingCard:
    return cast(TimingCard, TIMING.ask({name.replace("_", "-"): text for name, text in said.items()}))


def of_valve(case: Case) -> Any:
    """The valve of a case, asked as a mechanic would."""
    name = case["valve"]
    card = timing(**{f"{name}_opens": case["opens"], f"{name}_closes": case["closes"]})
    return card.inlet or card.exhaust


def test_there_are_sixty_values_from_eight_sources_and_more() -> None:
    rows = [row for topic in OUTSIDE.values() for row in topic]
    assert len(rows) >= 60
    assert len({row["source"] for row in rows}) >= 8
    assert all(row["how"] for row in rows)


@cases("depth")
def test_the_piston_is_as_far_down_as_published(case: Case) -> None:
    assert depth_mm(crank(case), case["angle"]) == near(case)
    assert depth_mm(crank(case), -case["angle"]) == near(case)


@cases("height")
def test_the_pin_stands_as_far_from_the_crank_as_published(case: Case) -> None:
    assert pin_height_mm(crank(case), case["angle"]) == near(case)


@cases("leaning_rod")
def test_a_leaning_rod_puts_the_pin_where_the_textbook_has_it(case: Case) -> None:
    # The law of sines gives the crank from the rod; the answer is the one with the crankpin past its side.
    angle = 180 - math.degrees(
        math.asin(case["rod"] * math.sin(math.radians(case["rod_angle"])) / (case["stroke"] / 2))
    )
    assert pin_height_mm(crank(case), angle) == near(case)


@cases("fastest")
def test_the_piston_is_fastest_where_it_is_published(case: Case) -> None:
    assert fastest_deg(crank(case)) == near(case)


@cases("speed")
def test_the_piston_is_as_fast_as_published(case: Case) -> None:
    # The formula gives a thousandth of its length unit a second.
    assert 1000 * speed_m_s(crank(case), case["angle"], case["per_min"]) == near(case, "per_s")


@cases("two_term_speed")
def test_the_two_term_formula_gives_what_the_answer_key_has(case: Case) -> None:
    assert 1000 * two_term_speed_m_s(crank(case), case["angle"], case["per_min"]) == near(case, "per_s")


@cases("two_term_fastest")
def test_the_two_term_formula_is_fastest_where_the_books_have_it_and_not_at_90(case: Case) -> None:
    assert two_term_fastest_deg(case["ratio"]) == near(case)


@cases("angle")
def test_a_depth_is_met_at_the_published_angle_on_both_sides(case: Case) -> None:
    before, after = angles_at(crank(case), case["depth"])
    assert (-before, after) == (near(case), near(case))


@cases("slanted")
def test_a_dial_in_a_slanted_plug_hole_reads_what_the_manual_sets_it_to(case: Case) -> None:
    said = {"stroke": "45", "rod": "84", "depth": str(case["dial"]), "lean": str(case["lean"])}
    card = cast(PistonCard, PISTON.ask(said))
    assert card.depth_mm == pytest.approx(case["down"], abs=case["abs"])
    assert card.answer.lead[0].startswith(f"{case['dial']} mm on the dial are ")


@cases("middle")
def test_top_dead_centre_is_found_as_published(case: Case) -> None:
    card = cast(TdcCard, TDC.ask({"first": case["first"], "second": case["second"]}))
    assert (card.at_deg, card.half_deg) == (pytest.approx(case["at"]), pytest.approx(case["half"]))


@cases("chord")
def test_a_chord_is_as_long_as_the_table_has_it(case: Case) -> None:
    assert chord_mm(case["diameter"], case["angle"]) == near(case)


@cases("arc")
def test_an_arc_on_a_flywheel_is_as_long_as_published(case: Case) -> None:
    assert arc_mm(case["round"] / math.pi, case["angle"]) == near(case)


@cases("duration")
def test_a_valve_is_open_as_long_as_published(case: Case) -> None:
    assert of_valve(case).duration_deg == near(case)
    assert of_valve(case).duration_cam_deg == case["expect"] / 2


@cases("overlap")
def test_both_valves_are_open_together_as_long_as_published(case: Case) -> None:
    card = timing(inlet_opens=case["inlet_opens"], inlet_closes="45", exhaust_opens="70",
                  exhaust_closes=case["exhaust_closes"])  # fmt: skip
    assert card.overlap_deg == near(case)


@cases("both_closed")
def test_both_valves_are_shut_as_long_as_published(case: Case) -> None:
    inlet, exhaust = case["inlet"], case["exhaust"]
    card = timing(inlet_opens=inlet[0], inlet_closes=inlet[1], exhaust_opens=exhaust[0], exhaust_closes=exhaust[1])
    assert card.both_closed_deg == near(case)


@cases("shut_in_one_turn")
def test_what_the_examiners_call_shut_is_one_turn_and_a_four_stroke_takes_two(case: Case) -> None:
    card = timing(inlet_opens=case["inlet"][0], inlet_closes=case["inlet"][1])
    assert card.inlet is not None
    assert 360 - card.inlet.duration_deg == near(case)
    assert 720 - card.inlet.duration_deg == case["expect"] + 360


@cases("centre")
def test_a_lobe_centre_lies_where_it_is_published(case: Case) -> None:
    assert abs(of_valve(case).centre_deg) == near(case)


@cases("half_duration")
def test_the_middle_comes_half_the_duration_after_opening(case: Case) -> None:
    inlet = timing(inlet_opens=case["opens"], inlet_closes=case["closes"]).inlet
    assert inlet is not None
    assert inlet.centre_deg - inlet.opens_deg == near(case)


@cases("closes")
def test_a_valve_closes_when_its_opening_and_duration_say(case: Case) -> None:
    inlet = timing(inlet_opens=case["opens"], inlet_duration=case["duration"]).inlet
    assert inlet is not None
    assert inlet.closes_deg - 180 == near(case)


@cases("separation")
def test_the_lobes_are_as_far_apart_as_published_in_crank_and_cam_degrees(case: Case) -> None:
    card = timing(inlet_centre=case["inlet_centre"], inlet_duration="260", exhaust_centre=case["exhaust_centre"],
                  exhaust_duration="260")  # fmt: skip
    assert card.separation_cam_deg == pytest.approx(case["cam"])
    assert 2 * cast(float, card.separation_cam_deg) == pytest.approx(case["crank"])


@cases("separation_of")
def test_overlap_and_duration_give_the_published_separation(case: Case) -> None:
    # Like lobes: both open half the overlap from the top dead centre between the strokes.
    half, long = case["overlap"] / 2, case["duration"]
    like = ValveTiming(Opening(-half, long - half), Opening(half - long, half))
    assert like.overlap_deg == case["overlap"]
    assert like.separation_cam_deg == near(case)


@cases("spark")
def test_the_crank_turns_as_far_from_spark_to_inlet_as_published(case: Case) -> None:
    card = timing(inlet_opens=case["inlet_opens"], inlet_closes="45", spark=case["spark"])
    assert card.spark_to_inlet_deg == near(case)


@cases("early")
def test_a_lobe_centre_that_comes_sooner_is_early_by_the_difference(case: Case) -> None:
    said = {"crank-teeth": "24", "inlet-centre": case["stated"], "found-inlet-centre": case["found"]}
    assert cast(TeethCard, TEETH.ask(said)).later_deg == -case["expect"]


@cases("tooth")
def test_a_tooth_is_as_many_degrees_as_published_at_crank_and_cam(case: Case) -> None:
    said = {"crank-teeth": str(case["crank_teeth"]), "cam-teeth": str(case["cam_teeth"])}
    card = cast(TeethCard, TEETH.ask({**said, "dots": f"{case['teeth']} teeth behind"}))
    assert (
        card.later_deg == pytest.approx(case["crank"]) == pytest.approx(case["teeth"] * tooth_deg(case["crank_teeth"]))
    )
    assert case["teeth"] * card.tooth_cam_deg == pytest.approx(case["cam"])


@cases("offset")
def test_an_offset_on_the_pitch_circle_turns_the_camshaft_as_published(case: Case) -> None:
    assert offset_deg(case["offset"], case["pitch_circle"]) / 2 == near(case, "cam")
