"""The versions of a machine: what changed in words, two side by side, going back without losing anything."""

import threading
import time

import pytest
from django.db import connections
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.change.versions import Kept, Row, beside_card, rows_of
from fingertight.store.kept import keep_machine
from fingertight.store.models import Job, MachineVersion
from fingertight.store.school.classes import classes
from fingertight.store.versions import newest_of, steps_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.lesson.classes import facts_of
from tests.web.tablet import Tablet
from tests.web.test_edit_part import EXHAUST, changes

VERSIONS = "/machine/pump-engine/versions"


def texts() -> list[str]:
    """The texts of the pump engine, the oldest first."""
    return [step.text.text for step in reversed(steps_of(the_workshop(), "pump-engine"))]


def test_a_machine_that_was_never_changed_has_one_version_and_nothing_to_undo(tablet: Tablet) -> None:
    page = tablet.opens(VERSIONS)
    assert "Version 1, the newest" in page.text
    assert "The first that was kept." in page.text
    assert tablet.buttons() == []
    assert "Undo the last change" not in tablet.opens("/machine/pump-engine").text


def test_what_changed_stands_in_words_with_when_and_by_whom(tablet: Tablet) -> None:
    changes(tablet, EXHAUST, minutes="9")
    page = tablet.opens(VERSIONS)
    assert "Version 2, the newest" in page.text
    assert "the owner." in page.text
    assert "Exhaust: minutes 9, was" in page.text
    assert "jobs on it" in page.text  # the demo's benches stand on the first


def test_a_change_is_undone_where_it_was_made_and_both_are_told(tablet: Tablet) -> None:
    before = texts()
    changes(tablet, EXHAUST, minutes="9")
    page = tablet.presses("Undo the last change")
    assert tablet.path.startswith(EXHAUST)
    assert "Back to the text of version 1: nothing is lost, the others stay. This is version 3;" in page.text
    assert (texts()[0], texts()[2]) == (before[0], before[0])
    page = tablet.opens(VERSIONS)
    assert "the text of version 1 again" in page.text
    listed = page.text.partition("All that was kept")[2]
    assert listed.index("Version 3, the newest") < listed.index("Version 2 ") < listed.index("Version 1 ")
    assert newest_of(the_workshop(), "pump-engine").number == 3  # type: ignore[union-attr]


def test_the_machine_s_page_says_what_was_changed_last_and_undoes_it(tablet: Tablet) -> None:
    changes(tablet, EXHAUST, minutes="9")
    page = tablet.opens("/machine/pump-engine")
    assert "Changed last: Exhaust: minutes 9, was" in page.text
    page = tablet.presses("Undo the last change")
    assert tablet.path.startswith("/machine/pump-engine?")
    assert "This is version 3 now." in page.text
    page = tablet.presses("Undo the last change")
    assert "Back to the text of version 2" in page.text
    assert texts()[1] == texts()[3]


@pytest.mark.parametrize(
    ("back", "where"),
    [
        ("/machine/pump-engine/part/one-more", VERSIONS),
        ("/machine/pump-engine/change/check/one-more", VERSIONS),
        ("/machine/pump-engine/part/exhaust", "/machine/pump-engine/part/exhaust"),
        ("/machine/pump-engine", "/machine/pump-engine"),
        ("https://elsewhere.example/machine/pump-engine", VERSIONS),
        ("//elsewhere.example", VERSIONS),
        ("/machine/other", VERSIONS),
        ("/machine/pump-engine/../../teach", VERSIONS),
        ("", VERSIONS),
    ],
)
def test_the_page_that_follows_is_one_of_this_machine_that_is_there(tablet: Tablet, back: str, where: str) -> None:
    good, at = texts()[0], MachineVersion.objects.get(slug="pump-engine").kept
    added = '\n[[part]]\nid = "one-more"\n'
    keep_machine(the_workshop(), "pump-engine", "Pump", good + added, at)
    answer = tablet.client.post(VERSIONS, {"to": "1", "newest": "2", "back": back})
    assert (answer.status_code, answer["Location"].partition("?")[0]) == (303, where)


