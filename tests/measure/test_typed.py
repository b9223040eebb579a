"""A reading is typed as it was read: commas, units, leaves, turns, several of one spot."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.measure.typed import Scale, as_read
from fingertight.quantity import NotUnderstood

DIAL = Scale("mm", 0.01, 1.0)
MICROMETER = Scale("mm", 0.01)


@pytest.mark.parametrize(
    ("typed", "values", "unit"),
    [
        ("68.02", (68.02,), "mm"),
        ("68,02", (68.02,), "mm"),
        (" 68,02 mm ", (68.02,), "mm"),
        ("2.678 in", (2.678,), "in"),
        ("20 thou", (20.0,), "thou"),
        ("−0.02", (-0.02,), "mm"),
        ("1 1/4 in", (1.25,), "in"),
        ("M 0.25 + 0.20", (0.45,), "mm"),
        ("m0,25+0,20", (0.45,), "mm"),
        ("10 + 8 thou", (18.0,), "thou"),
        ("0.010 + 0.008 in", (0.018,), "in"),
        ("2 turns + 0.34", (2.34,), "mm"),
        ("2t 34", (2.34,), "mm"),
        ("1 turn", (1.0,), "mm"),
        ("-1 turn 5", (-1.05,), "mm"),
        ("68.16 68.17 68,16", (68.16, 68.17, 68.16), "mm"),
        ("68,02; 68,03", (68.02, 68.03), "mm"),
        ("68.02, 68.03", (68.02, 68.03), "mm"),
        ("2.678 in 2.679 in", (2.678, 2.679), "in"),
        ("2.678 2.679 in", (2.678, 2.679), "in"),
    ],
)  # fmt: skip
def test_what_was_read_is_understood_as_it_was_typed(typed: str, values: tuple[float, ...], unit: str) -> None:
    read = as_read(typed, DIAL)
    assert read.values == pytest.approx(values)
    assert read.unit == unit


def test_what_is_more_than_one_number_says_how_it_was_understood() -> None:
    assert as_read("0.25 + 0.20", MICROMETER).said == "2 leaves, together 0.45 mm"
    assert as_read("2t 34", DIAL).said == "2 turns of 1 and 0.34: 2.34 mm"
    assert as_read("68,02; 68,03", MICROMETER).said == "2 readings, mean 68.025 mm"
    assert as_read("68,02", MICROMETER).said == ""


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Nothing was typed; write a number, for example 68.02."),
        ("wide", "“wide” is not a number; write digits with one decimal mark, for example 68.02."),
        (
            "68.02,68.03",
            "“68.02,68.03” has two marks; write one decimal mark and no mark for thousands, for example 68.02.",
        ),
        ("68 020", "“68 020”: write no space within a number; several readings stand apart with ;."),
        ("0.25 +", "“0.25 +” has nothing on one side of a +; write for example 0.25 + 0.20."),
        ("0.25 + -0.20", "“0.25 + -0.20”: a leaf has a thickness; write for example 0.25 + 0.20."),
        ("12 °C", "°C is a temperature, mm a length: write it in mm."),
        (
            "2 turns + 1.4",
            "“2 turns + 1.4”: beside whole turns the hand shows less than one turn, 1 mm; "
            "write for example 2 turns + 0.34.",
        ),
        ("1 " * 40, "“1 1 1 1 1 1 1 1 1 1 1 1 …” holds 40 readings of one spot; 30 are the most."),
    ],
)
def test_what_is_no_reading_is_answered_with_its_mend(typed: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        as_read(typed, DIAL)
    assert str(refused.value) == sentence


def test_an_instrument_without_a_hand_has_no_turns() -> None:
    with pytest.raises(NotUnderstood, match="this instrument has none; write the size it shows"):
        as_read("2 turns 0.3", MICROMETER)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    said = ""
    try:
        read = as_read(text, DIAL)
    except NotUnderstood as slip:
        said = str(slip)
    assert said.endswith((".", "?")) if said else read.values


@given(st.lists(st.integers(-99_999, 99_999), min_size=2, max_size=12))
def test_several_readings_come_back_as_they_were_typed(hundredths: list[int]) -> None:
    typed = "; ".join(f"{one / 100:.2f}".replace(".", ",") for one in hundredths)
    assert as_read(typed, MICROMETER).values == pytest.approx([one / 100 for one in hundredths])
