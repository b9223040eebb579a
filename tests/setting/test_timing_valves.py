"""Valve events from figures and from dial readings: against lobes whose events are known by their formula."""

import math
import random
from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from fingertight.cards.sums.setting.timing.events import SUM
from fingertight.cards.sums.setting.timing.events.card import TimingCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.events import Opening, ValveTiming
from fingertight.setting.timing.lift import LiftCurve, Steps, lobe_centre, passes

FIGURES = {"inlet-opens": "15", "inlet-closes": "45", "exhaust-opens": "70", "exhaust-closes": "10"}


def asked(**said: str) -> TimingCard:
    return cast(TimingCard, SUM.ask({name.replace("_", "-"): text for name, text in said.items()}))


def one_line(card: TimingCard) -> str:
    return " ".join(answer_page(card).split())


def lobe(angle: float, centre: float, half: float, height: float, skew: float = 0.0) -> float:
    """A lobe that is known everywhere: a raised cosine, its flanks of unlike length where it is skewed."""
    away = (angle - centre) / (half * (1 + skew if angle > centre else 1 - skew))
    return height * math.cos(math.pi * away / 2) ** 2 if abs(away) < 1 else 0.0


def lines(centre: float, half: float, height: float) -> str:
    """What somebody writes down who turns the crank and reads wheel and dial."""
    said = []
    for angle in range(-100, 300, 10):
        wheel = (angle + 180) % 360 - 180
        side = "before" if wheel < 0 else "after"
        said.append(f"{abs(wheel)} {side} TDC  {lobe(angle, centre, half, height):.2f}")
    return "\n".join(["# angle, lift in mm", *said])


@given(st.floats(90, 125), st.floats(110, 150), st.floats(3, 9), st.sampled_from([5, 10]))
@settings(max_examples=60, deadline=None)
def test_the_events_of_a_known_lobe_are_found_within_their_uncertainty(
    centre: float, half: float, height: float, step: int
) -> None:
    angles = tuple(float(angle) for angle in range(-100, 300, step))
    curve = LiftCurve(angles, tuple(lobe(angle, centre, half, height) for angle in angles))
    exact = Steps(0.001, 0.0001, 0.001)
    for rising, low, high in ((True, centre - half, centre), (False, centre, centre + half)):
        true = brentq(lambda at: lobe(at, centre, half, height) - 1.0, low, high)
        found = passes(curve, 1.0, rising=rising, steps=exact)
        assert abs(found.at_deg - true) <= max(2 * found.budget.expanded, 0.15)
    assert lobe_centre(curve, exact).at_deg == pytest.approx(centre, abs=0.2)


def test_the_smooth_curve_is_surer_than_straight_lines_between_readings() -> None:
    angles = tuple(float(angle) for angle in range(-100, 300, 20))
    worst_smooth = worst_straight = 0.0
    for centre in range(95, 115):
        curve = LiftCurve(angles, tuple(lobe(angle, centre, 130, 6) for angle in angles))
        true = brentq(lambda at, c=centre: lobe(at, c, 130, 6) - 1.0, centre - 130, centre)
        low = max(angle for angle in angles if lobe(angle, centre, 130, 6) <= 1.0 and angle < centre)
        rise = lobe(low + 20, centre, 130, 6) - lobe(low, centre, 130, 6)
        straight = low + 20 * (1.0 - lobe(low, centre, 130, 6)) / rise
        smooth = passes(curve, 1.0, rising=True, steps=Steps()).at_deg
        worst_smooth, worst_straight = max(worst_smooth, abs(smooth - true)), max(worst_straight, abs(straight - true))
    assert worst_smooth < 0.5 * worst_straight


def test_the_stated_uncertainty_of_event_and_centre_holds_in_95_of_100_cases_or_more() -> None:
    chance, tries = random.Random(3), 400
    inside = {"opens": 0, "centre": 0}
    steps = Steps(1.0, 0.01, 0.6)
    true = brentq(lambda at: lobe(at, 108, 130, 5.5) - 1.0, -22, 108)
    for _ in range(tries):
        slip = chance.gauss(0, 0.3)  # top dead centre is known to ± 0.6°
        angles = tuple(float(angle) for angle in range(-60, 280, 10))
        lifts = tuple(
            max(round(lobe(angle + slip + chance.uniform(-0.5, 0.5), 108, 130, 5.5), 2), 0.0) for angle in angles
        )
        curve = LiftCurve(angles, lifts)
        opens, centre = passes(curve, 1.0, rising=True, steps=steps), lobe_centre(curve, steps)
        inside["opens"] += abs(opens.at_deg - true) <= opens.budget.expanded
        inside["centre"] += abs(centre.at_deg - 108) <= centre.budget.expanded
    assert all(count / tries >= 0.93 for count in inside.values()), inside


