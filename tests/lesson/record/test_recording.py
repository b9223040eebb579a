"""The log of a recording folded: free names, ids that stay, what is taken back, answers about what came off."""

from typing import Any

import pytest

from fingertight.anatomy.read import read
from fingertight.lesson.record.asked import learned_from
from fingertight.lesson.record.drawn import drawn
from fingertight.lesson.record.recording import MOST_SETS, NotRecorded, Recording, checked, fold, recording_of
from fingertight.lesson.record.strips import strip_in


def said(kind: str, number: int = 1, **more: Any) -> dict[str, Any]:
    """An entry, so many minutes after nine."""
    at = f"2026-03-05T09:{number:02}:00+00:00"
    return {"id": f"{kind}-{number}", "kind": kind, "at": at, "by": "p-tilda", **more}


def off(number: int, name: str, **details: Any) -> dict[str, Any]:
    """A part came off."""
    return said("off", number, name=name, **details)


STRIPPED = (off(1, "Guard"), off(2, "Fan"), off(3, "Exhaust"), said("stays", 4, name="Crankcase"))


def test_parts_stand_in_the_order_in_which_they_came_off_and_what_stays_beside_them() -> None:
    recording = recording_of(STRIPPED)
    assert [part.id for part in recording.off] == ["guard", "fan", "exhaust"]
    assert [part.name for part in recording.staying] == ["Crankcase"]
    assert recording.strip("Tilda").order == ("guard", "fan", "exhaust")


@pytest.mark.parametrize(
    ("name", "part_id"),
    [
        ("Öl-Ablaßschraube", "ol-ablaschraube"),
        ("21 mm nut", "part-21-mm-nut"),
        ("火花塞", "part"),
        ("  Two   gaps ", "two-gaps"),
    ],
)
def test_an_id_is_made_of_any_name(name: str, part_id: str) -> None:
    [part] = recording_of([off(1, name)]).off
    assert part.id == part_id
    assert part.name == " ".join(name.split())


def test_a_name_is_taken_once_and_an_id_is_never_used_again() -> None:
    recording = recording_of(STRIPPED)
    with pytest.raises(NotRecorded, match="Fan was recorded before"):
        fold(recording, off(5, " fan "))
    fold(recording, said("back", 6, entry="off-2"))
    fold(recording, off(7, "Fan"))
    assert [part.id for part in recording.off] == ["guard", "exhaust", "fan-2"]
    assert [part.name for part in recording.taken_back] == ["Fan"]


