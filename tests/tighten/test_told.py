"""A loose bolt as a person tells it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.quantity import NotUnderstood
from fingertight.tighten.bolts.told import read_loose


@pytest.mark.parametrize(
    ("text", "count", "thread", "length", "head"),
    [
        ("M6x28 hex flange", 1, "M6", 28, "hex flange"),
        ("m6 x 28", 1, "M6", 28, ""),
        ("6 x M6x28 hex flange", 6, "M6", 28, "hex flange"),
        ("12 M8 x 60", 12, "M8", 60, ""),
        ("3 × M6x0.75x20 socket cap", 3, "M6x0.75", 20, "socket"),
        ("M8x1", 1, "M8x1", None, ""),
        ("M8x1,25x30", 1, "M8", 30, ""),
        ("M6x8", 1, "M6", 8, ""),
        ("M10, 25 mm long, hex bolt", 1, "M10", 25, "hex"),
        ("hex flange bolts M8x25", 1, "M8", 25, "hex flange"),
        ("1/4-20 UNC x 3/4 in hex", 1, "1/4-20 UNC", 19.05, "hex"),
        ("1/4-20 x 3/4 in hex", 1, "1/4-20 UNC", 19.05, "hex"),
        ("2 x #10-24 x 1/2 in", 2, "#10-24 UNC", 12.7, ""),
        ("M6 flange nut", 1, "M6", None, "flange nut"),
        ("hex M6 length 16", 1, "M6", 16, "hex"),
    ],
)
def test_a_bolt_is_told_by_thread_length_and_head(
    text: str, count: int, thread: str, length: float | None, head: str
) -> None:
    told = read_loose(text)
    assert (told.count, told.bolt.threads[0][0], told.bolt.head) == (count, thread, head)
    assert told.bolt.length_mm == (None if length is None else pytest.approx(length))


def test_a_bolt_is_told_as_caliper_and_pitch_gauge_read_it() -> None:
    told = read_loose("2 x 5.9 mm, 10 threads in 10 mm, 28.4 mm long, hex flange")
    best = max(told.bolt.threads, key=lambda one: one[1])
    assert (told.count, best[0], told.bolt.length_mm, told.bolt.head) == (2, "M6", 28.4, "hex flange")
    assert told.bolt.length_error_mm < read_loose("M6x28").bolt.length_error_mm


def test_a_length_alone_is_enough_and_about_makes_it_rough() -> None:
    told = read_loose("about 28 long")
    assert told.bolt.threads == ()
    assert told.bolt.length_error_mm == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Nothing was written; write for example M6x28 hex flange."),
        ("M6x0", "“0” is no length; it is more than 0, for example M6x28 hex flange."),
        ("M6 x 28 x 30", "“M6 x 28 x 30” has two lengths; write one, for example M6x28 hex flange."),
        ("hex flange", "“hex flange” names neither a thread nor a length; write for example M6x28 hex flange."),
        (
            "M6x28 rusty",
            "“rusty” is not understood; write thread, length, head and class, for example M6x28 hex flange 8.8.",
        ),
        ("999 x M6x28", "999 of one kind are more than lie in a tray; write 1 to 200."),
        ("M6.5x20", "There is no thread “M6.5” in the tables; the nearest are M6, M7, M5."),
    ],
)
def test_what_is_no_bolt_is_answered_with_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_loose(text)
    assert str(refused.value) == sentence


@given(st.text(max_size=40))
def test_anything_told_is_a_bolt_or_a_sentence(text: str) -> None:
    try:
        told = read_loose(text)
    except NotUnderstood as slip:
        said = str(slip)
    else:
        said = "."
        assert told.count >= 1
        assert told.bolt.length_mm is None or told.bolt.length_mm > 0
    assert said.endswith((".", "?"))
