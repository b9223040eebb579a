"""True top dead centre: the middle, how sure it is, the offset pin, and readings that belong to no crank."""

import math
import random
from typing import cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.cards.sums.setting.timing.tdc import SUM, TdcCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.angles import wrapped
from fingertight.setting.timing.crank import Crank, angles_at, dwell_deg, slope_mm_per_deg
from fingertight.setting.timing.dead_centre import (
    NoCentre,
    Reading,
    Wrong,
    apart_by_chance,
    dead_centre,
    depth_for,
    half_at,
)

ENGINE = Crank(45, 84)


def asked(first: str, second: str, **said: str) -> TdcCard:
    return cast(TdcCard, SUM.ask({"first": first, "second": second, **said}))


def one_line(card: TdcCard) -> str:
    """The page without its line breaks."""
    return " ".join(answer_page(card).split())


@given(st.floats(-180, 180), st.floats(1, 80))
@settings(max_examples=200, deadline=None)
def test_wherever_the_wheel_was_fixed_its_top_is_found(slip: float, half: float) -> None:
    found = dead_centre([slip - half], [slip + half], Reading())
    assert wrapped(found.at_deg - slip) == pytest.approx(0, abs=1e-9)
    assert found.half_deg == pytest.approx(half)
    turned_round = dead_centre([slip + half + 360], [slip - half - 360], Reading())
    assert wrapped(turned_round.at_deg - slip) == pytest.approx(0, abs=1e-9)


@given(st.floats(-3, 3), st.floats(2, 20), st.floats(-90, 90))
@settings(max_examples=100, deadline=None)
def test_an_offset_pin_makes_the_middle_wrong_and_is_taken_off(offset: float, depth: float, slip: float) -> None:
    crank = Crank(45, 84, offset)
    before, after = (slip + angle for angle in angles_at(crank, depth))
    found = dead_centre([before], [after], Reading(), crank)
    assert wrapped(found.at_deg - slip) == pytest.approx(0, abs=1e-6)
    without = dead_centre([before], [after], Reading())
    assert wrapped(without.at_deg - slip) == pytest.approx(found.shift_deg, abs=1e-6)


def test_the_stated_uncertainty_holds_the_truth_in_95_of_100_cases() -> None:
    # Simulated: the stop repeats to ± 0.5°, the wheel is read to whole degrees, wherever it was fixed.
    chance, inside, tries = random.Random(7), 0, 4000
    for _ in range(tries):
        slip = chance.uniform(-20, 20)
        one, other = (round(slip + side * 34 + chance.uniform(-0.5, 0.5)) for side in (-1, 1))
        found = dead_centre([one], [other], Reading(1.0, 0.5))
        inside += abs(found.at_deg - slip) <= found.budget.expanded
    assert inside / tries == pytest.approx(0.9545, abs=0.02)


def test_readings_taken_again_say_themselves_how_much_they_differ() -> None:
    chance, inside, tries = random.Random(11), 0, 1500
    for _ in range(tries):
        sides = [[side * 34 + chance.gauss(0, 0.8) for _ in range(3)] for side in (-1, 1)]
        found = dead_centre(*sides, Reading(0.01, 0.5))
        inside += abs(found.at_deg) <= found.budget.expanded
    assert inside / tries == pytest.approx(0.9545, abs=0.02)


def test_a_dial_far_from_the_top_is_surer_than_one_close_to_it() -> None:
    near, far = (dead_centre([-half], [half], Reading(0.01, 0.0, 0.01), ENGINE).budget.expanded for half in (3, 40))
    # One step of 0.01 mm is 1 / slope degrees: GUM F.2.2.1 for the step, two sides, half each.
    by_hand = 2 * 0.01 / math.sqrt(12) / slope_mm_per_deg(ENGINE, 3) / math.sqrt(2)
    assert near == pytest.approx(by_hand, rel=0.01)
    assert near > 10 * far


def test_half_arc_and_depth_are_turned_round() -> None:
    for depth in (0.5, 5, 20, 40):
        assert depth_for(ENGINE, half_at(ENGINE, depth)) == pytest.approx(depth, abs=1e-9)


def test_readings_that_fit_differ_by_chance_and_others_do_not() -> None:
    right = dead_centre([-half_at(ENGINE, 5)], [half_at(ENGINE, 5)], Reading())
    away, may_be = apart_by_chance(ENGINE, right, 5)
    assert abs(away) < 1e-9 < may_be
    away, may_be = apart_by_chance(ENGINE, right, 8)
    assert abs(away) > may_be


