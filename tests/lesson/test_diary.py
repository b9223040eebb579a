"""The log of a class folded to its state: one lesson at a time, a queue that is fair, a close that needs a word."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.lesson.diary import LONGEST_LESSON_MIN, Course, Lesson, NotInTheDiary, checked, course_of, fold

TILDA = "p-tilda"


def said(kind: str, minute: int = 0, **more: Any) -> dict[str, Any]:
    """An entry made so many minutes after nine."""
    hour, minute = divmod(9 * 60 + minute, 60)
    at = f"2026-03-05T{hour:02}:{minute:02}:00+00:00"
    return {"id": f"{kind}-{hour}-{minute}-{more.get('bench', '')}", "kind": kind, "at": at, "by": TILDA, **more}


def ask(minute: int, bench: str, tool: str = "torque wrench", kind: str = "ask") -> dict[str, Any]:
    """A bench stands in the queue, or leaves it."""
    return said(kind, minute, tool=tool, bench=bench)


NINE = checked(said("close", 0, short=0))
OPENED = said("open", 0, minutes=90)


def queue(*entries: dict[str, Any]) -> list[tuple[str, float]]:
    """Who waits, and since how many minutes after nine."""
    return [(one.bench, (one.since - NINE) / 60) for one in course_of([OPENED, *entries]).waiting]


def test_lessons_are_numbered_and_one_is_open_at_a_time() -> None:
    course = course_of([OPENED, said("close", 90, short=0), said("open", 120, minutes=45)])
    assert [lesson.number for lesson in course.lessons] == [1, 2]
    assert course.now is course.lessons[1]
    assert (course.next_number, course.lessons[0].closed) == (2, NINE + 90 * 60)
    with pytest.raises(NotInTheDiary, match=r"Lesson 2 is open already\. Close it first\."):
        fold(course, said("open", 121, minutes=45))


@pytest.mark.parametrize(
    "entry",
    [
        said("away", person="p-1"),
        said("here", person="p-1"),
        said("ending", minutes=5),
        ask(1, "Bench 1"),
        ask(1, "Bench 1", kind="leave"),
        said("close", short=0),
    ],
    ids=lambda entry: str(entry["kind"]),
)
def test_between_lessons_nothing_of_a_lesson_can_be_said(entry: dict[str, Any]) -> None:
    for before in ([], [OPENED, said("close", 60, short=0)]):
        with pytest.raises(NotInTheDiary, match=r"No lesson is open\. Open one first\."):
            fold(course_of(before), entry)


def test_somebody_is_moved_at_any_time() -> None:
    assert course_of([said("seat", person="p-1", bench="Bench 2")]) == Course()


def test_who_is_away_came_after_all_and_all_are_expected_again_the_next_time() -> None:
    course = course_of(
        [OPENED, said("away", person="p-1"), said("away", 1, person="p-2"), said("here", 9, person="p-1")]
    )
    assert course.away == {"p-2"}
    assert fold(fold(course, said("close", 90, short=0)), said("open", 99, minutes=90)).away == set()


def test_five_minutes_left_moves_the_end_and_is_said_until_the_next_lesson() -> None:
    course = course_of([OPENED])
    assert (course.minutes_left(NINE + 30 * 60), course.ending_said) == (60, False)
    fold(course, said("ending", 40, minutes=5))
    assert (course.minutes_left(NINE + 41 * 60), course.ending_said) == (4, True)
    assert course.minutes_left(NINE + 999 * 60) == 0
    fold(course, said("close", 50, short=0))
    assert course.minutes_left(NINE + 51 * 60) is None
    assert fold(course, said("open", 60, minutes=90)).ending_said is False


def test_a_lesson_has_gone_on_for_no_longer_than_it_was_planned() -> None:
    course = course_of([OPENED])
    assert [course.elapsed_min(NINE + minute * 60) for minute in (-5, 0, 30, 200)] == [0, 0, 30, 90]
    assert Course().elapsed_min(NINE) == 0


def test_the_queue_is_in_the_order_of_asking_and_asking_anew_begins_anew() -> None:
    assert queue(ask(1, "Bench 3"), ask(2, "Bench 1")) == [("Bench 3", 1), ("Bench 1", 2)]
    assert queue(ask(1, "Bench 3"), ask(2, "Bench 1"), ask(9, "Bench 3")) == [("Bench 1", 2), ("Bench 3", 9)]
    assert queue(ask(1, "Bench 3"), ask(2, "Bench 1"), ask(9, "Bench 3", kind="leave")) == [("Bench 1", 2)]
    assert queue(ask(1, "Bench 3"), ask(2, "Bench 3", "bore gauge")) == [("Bench 3", 1), ("Bench 3", 2)]
    assert queue(ask(1, "Bench 3"), said("close", 90, short=0)) == []


def test_with_something_short_a_lesson_closes_with_a_word_only_and_keeps_it() -> None:
    course = course_of([OPENED])
    for word in ({}, {"word": "  "}):
        with pytest.raises(NotInTheDiary, match="2 not right yet: find it, or write one sentence"):
            fold(course, said("close", 90, short=2, **word))
    assert course.now is not None
    fold(course, said("close", 90, short=2, word=" It is in the office. "))
    [lesson] = course.lessons
    assert lesson == Lesson(1, NINE, 90, TILDA, NINE + 90 * 60, 2, "It is in the office.", TILDA)


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ({**OPENED, "kind": "party"}, "no entries of kind 'party'"),
        ({**OPENED, "minutes": "90"}, "says `minutes` (int)"),
        ({**OPENED, "by": ""}, "says `by` (str)"),
        ({**OPENED, "at": "yesterday"}, "'yesterday' is not a time with its offset"),
        ({**OPENED, "at": "2026-03-05T09:00:00"}, "is not a time with its offset"),
        ({**OPENED, "minutes": 0}, "A lesson has 1 to 600 minutes, not 0"),
        ({**OPENED, "minutes": LONGEST_LESSON_MIN + 1}, "A lesson has 1 to 600 minutes, not 601"),
        ({"kind": "away"}, "says `id` (str)"),
    ],
)
def test_what_is_no_entry_is_refused_with_a_sentence(entry: dict[str, Any], sentence: str) -> None:
    with pytest.raises(NotInTheDiary) as wrong:
        checked(entry)
    assert sentence in str(wrong.value)


BENCHES = st.sampled_from(["Bench 1", "Bench 2", "Bench 3"])


@given(st.lists(st.tuples(st.sampled_from(["ask", "leave"]), BENCHES), max_size=30))
def test_a_bench_stands_in_a_queue_once_and_the_longest_wait_is_first(presses: list[tuple[str, str]]) -> None:
    found = queue(*(ask(minute, bench, kind=kind) for minute, (kind, bench) in enumerate(presses, 1)))
    last = {bench: (kind, minute) for minute, (kind, bench) in enumerate(presses, 1)}
    assert found == sorted(((bench, at) for bench, (kind, at) in last.items() if kind == "ask"), key=lambda one: one[1])
