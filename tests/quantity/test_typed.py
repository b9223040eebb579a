"""A number as a person types it at the bench, and the sentence when it is none."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.quantity import (
    HOUSE,
    UNITS,
    NotUnderstood,
    converted,
    in_house,
    plain,
    read_number,
    read_quantity,
    shown,
    unit_named,
)  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("68.02", 68.02), ("68,02", 68.02), (" 68.02 ", 68.02), ("0.5", 0.5), (".5", 0.5), (",5", 0.5), ("5.", 5.0),
        ("-3", -3.0), ("−3", -3.0), ("9" * 40, 1e40),
        ("+3", 3.0), ("3/8", 0.375), ("1 1/4", 1.25), ("1-1/4", 1.25), ("-1/2", -0.5),
        ("007", 7.0),
    ],
)  # fmt: skip
def test_a_number_is_read_as_it_is_meant(typed: str, value: float) -> None:
    assert read_number(typed) == value


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Nothing was typed; write a number, for example 68.02."),
        ("   ", "Nothing was typed; write a number, for example 68.02."),
        ("abc", "“abc” is not a number; write digits with one decimal mark, for example 68.02."),
        ("68o2", "“68o2” is not a number; write digits with one decimal mark, for example 68.02."),
        ("1e5", "“1e5” is not a number; write digits with one decimal mark, for example 68.02."),
        ("nan", "“nan” is not a number; write digits with one decimal mark, for example 68.02."),
        ("٣", "“٣” is not a number; write digits with one decimal mark, for example 68.02."),
        (
            "1.000,5",
            "“1.000,5” has two marks; write one decimal mark and no mark for thousands, for example 68.02.",
        ),
        ("1/0", "“1/0” divides by nothing; write the fraction again."),
        ("9" * 41, "“999999999999…” is too long to be a size; write a number, for example 68.02."),
        ("1/" + "9" * 5000, "“1/9999999999…” is too long to be a size; write a number, for example 68.02."),
    ],
)
def test_what_is_no_number_is_answered_with_a_sentence(typed: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_number(typed)
    assert str(refused.value) == sentence


@given(st.text(max_size=12))
def test_anything_typed_is_a_finite_number_or_a_sentence(typed: str) -> None:
    try:
        value = read_number(typed)
    except NotUnderstood:
        return
    assert math.isfinite(value)


@given(st.text(alphabet="0123456789/ -.", max_size=700))
def test_digits_and_bars_of_any_length_are_a_finite_number_or_a_sentence(typed: str) -> None:
    try:
        value = read_number(typed)
    except NotUnderstood:
        return
    assert math.isfinite(value)


@pytest.mark.parametrize(
    ("typed", "meant", "read"),
    [
        ("68.02", "mm", (68.02, "mm")), (" " * 60 + "2.5 in ", "mm", (2.5, "in")),
        ("2.678 in", "mm", (2.678, "in")), ('2.678"', "mm", (2.678, "in")),
        ("15 µm", "mm", (15.0, "µm")), ("15um", "mm", (15.0, "µm")), ("10Nm", "lb·ft", (10.0, "N·m")),
        ("7,4 ft·lb", "N·m", (7.4, "lb·ft")), ("12°", "deg", (12.0, "deg")), ("1 1/4 in", "mm", (1.25, "in")),
        ("0.6 l", "ml", (0.6, "l")), ("20 °C", "°C", (20.0, "°C")),
    ],
)  # fmt: skip
def test_a_quantity_keeps_the_unit_it_was_typed_in(typed: str, meant: str, read: tuple[float, str]) -> None:
    assert read_quantity(typed, meant) == read


@pytest.mark.parametrize(
    ("typed", "meant", "sentence"),
    [
        ("10 N·m", "mm", "N·m is a torque, mm a length: write it in mm."),
        ("10 furlongs", "mm", "There is no unit “furlongs” here; write one of mm, in, µm, thou."),
        ("5 mil", "mm", "“mil” is a thousandth of an inch to some and a millimetre to others; write thou or mm."),
        ("5 Mils", "in", "“Mils” are thousandths of an inch to some and millimetres to others; write thou or mm."),
        ("10 radians", "deg", "There is no unit “radians” here; write deg."),
        ("34.o1", "mm", "“34.o1” is not a number; write digits with one decimal mark, for example 68.02."),
        ("34o1", "mm", "“34o1” is not a number; write digits with one decimal mark, for example 68.02."),
        ("34.o", "mm", "“34.o” is not a number; write digits with one decimal mark, for example 68.02."),
        (" " * 100_000 + "x", "mm", "“x” is not a number; write digits with one decimal mark, for example 68.02."),
        ("mm", "mm", "“mm” is not a number; write digits with one decimal mark, for example 68.02."),
    ],
)
def test_a_wrong_unit_is_answered_with_a_sentence(typed: str, meant: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_quantity(typed, meant)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("name", "spelt"),
    [
        ("N·m", ["Nm", "N-m", "N⋅m", "N m", "N.m", "NM", "newton metres"]),
        ("lb·ft", ["ft lbs", "ft-lbs", "ft lb", "lb ft", "Ft. Lbs.", "FT-LB", "foot pounds", "foot-pounds", "lbf·ft"]),
        ("lb·in", ["in-lbs", "in lbs", "in lb", "lb in", "inch pounds", "inch-lbs", "lbf-in"]),
        ("kgf·m", ["kgf m", "kg m", "mkg", "kgm", "kg·m", "kp m", "mkp"]),
        ("kgf·cm", ["kgf cm", "kg cm", "cmkg", "kgcm", "kg-cm"]),
    ],
)
def test_a_torque_is_read_however_a_wrench_or_a_manual_spells_it(name: str, spelt: list[str]) -> None:
    for unit in spelt:
        assert read_quantity(f"21 {unit}", "N·m") == (21.0, name), unit


@pytest.mark.parametrize("unit", ["ft", "lb/ft", "m", "N", "kg", "mm kg", "lb lb", "ft ft", "N m m", "pound"])
def test_half_a_torque_is_none(unit: str) -> None:
    with pytest.raises(NotUnderstood):
        read_quantity(f"21 {unit}", "N·m")


@pytest.mark.parametrize(
    ("spelt", "name"), [("Nm", "N·m"), ("ft·lb", "lb·ft"), ("L", "l"), ("degC", "°C"), ("μm", "µm")]
)
def test_a_unit_has_one_name_however_it_is_spelt(spelt: str, name: str) -> None:
    assert unit_named(spelt).name == name


@given(st.sampled_from(list(UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back_is_the_same_and_the_house_unit_is_one_of_its_kind(unit: str, value: float) -> None:
    house = HOUSE[UNITS[unit].measures]
    assert UNITS[house].in_house == 1.0
    assert converted(converted(value, unit, house), house, unit) == pytest.approx(value)
    assert in_house(value, unit) == pytest.approx(converted(value, unit, house))


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [
        (68.0213, 0.01, "68.02"),
        (10.0, 1, "10"),
        (0.15, 0.01, "0.15"),
        (68.0, 0.001, "68.000"),
        (-0.004, 0.01, "0.00"),
        (1e30, 0.001, "1" + "0" * 30 + ".000"),
    ],
)
def test_a_number_is_shown_with_the_decimals_its_instrument_is_worth(value: float, step: float, text: str) -> None:
    assert shown(value, step) == text


@pytest.mark.parametrize(
    ("value", "text"), [(28.0, "28"), (31.75, "31.75"), (100.0, "100"), (0.0001, "0.0001"), (1e16, "1" + "0" * 16)]
)
def test_a_number_in_a_name_has_no_trailing_zeros(value: float, text: str) -> None:
    assert plain(value) == text