def test_going_back_from_the_list_keeps_all_and_a_second_press_changes_nothing(tablet: Tablet) -> None:
    for minutes in ("9", "10"):
        changes(tablet, EXHAUST, minutes=minutes)
    tablet.opens(VERSIONS)
    form = next(form for form in tablet.page.forms if form.fields.get("to") == "1")
    page = tablet.sends(form, {})
    assert "Back to the text of version 1" in page.text
    answer = tablet.client.post(VERSIONS, form.fields)
    assert answer.status_code == 422
    assert "Meanwhile this machine has version 4." in answer.content.decode()
    assert len(texts()) == 4


def test_two_versions_stand_side_by_side_in_words_and_line_by_line(tablet: Tablet) -> None:
    changes(tablet, EXHAUST, minutes="9", care="On its flange")
    page = tablet.opens(f"{VERSIONS}?old=1&new=2")
    assert "2 changes from version 1 to version 2." in page.text
    assert "Nothing is different there." in page.text
    assert "lines alike" in page.text
    html = tablet.answer.content.decode()
    assert "<ins>9</ins>" in html or "<ins>9.0</ins>" in html
    turned = tablet.opens(f"{VERSIONS}?old=2&new=1")
    assert "2 changes from version 1 to version 2." in turned.text


def test_every_version_s_file_can_be_had_as_it_was(tablet: Tablet) -> None:
    changes(tablet, EXHAUST, minutes="9")
    for number, text in enumerate(texts(), 1):
        assert tablet.client.get(f"{VERSIONS}?text={number}").content.decode() == text


def test_jobs_stay_on_the_text_they_stand_on(tablet: Tablet) -> None:
    before = {job.id: job.machine_version.text for job in Job.objects.filter(machine="pump-engine")}
    changes(tablet, EXHAUST, minutes="9")
    tablet.presses("Undo the last change")
    assert {job.id: job.machine_version.text for job in Job.objects.filter(machine="pump-engine")} == before


def test_what_is_asked_and_is_not_there_is_said(tablet: Tablet) -> None:
    for path in (f"{VERSIONS}?old=1&new=9", f"{VERSIONS}?text=x", "/machine/no-such/versions"):
        assert tablet.client.get(path).status_code == 404
    for sent in ({}, {"to": "one", "newest": "2"}, {"to": "0", "newest": "1"}, {"to": "7", "newest": "1"}):
        answer = tablet.client.post(VERSIONS, sent)
        assert answer.status_code == 422, sent
        assert 'role="alert"' in answer.content.decode()
    assert len(texts()) == 1


def test_a_version_that_can_no_longer_be_read_is_said_and_not_gone_back_to(tablet: Tablet) -> None:
    workshop = the_workshop()
    good = texts()[0]
    keep_machine(workshop, "pump-engine", "Pump", "format = 9", steps_of(workshop, "pump-engine")[0].at)
    keep_machine(workshop, "pump-engine", "Pump", f"{good}\n", steps_of(workshop, "pump-engine")[0].at)
    page = tablet.opens(VERSIONS)
    assert "This text cannot be read as a machine any more." in page.text
    answer = tablet.client.post(VERSIONS, {"to": "2", "newest": "3"})
    assert answer.status_code == 422
    assert "cannot be read as a machine any more" in answer.content.decode()
    assert tablet.client.get(f"{VERSIONS}?old=2&new=3").status_code == 200


def test_many_versions_are_shown_a_page_at_a_time(tablet: Tablet) -> None:
    good, at = texts()[0], MachineVersion.objects.get(slug="pump-engine").kept
    for nth in range(14):
        keep_machine(the_workshop(), "pump-engine", "Pump", f"{good}# {nth}\n", at)
    page = tablet.opens(VERSIONS)
    assert "Version 15, the newest" in page.text
    assert "The first that was kept." not in page.text
    older = tablet.opens(page.links["Older versions"])
    assert "The first that was kept." in older.text
    assert "Only how it is written." in older.text


