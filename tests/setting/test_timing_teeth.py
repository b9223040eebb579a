"""By how many teeth a camshaft is out: chances that are true, and the page that says which way to move it."""

import random
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.sums.setting.timing.teeth import SUM
from fingertight.cards.sums.setting.timing.teeth.card import TeethCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.teeth import NO_TOOTH, Shift, chances, offset_deg, together, tooth_deg

STATED = {"inlet-opens": "15", "inlet-closes": "45", "exhaust-opens": "70", "exhaust-closes": "10"}


def asked(**said: str) -> TeethCard:
    return cast(
        TeethCard, SUM.ask({"crank-teeth": "22", **{name.replace("_", "-"): text for name, text in said.items()}})
    )


def one_line(card: TeethCard) -> str:
    return " ".join(answer_page(card).split())


def found(later: float, longer: float = 0.0) -> dict[str, str]:
    """All four events, as they are read on an engine whose camshaft is so much late."""
    at = {"inlet-opens": -15.0, "inlet-closes": 225.0, "exhaust-opens": -250.0, "exhaust-closes": 10.0}
    base = {"inlet-opens": 0, "inlet-closes": 180, "exhaust-opens": -180, "exhaust-closes": 0}
    said = {}
    for name, place in at.items():
        stretched = place + later + (longer / 2 if name.endswith("closes") else -longer / 2)
        away = stretched - base[name]
        said[f"found-{name}"] = f"{abs(away):.1f} {'after' if away > 0 else 'before'}"
    return {**STATED, **said}


def test_the_chances_are_true() -> None:
    # Simulated: camshafts 0, 1 or 2 teeth out, or anywhere, measured with an error of 4°; 22 teeth are 16.4° each.
    chance, tooth, said, right = random.Random(5), tooth_deg(22), 0.0, 0
    tries = 20_000
    for _ in range(tries):
        by_teeth = chance.random() > NO_TOOTH
        true = chance.randint(-3, 3) if by_teeth else None
        place = true * tooth if true is not None else chance.uniform(-3.5, 3.5) * tooth
        likely = chances(Shift(place + chance.gauss(0, 4.0), 4.0), 22)
        best = max(likely, key=lambda number: likely[number])
        said += likely[best]
        right += best == true
    assert right / tries == pytest.approx(said / tries, abs=0.01)


@given(st.integers(-3, 3), st.integers(12, 40), st.floats(0.2, 1.5))
def test_a_whole_number_of_teeth_is_the_likeliest_where_it_is_measured_well(
    teeth: int, crank: int, unsure: float
) -> None:
    likely = chances(Shift(teeth * tooth_deg(crank), unsure), crank)
    assert max(likely, key=lambda number: likely[number]) == teeth
    assert sum(likely.values()) == pytest.approx(1)


def test_half_a_tooth_is_explained_by_none() -> None:
    likely = chances(Shift(tooth_deg(22) / 2, 1.0), 22)
    assert likely[None] > 0.99


def test_shifts_weigh_as_much_as_they_are_sure() -> None:
    # Weighted mean by hand: (16/1 + 20/4) / (1/1 + 1/4) = 16.8; u = 1/√(1 + 1/4).
    mean, furthest = together([Shift(16, 1), Shift(20, 2)])
    assert (mean.later_deg, mean.standard_deg) == (pytest.approx(16.8), pytest.approx(0.894427))
    assert furthest == pytest.approx(1.6)


@pytest.mark.parametrize(("later", "teeth", "words"), [(16.4, 1, "1 tooth late"), (-16.4, -1, "1 tooth early"),
                                                       (32.7, 2, "2 teeth late")])  # fmt: skip
def test_events_that_are_all_out_alike_are_so_many_teeth(later: float, teeth: int, words: str) -> None:
    card = asked(**found(later))
    assert card.teeth == teeth
    assert card.is_no
    page = one_line(card)
    assert f"The camshaft is {words} (98 %)." in page
    way = "forward, the way it runs," if teeth > 0 else "back, against the way it runs,"
    many = "1 tooth" if abs(teeth) == 1 else f"{abs(teeth)} teeth"
    assert f"Turn the cam wheel {way} by {many} against chain, belt or gear; the crank stays." in page
    # Once it is moved all is as stated, to the tenth that was read.
    assert all(one.after_deg == pytest.approx(one.stated_deg, abs=0.1) for one in card.events)
    assert "overlap 25° 25° 25°" in page
    stands = "exhaust" if teeth > 0 else "inlet"
    assert f"so the {stands} stands open when the piston comes up to its top." in page


def test_a_camshaft_on_its_tooth_is_right() -> None:
    card = asked(**found(2.0))
    assert (card.teeth, card.is_no) == (0, False)
    page = one_line(card)
    assert "Camshaft against crank: right" in page
    assert "It is 2° later than stated (± " in page
    assert "The camshaft sits on the right tooth (" in page
    assert "Turn the cam wheel" not in page


def test_what_no_tooth_explains_names_the_other_faults() -> None:
    page = one_line(asked(**found(8.2)))
    assert "Camshaft against crank: not by teeth" in page
    assert "No whole tooth explains that: one tooth is 16.4° of the crank. Look for a sheared or wrong key," in page
    assert "a worn chain, a wheel whose zero is off (tdc), or figures of another lift." in page


