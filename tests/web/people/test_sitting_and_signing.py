"""Where somebody sits decides what they write; who signs with a number leaves nothing behind at the tablet."""

import json
import sqlite3
from pathlib import Path

import pytest

from fingertight.store.school.people import keep_person
from fingertight.store.school.tables import Person
from fingertight.web.jobs.ledgers import log_of
from tests.web.people.cast import NUMBER, TEACHER_NUMBER, Cast, said
from tests.web.tablet import Form, Tablet


def log_at(cast: Cast, name: str) -> list[dict[str, str]]:
    """The entries of somebody's bench."""
    return [json.loads(one.body) for one in log_of(cast.job(name)).after()]


def moved_to(cast: Cast, teacher: Tablet, name: str, bench: str) -> None:
    """The instructor gives somebody another bench."""
    teacher.opens(f"/class/{cast.of.slug}")
    form = next(
        form
        for form in teacher.page.forms
        if form.fields.get("person") == cast.people[name].id and "bench" in form.fields
    )
    teacher.sends(form, {"act": "move", "bench": bench})
    assert f"{name} sits at {bench} now." in teacher.page.text


def test_the_code_of_the_own_bench_leads_straight_to_it(cast: Cast) -> None:
    tablet = Tablet()
    tablet.opens("/join")
    tablet.presses("Go on", code=cast.bench("Cleo").code)
    tablet.opens(tablet.page.links["Cleo"])
    tablet.presses("It is me", number=NUMBER)
    assert tablet.path == f"/bench/{cast.job('Cleo').slug}"


def test_who_came_by_another_benchs_card_writes_at_the_own_bench_only(cast: Cast) -> None:
    tablet = Tablet()
    tablet.opens(f"/join/{cast.bench('Cleo').code}?as={cast.people['Ada'].id}")
    tablet.presses("It is me", number=NUMBER)
    before = log_at(cast, "Cleo")
    answer = tablet.client.post(f"/bench/{cast.job('Cleo').slug}", {"kind": "help", "state": "asked"})
    assert answer.status_code == 403
    assert log_at(cast, "Cleo") == before
    tablet.opens(f"/bench/{cast.job('Ada').slug}")
    tablet.presses("Ask for help")
    assert log_at(cast, "Ada")[-1]["by"] == cast.people["Ada"].id


def test_who_is_moved_in_the_lesson_goes_on_at_the_new_bench_without_signing_in_again(cast: Cast) -> None:
    tablet, old = cast.student("Cleo"), f"/bench/{cast.job('Cleo').slug}"
    moved_to(cast, cast.teacher(), "Cleo", "Bench 4")
    tablet.opens(old)
    assert tablet.answer.status_code == 403
    assert "You are Cleo, at Bench 4." in tablet.page.text
    tablet.opens(f"/bench/{cast.job('Ada').slug}")
    tablet.presses("Ask for help")
    assert log_at(cast, "Ada")[-1]["by"] == cast.people["Cleo"].id


def test_who_is_forgotten_is_out_at_once(cast: Cast) -> None:
    tablet, teacher = cast.student("Cleo"), cast.teacher()
    teacher.client.post(f"/class/{cast.of.slug}", {"act": "forget", "person": cast.people["Cleo"].id})
    assert tablet.client.get(f"/bench/{cast.job('Dov').slug}").status_code == 403
    assert "Cleo" not in Tablet().opens(f"/join/{cast.code}").text


@pytest.mark.parametrize("stranger", ["an instructor", "nobody of this class"])
def test_nobody_gets_in_by_a_code_who_is_no_student_of_that_class(cast: Cast, stranger: str) -> None:
    person = cast.people["Tilda"]
    if stranger == "nobody of this class":
        person = keep_person(person.workshop, "Zora", "", "student")
    tablet = Tablet()
    tablet.opens(f"/join/{cast.code}?as={cast.people['Ada'].id}")
    typed = {"person": person.id, "number": TEACHER_NUMBER, "again": TEACHER_NUMBER}
    tablet.sends(tablet.page.forms[0], typed)
    assert "This name is not on the list." in said(tablet.page)
    assert tablet.client.get("/mine").status_code == 403
    assert Person.objects.get(id=person.id).number == person.number


def test_an_instructor_decides_and_sets_aside_at_a_students_tablet_and_only_with_the_own_number(cast: Cast) -> None:
    tablet, here = cast.student("Cleo"), f"/bench/{cast.job('Cleo').slug}/finish"
    tablet.sends(Form(here, "post", {"kind": "off", "part": "flywheel", "bag": "99"}), {})
    flagged = log_at(cast, "Cleo")[-1]["id"]
    entries = (
        {"kind": "decide", "check": "bore", "verdict": "good"},
        {"kind": "aside", "entry": flagged, "flag": "clash", "reason": "Shown on purpose."},
    )
    for fields in entries:
        before = log_at(cast, "Cleo")
        for by in ({}, {"instructor": cast.people["Tilda"].id, "number": "0001"}, {"number": TEACHER_NUMBER}):
            tablet.sends(Form(here, "post", fields), by)
            assert (tablet.answer.status_code, log_at(cast, "Cleo")) == (403, before)
        tablet.sends(Form(here, "post", fields), {"instructor": cast.people["Tilda"].id, "number": TEACHER_NUMBER})
        last = log_at(cast, "Cleo")[-1]
        assert (last["kind"], last["by"], last["as"]) == (fields["kind"], cast.people["Tilda"].id, "instructor")
    assert "In hand: Cleo" in tablet.page.text
    assert "came off again into bag 99" not in tablet.opens("/wall").text.partition("Not right yet")[2]


def test_a_student_cannot_take_back_a_signature_that_is_yet_to_come(cast: Cast) -> None:
    """The id of an entry stands in its form: an undo that names it before it is written must not strike it."""
    tablet, here = cast.student("Ada"), f"/bench/{cast.job('Ada').slug}/strip"
    tablet.opens(here)
    tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    form = tablet.form("I looked, and I sign")
    assert tablet.client.post(here, {"kind": "undo", "entry": form.fields["id"]}).status_code == 403
    tablet.sends(form, {"instructor": cast.people["Tilda"].id, "number": TEACHER_NUMBER})
    assert [entry["kind"] for entry in log_at(cast, "Ada")][-1] == "sign"
    assert "Machine made safe" not in " ".join(form.fields.get("sign", "") for form in tablet.page.forms)
    assert "I looked, and I sign" not in tablet.buttons()


def test_names_and_the_code_are_on_the_wall_of_those_who_teach_only(cast: Cast) -> None:
    for tablet, sees in ((Tablet(), False), (cast.student("Cleo"), False), (cast.teacher(), True)):
        text = tablet.opens("/wall").text
        assert (cast.code in text, "Eli" in text, "Hana" in text) == (sees, sees, sees)


def test_no_number_and_no_password_is_kept_as_it_was_typed(cast: Cast, workshop: Path | str) -> None:
    tablet = cast.student("Ada")
    tablet.client.post("/number", {"old": NUMBER, "number": "8462", "again": "8462"})
    cast.teacher()
    kept = [one.number for one in Person.objects.all()] + [one.password for one in Person.objects.all()]
    assert all(not hashed or hashed.startswith("argon2$") for hashed in kept)
    if isinstance(workshop, Path):
        with sqlite3.connect(workshop) as file:
            dumped = "\n".join(file.iterdump())
        assert "three invented words" not in dumped
        assert "'8462'" not in dumped