def test_a_text_that_has_changed_from_end_to_end_keeps_nobody_waiting() -> None:
    """Twenty thousand parts, a line of every seventh changed: compared line by line that took minutes."""
    old = "\n".join(f'[[part]]\nid = "p{nth}"\nminutes = {nth % 7}\n' for nth in range(20_000))
    new, one = old.replace("minutes = 3", "minutes = 4"), old.replace('"p9999"\nminutes = 3', '"p9999"\nminutes = 9')
    before = time.monotonic()
    assert list(rows_of(old, new)) == []
    assert [row.kind for row in rows_of(old, one)] == ["left-out", *["same"] * 3, "changed", *["same"] * 3, "left-out"]
    assert time.monotonic() - before < 5
    card = beside_card(Kept(1, "", "", 0, 0, old, None), Kept(2, "", "", 0, 0, new, None))
    assert card.rows_left_out.startswith("Too much has changed to be shown line by line")


LINES = st.lists(st.sampled_from(["a", "b", "minutes = 2", "minutes = 3", ""]), max_size=30)


@given(LINES, LINES)
def test_the_lines_side_by_side_are_those_of_both_texts_but_for_what_is_left_out(
    old: list[str], new: list[str]
) -> None:
    rows = list(rows_of("\n".join(old), "\n".join(new)))
    for side, text in ((0, "\n".join(old).split("\n")), (1, "\n".join(new).split("\n"))):
        pieces = [(row.old, row.new)[side] for row in rows if (row.old, row.new)[side].number]
        assert [one.number for one in pieces] == sorted({one.number for one in pieces})
        assert all(one.before + one.changed + one.after == text[one.number - 1] for one in pieces)
    left_out = sum(int(row.left_out.split()[0]) for row in rows if row.left_out)
    if rows:
        shown = sum(1 for row in rows if row.old.number)
        assert shown + left_out == len("\n".join(old).split("\n"))
    assert bool(rows) == (old != new and "\n".join(old) != "\n".join(new))
    assert all(isinstance(row, Row) for row in rows)


def test_two_who_keep_at_the_same_moment_get_two_numbers(tablet: Tablet) -> None:
    good, at = texts()[0], MachineVersion.objects.get(slug="pump-engine").kept
    workshop, wrong = the_workshop(), []

    def keeps(name: int) -> None:
        try:
            for nth in range(4):
                keep_machine(workshop, "pump-engine", "Pump", f"{good}# {name}, {nth}\n", at)
        except Exception as fault:  # noqa: BLE001 - told in the main thread
            wrong.append(fault)
        finally:
            connections.close_all()

    at_work = [threading.Thread(target=keeps, args=(name,)) for name in range(5)]
    for one in at_work:
        one.start()
    for one in at_work:
        one.join()
    assert wrong == []
    assert [step.number for step in reversed(steps_of(workshop, "pump-engine"))] == list(range(1, 22))
    assert len(set(texts())) == 21


def test_a_class_is_told_of_a_version_that_was_gone_back_to(tablet: Tablet) -> None:
    of = classes(the_workshop())[0]
    changes(tablet, EXHAUST, minutes="9")
    assert facts_of(of).newer == 2
    tablet.presses("Undo the last change")
    assert facts_of(of).newer == 0  # its benches stand on that text
    tablet.opens("/machine/pump-engine")
    tablet.presses("Undo the last change")
    assert facts_of(of).newer == 4
    page = tablet.opens(f"/class/{of.slug}")
    assert "The machine’s file has version 4." in page.text
    tablet.presses("Take the machine’s newest file")
    assert facts_of(of).newer == 0
    log = tablet.opens("/log/pump-engine-2").text
    assert "From here on the machine’s file is version 4." in log