def test_an_event_is_as_unsure_as_wheel_dial_and_dead_centre_make_it() -> None:
    # A straight flank of 0.1 mm a degree. GUM F.2.2.1 for the steps: 1/√12° and 0.1/√12 mm, which is 1/√12 · 1°; and
    # half of the 0.6° to which top dead centre is known.
    curve = LiftCurve((0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0), (0.0, 1.0, 2.0, 3.0, 2.0, 1.0, 0.0))
    found = passes(curve, 1.0, rising=True, steps=Steps(1.0, 0.1, 0.6))
    assert found.at_deg == pytest.approx(10)
    assert found.budget.standard == pytest.approx(math.sqrt(1 / 12 + 1 / 12 + 0.09), rel=1e-6)


def test_a_lobe_with_unlike_flanks_leans_and_says_so() -> None:
    angles = tuple(float(angle) for angle in range(-100, 320, 5))
    like, unlike = (
        lobe_centre(LiftCurve(angles, tuple(lobe(at, 108, 130, 6, skew) for at in angles)), Steps())
        for skew in (0.0, 0.1)
    )
    assert abs(like.leans_deg) < 0.3
    assert unlike.leans_deg < -3  # the falling flank is the longer one: low middles lie late
    assert unlike.budget.expanded > like.budget.expanded


@given(st.floats(-40, 40), st.floats(20, 80), st.floats(20, 80), st.floats(-40, 40), st.floats(-30, 30))
def test_all_that_is_open_and_shut_adds_up_to_the_cycle(
    opens: float, closes: float, leaves: float, shuts: float, later: float
) -> None:
    timing = ValveTiming(Opening(-opens, 180 + closes), Opening(-180 - leaves, shuts))
    whole = timing.inlet.duration_deg + timing.exhaust.duration_deg - timing.overlap_deg + timing.both_closed_deg
    assert whole == pytest.approx(720)
    moved = timing.moved(later, later)
    assert moved.overlap_deg == pytest.approx(timing.overlap_deg)
    assert moved.separation_cam_deg == pytest.approx(timing.separation_cam_deg)
    assert moved.advance_deg == pytest.approx(timing.advance_deg - later)


def test_the_page_tells_each_valve_both_together_and_draws_them() -> None:
    card = asked(**FIGURES, spark="28")
    page = one_line(card)
    # FAA powerplant items: 240, 260, 25, 245, 373 (tests/outside/timing.toml).
    assert (
        "The inlet is open for 240°: from 15° before TDC to 45° after BDC. Its lobe centre is 105° after TDC." in page
    )
    assert "Both are open together for 25° about TDC: the overlap." in page
    assert "Both are closed for 245°, over compression and power." in page
    assert "From the spark to the opening of the inlet the crank turns 373°." in page
    assert "Valve timing on the crank’s circle: inlet opens 15° before TDC, closes 45° after BDC;" in page
    assert "Caution: A valve that is out may meet the piston: turn by hand" in page


def test_valves_that_do_not_overlap_are_said_to_be_both_closed() -> None:
    card = asked(inlet_opens="10 after", inlet_closes="39", exhaust_opens="41", exhaust_closes="8 before")
    assert card.overlap_deg == -18
    assert "Both are closed for 18° about TDC: at this lift there is no overlap." in one_line(card)


def test_dial_readings_give_events_lobe_centre_and_how_sure() -> None:
    card = asked(inlet_lift=lines(108, 130, 5.5), lift="1")
    inlet = card.inlet
    assert inlet is not None
    true = brentq(lambda at: lobe(at, 108, 130, 5.5) - 1.0, -22, 108)
    assert inlet.opens_deg == pytest.approx(true, abs=0.3)
    assert inlet.centre_deg == pytest.approx(108, abs=0.3)
    assert 0.5 < cast(float, inlet.u_opens_deg) < 1.5
    page = one_line(card)
    assert "Valve timing at a lift of 1 mm" in page
    assert "Its lobe centre is 108° after TDC (± " in page
    assert "Lift curves: inlet up to 5.5 mm, the middle of its lobe 108° after TDC." in page
    assert "The flanks of the inlet lobe are alike" in page


def test_a_wheel_of_0_to_360_gives_the_same_and_the_exhaust_is_put_in_its_turn() -> None:
    plain_wheel = "\n".join(f"{at % 360} {lobe(at, -112, 128, 5):.2f}" for at in range(-260, 40, 10))
    exhaust = asked(exhaust_lift=plain_wheel).exhaust
    assert exhaust is not None
    assert exhaust.centre_deg == pytest.approx(-112, abs=0.3)
    thou = "\n".join(f"{at % 360}; {lobe(at, -112, 128, 5) / 0.0254:.1f} thou" for at in range(-260, 40, 10))
    in_thou = asked(exhaust_lift=thou).exhaust
    assert in_thou is not None
    assert in_thou.opens_deg == pytest.approx(exhaust.opens_deg, abs=0.1)