def test_what_is_amended_keeps_its_place_and_its_id() -> None:
    recording = recording_of(STRIPPED)
    fold(recording, said("amend", 5, entry="off-2", name="Cooling fan", held_by=[{"thread": "M6", "count": 4}]))
    part = recording.off[1]
    assert (part.id, part.name, part.details.held_by[0].count) == ("fan", "Cooling fan", 4)
    fold(recording, said("amend", 6, entry="off-2", name="Cooling fan"))
    assert recording.off[1].details.held_by == ()


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        (said("party", 5), "no entries of kind 'party'"),
        ({**off(5, "Lid"), "at": "nine"}, "'nine' is not a time with its offset"),
        ({**off(5, "Lid"), "by": ""}, "says `by` (str)"),
        (off(5, "   "), "The part has no name"),
        (said("back", 5, entry="nobody"), "There is no such part in this recording"),
        (said("amend", 5, entry="off-9", name="Lid"), "There is no such part in this recording"),
        (off(5, "Lid", held_by=[{"thread": "M6", "count": 0}]), "0 is no number of pieces from 1 to 200"),
        (off(5, "Lid", held_by=[{"thread": "M6", "length": -1}]), "-1 is no length under a head"),
        (off(5, "Lid", held_by=[{}] * (MOST_SETS + 1)), "held by 8 kinds of fastener at most"),
        (said("answer", 5, part="fan", on=["crankcase"], said="no"), "no answer about parts that came off"),
        (said("answer", 5, part="fan", on=[], said="no"), "no answer about parts that came off"),
        (said("answer", 5, part="fan", on=["guard"], said="perhaps"), "no answer about parts that came off"),
        (said("film", 5, second="0"), "says `second` (float)"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence_and_changes_nothing(entry: dict[str, Any], sentence: str) -> None:
    recording = recording_of(STRIPPED)
    before = list(recording.parts), list(recording.answers), recording.film
    with pytest.raises(NotRecorded) as wrong:
        fold(recording, entry)
    assert sentence in str(wrong.value)
    assert (recording.parts, recording.answers, recording.film) == before


def test_the_mark_of_the_film_may_be_made_again() -> None:
    recording = recording_of([said("film", 1, second=12.0), *STRIPPED, said("film", 9, second=75.5)])
    assert recording.film == (75.5, checked(said("film", 9, second=0.0)))


def text_of(recording: Recording) -> str:
    """The machine file of a recording with its answers."""
    return drawn("Pump", recording, learned_from(recording, "Tilda, Thursday"), "2026-03-05")


def test_answers_loosen_the_chain_and_the_file_says_what_is_only_likely() -> None:
    free = said("answer", 5, part="exhaust", on=["fan"], said="yes")
    sure = said("answer", 6, part="fan", on=["guard"], said="no")
    text = text_of(recording_of([*STRIPPED, free, sure]))
    anatomy = read(text).anatomy
    assert anatomy is not None
    behind = {part.id: part.behind for part in anatomy.parts}
    assert behind == {"crankcase": (), "guard": (), "fan": ("guard",), "exhaust": ("guard",)}
    assert "1 of its blockers are likely only: nobody was sure" in text
    assert anatomy.part_by_id["crankcase"].stays


def test_what_was_said_of_a_part_stands_in_the_file() -> None:
    cover = off(
        1,
        "Side cover",
        held_by=[{"thread": "M6", "length": 28, "count": 6}, {"kind": "circlip"}],
        **{"with": [["dowel", 2]]},
        tools=["soft mallet"],
        care="Face down on a rag",
        caution="Edges are sharp",
        rests="cover up",
    )
    anatomy = read(text_of(recording_of([cover]))).anatomy
    assert anatomy is not None
    [part] = anatomy.parts
    assert part.bag_holds == {"M6x28": 6, "circlip": 1, "dowel": 2}
    assert (part.tools, part.care, part.cautions) == (("soft mallet",), "Face down on a rag", ("Edges are sharp",))
    assert anatomy.machine.rests == ("cover up",)


def test_an_answer_about_a_part_that_was_taken_back_is_let_go() -> None:
    answer = said("answer", 5, part="exhaust", on=["fan"], said="yes")
    recording = recording_of([*STRIPPED, answer, said("back", 6, entry="off-2")])
    learned = learned_from(recording, "Tilda")
    assert learned.parts == ("Guard", "Exhaust")
    assert learned.answers == ()


def test_of_nothing_no_machine_is_made() -> None:
    with pytest.raises(ValueError, match="nothing was recorded"):
        text_of(recording_of([said("stays", 1, name="Frame")]))


def test_a_strip_is_read_out_of_a_bench_log_up_to_where_it_is_built_back() -> None:
    log = [
        {"id": "1", "kind": "off", "part": "guard", "bag": "1"},
        {"id": "2", "kind": "off", "part": "exhaust", "bag": "2"},
        {"id": "3", "kind": "undo", "entry": "2"},
        {"id": "4", "kind": "off", "part": "fan", "bag": "2"},
        {"id": "5", "kind": "off", "part": "guard", "bag": "1"},
        {"id": "6", "kind": "on", "part": "fan"},
        {"id": "7", "kind": "off", "part": "exhaust", "bag": "3"},
        "no entry at all",
    ]
    assert strip_in(log, "bench 4").order == ("guard", "fan")  # type: ignore[arg-type]
