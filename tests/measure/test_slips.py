"""Which slip would explain a reading that is not plausible: named where it was made, never where it was not."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.measure.slips import (
    Known,
    Slip,
    apart_from_class,
    likely_slip,
    nearest_place,
    out_of_reach,
    sentence,
    turned_round,
)

BORE = Known(largest=68.165, new=(68.0, 68.015))
SKIRT = Known(smallest=67.845, new=(67.965, 67.985), turn=0.5, thimble=True)
PIN_INCH = Known(smallest=0.6990, new=(0.7084, 0.7087), turn=0.025, thimble=True, metric=False)


@pytest.mark.parametrize(
    ("value", "known", "slip", "instead"),
    [
        (2.678, BORE, Slip.INCH, 68.0212),
        (6.802, BORE, Slip.TENFOLD, 68.02),
        (680.2, BORE, Slip.TENFOLD, 68.02),
        (86.02, BORE, Slip.TURNED, 68.02),
        (67.46, SKIRT, Slip.THIMBLE, 67.96),
        (68.46, SKIRT, Slip.THIMBLE, 67.96),
        (18.0, PIN_INCH, Slip.MILLIMETRE, 0.708661),
        (0.7336, PIN_INCH, Slip.THIMBLE, 0.7086),
        (1.28, Known(largest=0.35, new=(0.2, 0.3), turn=1.0), Slip.DIAL, 0.28),
    ],
)
def test_a_slip_is_named_with_what_would_have_been_read(value: float, known: Known, slip: Slip, instead: float) -> None:
    found = likely_slip(value, known)
    assert found is not None
    assert (found.slip, found.instead) == (slip, pytest.approx(instead))


@pytest.mark.parametrize("value", [67.90, 68.00, 68.02, 68.165, 68.17, 68.25, 68.31])
def test_a_worn_bore_is_worn_and_no_slip(value: float) -> None:
    assert likely_slip(value, BORE) is None


def test_what_no_slip_explains_is_not_guessed_at() -> None:
    assert likely_slip(75.0, BORE) is None
    assert likely_slip(75.0, Known()) is None


def test_neighbours_say_which_of_two_turns_is_meant() -> None:
    known = Known(smallest=10.0, new=(10.9, 11.0), neighbours=(10.85, 10.86), turn=0.5, thimble=True)
    found = likely_slip(
        12.36, Known(smallest=10.0, new=(10.9, 11.0), neighbours=(11.86, 11.85), turn=0.5, thimble=True)
    )
    assert likely_slip(10.86, known) is None
    assert found is None or found.instead == pytest.approx(11.86)


def test_the_question_says_what_it_would_be() -> None:
    found = likely_slip(2.678, BORE)
    assert found is not None
    assert sentence(2.678, found, "mm") == "2.678 mm: was it read in inches? Then it is 68.0212 mm."


@given(st.integers(0, 165))
def test_whatever_lies_between_new_and_limit_is_never_questioned(thousandths: int) -> None:
    assert likely_slip(68 + thousandths / 1000, BORE) is None


CHECKS = {
    "bore": BORE,
    "skirt": SKIRT,
    "gudgeon pin": Known(smallest=17.95, new=(17.994, 18.0), turn=0.5, thimble=True),
    "crankpin": Known(smallest=29.92, new=(29.97, 29.98), turn=0.5, thimble=True),
    "end float": Known(largest=0.6, new=(0.05, 0.25), turn=1.0),
}


def _planted(slip: Slip, size: float, chance: random.Random) -> float | None:
    if slip is Slip.TENFOLD:
        return round(size * chance.choice([0.1, 10]), 6)
    if slip is Slip.INCH:
        return round(size / 25.4, 4)
    if slip is Slip.THIMBLE:
        return round(size + chance.choice([-0.5, 0.5]), 6)
    others = turned_round(size)
    return chance.choice(others) if others else None


@pytest.mark.parametrize("slip", [Slip.TENFOLD, Slip.INCH, Slip.THIMBLE, Slip.TURNED])
def test_planted_slips_in_the_sizes_of_an_engine_are_found_or_make_no_odds(slip: Slip) -> None:
    """Of 400 planted slips that leave the plausible sizes, at least 95 of 100 are answered with what was read."""
    chance = random.Random(11)
    asked = right = 0
    for _ in range(400):
        name = chance.choice(["bore", "skirt", "gudgeon pin", "crankpin"])
        known = CHECKS[name]
        if slip is Slip.THIMBLE and not known.thimble:
            continue
        low, high = known.ends or (0.0, 0.0)
        size = round(chance.uniform(low, high), 2)
        typed = _planted(slip, size, chance)
        if typed is None or not known.is_past(typed):
            continue
        found = likely_slip(typed, known)
        asked += 1
        right += found is not None and abs(found.instead - size) < 0.006
    assert asked > 100
    assert right >= 0.95 * asked


def test_an_instrument_cannot_show_what_lies_beyond_it() -> None:
    assert out_of_reach(27.3, (0, 25))
    assert not out_of_reach(25.2, (0, 25))
    assert not out_of_reach(27.3, None)


def test_the_class_found_something_else() -> None:
    others = [68.02, 68.03, 68.05, 68.04]
    assert apart_from_class(68.21, others, 0.01) == (68.02, 68.05)
    assert apart_from_class(68.06, others, 0.01) is None
    assert apart_from_class(68.21, others[:2], 0.01) is None


def test_a_place_that_was_meant_is_found() -> None:
    assert nearest_place("TOP", ("top", "middle")) == "top"
    assert nearest_place("left", ("top", "middle")) is None
