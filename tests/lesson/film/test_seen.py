"""Where a machine's parts are seen done: the film of a recording under the parts the machine has now."""

from typing import Any

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.lesson.film.seen import film_moves, seen_done
from fingertight.lesson.record.recording import NotRecorded, Recording, recording_of

BOX = {
    "format": 1,
    "machine": {"name": "Box"},
    "part": [
        {"id": "frame", "stays": True},
        {"id": "lid", "name": "Lid"},
        {"id": "tray", "name": "Tray", "behind": ["lid"]},
    ],
}
MARK = {"kind": "film", "second": 10.0}


def box(**renamed: str) -> Anatomy:
    """The box, its parts under other names."""
    parts: Any = BOX["part"]
    return Anatomy.model_validate({**BOX, "part": [{**one, **_new(one, renamed)} for one in parts]})


def _new(part: dict[str, Any], renamed: dict[str, str]) -> dict[str, Any]:
    if part["id"] not in renamed:
        return {"behind": [renamed.get(one, one) for one in part["behind"]]} if "behind" in part else {}
    return {"id": renamed[part["id"]], "name": part.get("name", "")}


def told(*said: dict[str, Any]) -> Recording:
    """A recording: its entries a minute apart, the first at nine o'clock."""
    return recording_of(
        {"id": str(number), "at": f"2026-03-05T09:{number:02}:00+00:00", "by": "t", **one}
        for number, one in enumerate(said)
    )


def seen(*moves: tuple[str, str, float]) -> dict[str, Any]:
    """An entry that puts moves by hand."""
    return {"kind": "seen", "moves": [{"part": part, "name": part, "way": way, "second": s} for part, way, s in moves]}


def test_a_strip_recorded_by_doing_has_a_chapter_for_each_part_that_is_still_in_the_file() -> None:
    recording = told(
        MARK, {"kind": "off", "name": "Lid"}, {"kind": "off", "name": "Tray"}, {"kind": "off", "name": "Pin"}
    )
    found = seen_done(box(), recording)
    assert [(one.title, one.starts_s, one.ends_s) for one in found.chapters] == [
        ("Lid off", 0.0, 70.0),
        ("Tray off", 70.0, 130.0),
    ]
    assert found.says == ("In the machine’s file Pin is no more, so its place is left out.",)


def test_a_part_whose_id_was_changed_is_known_by_its_name() -> None:
    recording = told(MARK, {"kind": "off", "name": "Lid"})
    assert [one.part for one in film_moves(box(lid="cover"), recording)[0]] == ["cover"]


def test_without_a_mark_nothing_has_a_place_and_that_is_said() -> None:
    found = seen_done(box(), told({"kind": "off", "name": "Lid"}))
    assert found.chapters == ()
    assert found.says == ("The film has no mark yet: nobody knows where in it a part comes off.",)


def test_a_film_of_an_older_strip_becomes_a_recording_with_its_seconds() -> None:
    recording = told({**MARK, "second": 0.0}, seen(("tray", "off", 50.0), ("lid", "off", 20.0), ("lid", "on", 90.0)))
    assert [part.name for part in recording.off] == ["lid", "tray"]
    assert [(one.title, one.starts_s, one.ends_s) for one in seen_done(box(), recording).chapters] == [
        ("Lid off", 0.0, 20.0),
        ("Tray off", 20.0, 50.0),
        ("Lid on", 50.0, 90.0),
    ]


def test_what_is_dragged_counts_and_what_is_not_seen_has_no_chapter() -> None:
    first = ({**MARK, "second": 0.0}, seen(("lid", "off", 20.0), ("tray", "off", 50.0), ("tray", "on", 80.0)))
    dragged = told(*first, seen(("lid", "off", 30.5)))
    assert [one.ends_s for one in seen_done(box(), dragged).chapters] == [30.5, 50.0, 80.0]
    without = told(*first, *({"kind": "unseen", "part": "tray", "way": way} for way in ("off", "on")))
    assert [one.title for one in seen_done(box(), without).chapters] == ["Lid off"]
    assert [part.id for part in without.off] == ["lid"]
    again = told(*first, {"kind": "unseen", "part": "tray", "way": "off"}, seen(("tray", "off", 44.0)))
    assert [one.ends_s for one in seen_done(box(), again).chapters] == [20.0, 44.0, 80.0]


def test_a_press_that_came_late_is_dragged_right_and_the_part_stays_what_it_was() -> None:
    recording = told(MARK, {"kind": "off", "name": "Lid", "care": "mind the edge"}, seen(("lid", "off", 55.0)))
    assert [(one.at_s, one.by_hand) for one in film_moves(box(), recording)[0]] == [(55.0, True)]
    assert recording.off[0].details.care == "mind the edge"
    hidden = told(MARK, {"kind": "off", "name": "Lid"}, {"kind": "unseen", "part": "lid", "way": "off"})
    assert seen_done(box(), hidden).chapters == ()
    assert [part.name for part in hidden.off] == ["Lid"], "it did come off: only the film does not show it"


def test_a_film_cut_anew_needs_one_new_mark_only() -> None:
    recording = told({**MARK, "second": 0.0}, seen(("lid", "off", 60.0)), {"kind": "film", "second": 30.0})
    assert seen_done(box(), recording).chapters == ()  # two minutes into the old film is half a minute into the new
    assert seen_done(box(), recording).says == ("1 move comes before the film begins.",)


def test_moves_of_one_moment_share_its_time() -> None:
    recording = told({**MARK, "second": 0.0}, seen(("lid", "off", 20.0), ("tray", "off", 20.0)))
    assert [(one.starts_s, one.ends_s) for one in seen_done(box(), recording).chapters] == [(0.0, 10.0), (10.0, 20.0)]


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        (seen(("lid", "up", 1.0)), "A part comes off or goes on."),
        (seen(("lid", "off", -1.0)), "That is before a film begins"),
        (seen(("lid", "off", float("nan"))), "is no second of a film"),
        (seen(), "This says no move of a film."),
        (seen(("", "off", 1.0)), "A move names no part."),
        ({"kind": "captions", "name": "a.vtt", "cues": [[1, 2]]}, "has no times"),
    ],
)
def test_what_cannot_be_in_a_film_is_refused_with_a_sentence(said: dict[str, Any], sentence: str) -> None:
    with pytest.raises(NotRecorded, match=sentence):
        told(MARK, said)


def test_without_a_mark_nothing_can_be_put() -> None:
    with pytest.raises(NotRecorded, match="The film has no mark yet"):
        told(seen(("lid", "off", 1.0)))