@pytest.mark.parametrize(
    ("first", "second", "why"),
    [([31], [31], Wrong.SAME), ([0], [180], Wrong.HALF_A_TURN), ([31, 80], [-37], Wrong.SPREAD)],
)
def test_readings_that_give_no_centre_say_why(first: list[float], second: list[float], why: Wrong) -> None:
    with pytest.raises(NoCentre) as refused:
        dead_centre(first, second, Reading())
    assert refused.value.why is why


def test_the_page_says_where_to_turn_to_how_sure_and_why_not_to_look() -> None:
    page = answer_page(asked("31 before", "37 after", stroke="45", rod="84"))
    assert "True top dead centre is where the wheel reads 3° after its 0 (± 0.6°).\n" in page
    assert "so that it reads 34° at the stop on both sides." in page
    hides = dwell_deg(ENGINE, 0.01)
    assert f"Why not look for the highest point? {hides:.0f}° of the crank hide in 0.01 mm" in page
    assert "± 1.5°" in page
    assert "Caution: Spark lead off and earthed." in page


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("31 before", "37 after"),
        ("329", "37"),
        ("-31", "37"),
        ("37", "329"),
        ("31 BTDC", "37 ATDC"),
        ("30.5 before; 31.5 before", "37"),
    ],
)
def test_readings_are_understood_however_the_wheel_is_marked(first: str, second: str) -> None:
    card = asked(first, second)
    assert (card.at_deg, card.half_deg) == (pytest.approx(3.0), pytest.approx(34.0))


def test_readings_that_no_crank_of_this_stroke_and_rod_makes_are_answered_no() -> None:
    card = asked("31 before", "37 after", stroke="54", rod="95", depth="10")
    assert card.is_no
    page = one_line(card)
    # 45.4° is published for this stop (tests/outside/timing.toml).
    assert "But no crank of this stroke and rod gives these readings: a stop 10 mm down is met 45.4° from" in page
    assert "look whether stop, pointer or wheel has moved" in page
    assert "they differ by -11.4°; up to 0.9° may be chance" in page
    fits = asked("31 before", "37 after", stroke="45", rod="84", depth="5")
    assert not fits.is_no


def test_a_stop_too_near_the_top_is_told_to_be_put_deeper() -> None:
    assert "The stop is met only 4° from the top" in answer_page(asked("4 before", "4 after"))


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"second": "31 before"}, "Both sides read 31° before its 0: that is one reading twice."),
        ({"second": "149 after"}, "top and bottom cannot be told from each other; screw the stop out a little"),
        ({"second": "37; 80"}, "The readings of one side are more than 30° apart"),
        ({"second": "abc"}, "The other side: “abc” is no angle; write degrees, for example 31 before TDC."),
        ({"second": ";"}, "The other side: nothing was typed; write for example 37 after."),
        ({"second": ";".join("1" * 31)}, "The other side: 31 readings are more than anybody takes; write up to 30."),
        ({"stroke": "45"}, "Rod: with the stroke it must be known; write for example 84 mm."),
        ({"rod": "84"}, "Stroke: with the rod it must be known; write for example 45 mm."),
        (
            {"stroke": "45", "rod": "20"},
            "Rod: 20 mm is no longer than half the stroke (22.5 mm), so the crank could not",
        ),
        (
            {"stroke": "45", "rod": "84", "offset": "70"},
            "Offset: 70 mm and half the stroke are more than the rod is long",
        ),
        ({"stroke": "45", "rod": "84", "depth": "50"}, "Depth: 50 mm is more than the stroke of 45 mm"),
        ({"depth": "5"}, "Depth: it is compared with stroke and rod; write those too."),
        ({"offset": "1"}, "Offset: it is worked out with stroke and rod; write those too."),
        ({"by": "dial"}, "Stroke: with a dial it must be known how fast the piston moves; write stroke and rod."),
        ({"wheel": "0"}, "Step of the wheel: “0” must be more than 0"),
        ({"stroke": "45 kg", "rod": "84"}, "Stroke: kg is a mass, mm a length: write it in mm."),
    ],
)
def test_what_gives_no_dead_centre_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        asked(**{"first": "31 before", "second": "37 after", **said})
    assert sentence in str(refused.value)