READINGS = lines(108, 130, 5.5).splitlines()


def with_line(number: int, said: str) -> dict[str, str]:
    """The readings of the inlet with another line in the place of one."""
    return {"inlet-lift": "\n".join([*READINGS[: number - 1], said, *READINGS[number:]])}


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Nothing is known of a valve; write for example inlet opens 15 and inlet closes 45, or dial readings."),
        ({"inlet-opens": "15"}, "Inlet: one figure is not enough; write two of opens, closes, lobe centre and"),
        ({"inlet-opens": "170 after", "inlet-closes": "130 before"},
         "Inlet: from 10° before BDC to 50° after TDC it would close 120° before it opens, which no camshaft"),
        ({"inlet-opens": "170", "inlet-closes": "170"}, "it would be open for 520°, which no camshaft does"),
        ({"inlet-opens": "15", "inlet-closes": "45", "inlet-duration": "228"},
         "Inlet: from 15° before TDC to 45° after BDC it is open for 240°, not for 228°; mend one of the three."),
        ({"inlet-opens": "200", "inlet-closes": "45"}, "Inlet opens: “200” is more than half a turn from a dead"),
        ({"inlet-opens": "abc", "inlet-closes": "45"}, "Inlet opens: “abc” is no angle; write degrees"),
        ({"inlet-opens": "15 mm", "inlet-closes": "45"}, "Inlet opens: “15 mm”: “mm” is no word for an angle here"),
        ({"inlet-opens": "15", "inlet-lift": "10 1"}, "Inlet: write figures or dial readings, not both"),
        ({"inlet-lift": "\n".join(READINGS), "lift": "6"}, "Lift: 6 mm is not below the 5.5 mm that the inlet was"),
        ({"inlet-lift": "10 1\n20 2"}, "Inlet: 5 to 400 readings are wanted, and there are 2; write one on each"),
        ({"inlet-lift": "\n".join(READINGS[18:])}, "Inlet: the readings begin at 4.42 mm, above the lift of 1 mm;"),
        ({"inlet-lift": "\n".join(READINGS[:20])}, "no lobe is seen in them"),
        (with_line(13, READINGS[11]), "Inlet, line 13: 0° does not go on from 0°; write the readings in the order"),
        (with_line(15, "30 after TDC 0.1"), "Inlet, line 15: 0.1 mm after 1.3 mm breaks the curve"),
        (with_line(4, "hello"), "Inlet, line 4: “hello” is no angle with a lift behind it; write for example 20"),
        (with_line(4, "80 before -0.2"), "Inlet, line 4: a lift of -0.2 mm is below the seat; set the dial to 0"),
        (with_line(4, "80 before 0.2 kg"), "Inlet, line 4: “80 before 0.2 kg” is no angle with a lift behind it"),
        ({**FIGURES, "spark": "x"}, "Spark: “x” is no angle"),
        ({**FIGURES, "lift": "1 bar"}, "Lift: bar is a pressure, mm a length: write it in mm."),
    ],
)  # fmt: skip
def test_timing_that_no_engine_has_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        SUM.ask(said)
    assert sentence in str(refused.value)


@pytest.mark.parametrize(
    "known",
    [("opens", "closes"), ("opens", "duration"), ("closes", "duration"), ("centre", "duration"), ("opens", "centre"),
     ("closes", "centre")],
)  # fmt: skip
@pytest.mark.parametrize("valve", ["inlet", "exhaust"])
def test_any_two_figures_of_a_valve_give_the_rest(valve: str, known: tuple[str, str]) -> None:
    figures: dict[str, dict[str, Any]] = {
        "inlet": {"opens": "15", "closes": "45", "duration": "240", "centre": "105"},
        "exhaust": {"opens": "70", "closes": "10", "duration": "260", "centre": "120"},
    }
    whole = asked(**{f"{valve}_opens": figures[valve]["opens"], f"{valve}_closes": figures[valve]["closes"]})
    assert asked(**{f"{valve}_{part}": figures[valve][part] for part in known}) == whole


def test_what_few_engines_have_is_asked_back() -> None:
    page = one_line(asked(inlet_opens="15", inlet_closes="5 before"))
    assert "Is that right? The inlet is open for 190°" not in page
    assert "Is that right? The inlet lobe centre lies 80° from TDC; most lie 85° to 130° away" in page
    assert "Is that right? The inlet is open for 400°" in one_line(asked(inlet_opens="110", inlet_closes="110"))
