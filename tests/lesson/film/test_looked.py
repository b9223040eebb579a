"""What captions propose besides what stands, and what is said of moves against the machine's file."""

from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.film.moves import film_field
from fingertight.lesson.film.clock import film_time
from fingertight.lesson.film.looked import against_the_file, proposed
from tests.lesson.film.test_seen import MARK, box, seen, told

CAPTIONS = {
    "kind": "captions",
    "name": "film.vtt",
    "cues": [[1.0, 4.0, "First the lid comes off."], [9.0, 12.0, "Then you can lift the tray out."]],
}


def test_captions_propose_what_is_not_settled_yet() -> None:
    begun = {**MARK, "second": 0.0}
    assert [one.part for one in proposed(box(), told(begun, CAPTIONS)).proposals] == ["lid", "tray"]
    settled = told(begun, CAPTIONS, seen(("lid", "off", 3.0)))
    assert [one.part for one in proposed(box(), settled).proposals] == ["tray"]
    none = told(begun, CAPTIONS, seen(("lid", "off", 3.0)), {"kind": "unseen", "part": "tray", "way": "off"})
    assert proposed(box(), none).proposals == ()
    assert proposed(box(), told(begun)).proposals == ()


def test_what_comes_off_before_its_blocker_is_said() -> None:
    said = against_the_file(box(), [("tray", "off", 10.0), ("lid", "off", 70.0)])
    assert said == {
        ("tray", "off"): "By the machine’s file Lid (1:10) comes off before it, and here only after it. "
        "Which of the times is right?"
    }
    assert against_the_file(box(), [("lid", "off", 10.0), ("tray", "off", 70.0)]) == {}


def test_what_goes_on_after_what_covers_it_is_said() -> None:
    said = against_the_file(box(), [("lid", "on", 10.0), ("tray", "on", 70.0)])
    assert said == {
        (
            "tray",
            "on",
        ): "By the machine’s file Lid (0:10) goes on after it, and here before. Which of the times is right?"
    }


def test_what_the_film_does_not_show_is_held_against_nothing() -> None:
    assert against_the_file(box(), [("tray", "off", 10.0)]) == {}
    assert against_the_file(box(), [("tray", "off", 10.0), ("lid", "off", 10.0)]) == {}, (
        "of one moment neither is first"
    )


@given(st.integers(0, 24 * 36_000 - 1))
def test_a_time_as_it_is_shown_is_read_back_as_the_same(tenths: int) -> None:
    assert film_time(film_field(tenths / 10)) == tenths / 10