def test_a_figure_between_two_answers_says_that_it_is_not_sure() -> None:
    page = one_line(asked(inlet_centre="107", found_inlet_centre="118", unsure="8"))
    assert "That is not sure: find top dead centre and the lobe centre again" in page


def test_a_whole_turn_is_the_wrong_top_dead_centre_and_moves_nothing() -> None:
    card = asked(inlet_opens="15", found_inlet_opens="14 before firing TDC")
    assert card.whole_turn
    page = one_line(card)
    assert "but for a whole turn of the crank: the other top dead centre was taken." in page
    assert "Turn the crank once round and look again; move nothing." in page
    assert "Turn the cam wheel" not in page


def test_a_valve_that_is_open_too_short_is_not_blamed_on_teeth() -> None:
    page = one_line(asked(**found(0.0, longer=-14)))
    assert "The camshaft sits on the right tooth" in page
    assert "The inlet is open 14° shorter than stated: teeth do not do that, but too much lash, a worn lobe, or" in page
    assert "too little lash, or another lift does." in one_line(asked(**found(0.0, longer=14)))


def test_valves_that_contradict_each_other_are_said_to() -> None:
    page = one_line(
        asked(inlet_centre="107", exhaust_centre="110", found_inlet_centre="123", found_exhaust_centre="110")
    )
    assert "The events contradict each other: they do not tell of one shift." in page


def test_an_opening_alone_is_said_to_hang_on_the_lash() -> None:
    page = one_line(asked(inlet_opens="15", found_inlet_opens="1 after"))
    assert "Only an opening or a closing was compared, and the lash moves those too" in page


def test_teeth_counted_between_the_dots_are_sure_and_shift_what_is_stated() -> None:
    card = asked(dots="1 tooth behind", inlet_opens="15", exhaust_closes="10")
    assert (card.teeth, card.chance, card.by) == (1, 1.0, "teeth counted at the dots")
    page = one_line(card)
    assert "The camshaft is 1 tooth late. Turn the cam wheel forward" in page
    assert "inlet opens 15° before TDC 1.4° after TDC 15° before TDC" in page
    assert asked(dots="2 ahead").teeth == -2


def test_dots_in_millimetres_are_turned_into_teeth_with_the_pitch_circle() -> None:
    # 44 teeth on 134 mm: π · 134 / 44 = 9.57 mm from tooth to tooth.
    card = asked(dots="9.6 mm ahead", pitch_circle="134")
    assert card.teeth == -1
    assert card.later_deg == pytest.approx(-offset_deg(9.6, 134))
    assert asked(dots="0.3 mm behind", pitch_circle="134").teeth == 0
    between = asked(dots="4.8 mm behind", pitch_circle="134")
    assert between.teeth is None
    assert "Measure along the pitch circle of the cam wheel" in one_line(between)


def test_a_cam_wheel_that_is_not_twice_the_crank_wheel_is_doubted() -> None:
    page = one_line(asked(cam_teeth="43", dots="1 behind"))
    assert "The cam wheel’s 43 teeth are not twice the 22 of the crank wheel" in page
    assert "count again, unless there is a wheel between." in page
    assert "not twice" not in one_line(asked(dots="1 behind"))


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"crank-teeth": "", "dots": "1 behind"}, "Teeth of the crank wheel: nothing was typed; write for example 22."),
        ({"crank-teeth": "0", "dots": "1 behind"}, "Teeth of the crank wheel: “0” is less than 6, the least that is"),
        ({"crank-teeth": "22.5", "dots": "1 behind"}, "Teeth of the crank wheel: “22.5” is not a whole number."),
        ({"crank-teeth": "abc", "dots": "1 behind"}, "Teeth of the crank wheel: “abc” is not a number"),
        ({"inlet-opens": "15"}, "Nothing can be compared: write a figure as it is stated and the same as it was found"),
        ({"dots": "1"}, "Dots: “1” does not say how far and which way; write for example 1 tooth behind, or 6.4 mm"),
        ({"dots": "1.5 teeth behind"}, "Dots: “1.5” is no number of teeth to be out by; count whole teeth between"),
        ({"dots": "40 teeth behind"}, "Dots: “40” is no number of teeth to be out by"),
        ({"dots": "6 mm behind"}, "Pitch circle: an offset in millimetres is turned into teeth with the diameter"),
        ({"dots": "6 kg behind"}, "Dots: “6 kg behind” does not say how far and which way"),
        ({"dots": "1 behind", "inlet-opens": "15", "found-inlet-opens": "1"}, "Dots: write how far the dots are off,"),
        ({"inlet-centre": "107", "found-inlet-centre": "x"}, "Inlet lobe centre, found: “x” is no angle"),
    ],
)  # fmt: skip
def test_what_tells_of_no_tooth_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        SUM.ask({"crank-teeth": "22", **said})
    assert sentence in str(refused.value)


@pytest.mark.parametrize("teeth", [0, -3])
def test_a_wheel_without_teeth_is_no_wheel(teeth: int) -> None:
    with pytest.raises(ValueError, match="a wheel has teeth"):
        tooth_deg(teeth)
