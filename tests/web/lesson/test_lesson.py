"""The page of a lesson: who is away, where each bench stopped, five minutes left, what is missing, the close."""

import json

import pytest

from fingertight.store.school.tables import ClassEntry
from fingertight.web.lesson import courses
from tests.web.people.cast import Cast, said
from tests.web.tablet import Tablet


def page_of(cast: Cast) -> Tablet:
    """The instructor at the lesson."""
    teacher = cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    return teacher


def written(cast: Cast) -> list[dict[str, object]]:
    """What stands in the class's log."""
    bodies = ClassEntry.objects.filter(class_slug=cast.of.slug).order_by("seq").values_list("body", flat=True)
    return [json.loads(body) for body in bodies]


def closed(cast: Cast) -> Tablet:
    """The instructor after the second lesson."""
    teacher = page_of(cast)
    teacher.presses("Close lesson 2", word="The bore gauge is not found.")
    return teacher


def test_before_it_opens_the_page_says_where_each_bench_stopped_and_what_to_say_first(cast: Cast) -> None:
    page = closed(cast).page
    stopped = page.text.partition("Where each bench stopped ")[2]
    assert [number for number in ("4", "7", "11", "14") if f"Bench {number} " not in stopped] == []
    assert "parts off" in stopped
    safety = page.text.partition("Say before they begin ")[2]
    assert safety.startswith("Makers’ data, the workshop’s rules, local law and licensed practice come first.")
    assert "Students join with this code" not in page.text


def test_who_is_ticked_is_away_when_it_opens_and_may_come_after_all(cast: Cast) -> None:
    teacher = closed(cast)
    people = {name: cast.people[name].id for name in ("Ada", "Eli")}
    teacher.presses("Open lesson 3", minutes="45", away=list(people.values()))
    assert "6 of 8 here." in teacher.page.text
    form = next(form for form in teacher.page.forms if "Away: came after all: Ada" in form.buttons)
    teacher.sends(form, {"act": "here"})
    assert "7 of 8 here." in teacher.page.text
    kinds = [(one["kind"], one.get("person")) for one in written(cast)][-4:]
    assert kinds[0] == ("open", None)
    assert kinds[3] == ("here", people["Ada"])


def test_five_minutes_left_is_told_to_every_bench_and_to_no_other(cast: Cast) -> None:
    student = cast.student("Cleo")
    bench = f"/bench/{cast.job('Cleo').slug}"
    assert "The lesson ends at" not in student.opens(bench).text
    page_of(cast).presses("Five minutes left")
    assert "Finish the move you are at, then count, wipe, and bring the tools back." in student.opens(bench).text


def test_what_is_missing_is_said_with_bench_since_when_and_who_had_it_last(cast: Cast) -> None:
    student = cast.student("Cleo")
    student.opens(f"/tools/{cast.job('Cleo').slug}")
    form = next(form for form in student.page.forms if form.fields.get("tool") == "torque wrench")
    student.sends(form, {"way": "out"})
    missing = page_of(cast).page.text.partition("Count, then close ")[2]
    line = missing[missing.index("Bench 7") :]
    assert "orque wrench" in line.partition("Bench 1")[0]
    assert "Last in sight" in line
    assert "Cleo" in line


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"minutes": "soon"}, "Minutes of this lesson: “soon”"),
        ({"minutes": "601"}, "is no whole number from 1 to 600."),
        ({"act": "party"}, "This form says nothing known here. Load the page again."),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(cast: Cast, typed: dict[str, str], sentence: str) -> None:
    teacher = closed(cast)
    before = written(cast)
    teacher.presses("Open lesson 3", **typed)
    assert teacher.answer.status_code == 422
    assert sentence in teacher.page.text
    assert written(cast) == before


def test_a_press_sent_twice_is_written_once_and_a_second_lesson_is_not_opened(cast: Cast) -> None:
    teacher = closed(cast)
    form = teacher.form("Open lesson 3")
    for _ in range(2):
        assert teacher.client.post(f"/class/{cast.of.slug}/lesson", {**form.fields, "act": "open"}).status_code == 303
    assert [one["kind"] for one in written(cast)].count("open") == 3
    teacher.sends(form, {"act": "open", "id": "another-press"})
    assert said(teacher.page) == "Lesson 3 is open already."


def test_a_stranger_to_the_class_is_neither_away_nor_here(cast: Cast) -> None:
    teacher, before = page_of(cast), written(cast)
    teacher.client.post(f"/class/{cast.of.slug}/lesson", {"act": "away", "person": cast.people["Odo"].id})
    assert written(cast) == before


def test_the_word_of_a_close_is_read_at_the_class_and_the_next_count_starts_from_what_is_short(cast: Cast) -> None:
    teacher = closed(cast)
    assert "“The bore gauge is not found.”" in teacher.opens(f"/class/{cast.of.slug}").text
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    teacher.presses("Open lesson 3", minutes="90")
    assert "not right yet." in teacher.page.text.partition("Count, then close ")[2]
    assert courses.course(cast.of.workshop, cast.of.slug).lessons[1].short > 0


def test_a_hand_over_sheet_is_printed_for_the_group_that_goes_on(cast: Cast) -> None:
    teacher = closed(cast)
    answer = teacher.client.get(f"/wall/hand-over.pdf?class={cast.of.slug}")
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
