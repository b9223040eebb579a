"""Signing in: code, name, number; a tablet changes hands; an instructor signs and goes; wrong guesses; forgetting."""

import json
import sqlite3
from pathlib import Path

import pytest

from fingertight.store.school.classes import give_code
from fingertight.store.school.links import first_link
from fingertight.store.school.people import take_number
from fingertight.store.school.tables import Person
from fingertight.web.jobs.ledgers import ledger_of, log_of
from fingertight.web.people.who import look_again
from tests.web.people.cast import NUMBER, PASSWORD, TEACHER_NUMBER, Cast, said
from tests.web.tablet import Tablet


def entries_of(cast: Cast, name: str) -> list[dict[str, str]]:
    """What stands in the log of somebody's bench."""
    return [json.loads(one.body) for one in log_of(cast.job(name)).after()]


def test_a_student_joins_with_the_code_of_the_class_a_name_and_a_number(cast: Cast) -> None:
    tablet = Tablet()
    tablet.opens("/")
    page = tablet.presses("Go on", code=cast.code.lower())
    assert {"Ada Bench 4", "Cleo Bench 7"} <= set(page.links)
    tablet.opens(page.links["Cleo Bench 7"])
    tablet.presses("It is me", number=NUMBER)
    assert tablet.path == f"/bench/{cast.job('Cleo').slug}"
    assert "In hand: Cleo" in tablet.page.text


def test_the_first_time_a_number_is_chosen_twice_and_not_an_easy_one(cast: Cast) -> None:
    take_number(cast.people["Ada"])
    look_again()
    tablet = Tablet()
    tablet.opens(f"/join/{cast.code}?as={cast.people['Ada'].id}")
    tablet.presses("This is my number", number="1234", again="1234")
    assert "the first that anybody tries" in said(tablet.page)
    tablet.presses("This is my number", number="7315", again="7351")
    assert "are not the same" in said(tablet.page)
    tablet.presses("This is my number", number="73155", again="73155")
    assert said(tablet.page) == "A number has four figures, 0 to 9."
    tablet.presses("This is my number", number="8024", again="8024")
    assert "In hand: Ada" in tablet.page.text


def test_five_wrong_numbers_lock_one_student_and_nobody_else_until_the_instructor_unlocks(cast: Cast) -> None:
    tablet = Tablet()
    tablet.opens(f"/join/{cast.code}?as={cast.people['Ada'].id}")
    for left in ("4", "3", "2", "1"):
        tablet.presses("It is me", number="1111")
        assert f"{left} tries are left" in tablet.page.text
    tablet.presses("It is me", number="1111")
    tablet.presses("It is me", number=NUMBER)
    assert "wrong five times" in said(tablet.page)
    assert "In hand: Bo" in cast.student("Bo").page.text  # from the same address, as a class is
    teacher = cast.teacher()
    assert "locked" in teacher.opens(f"/class/{cast.of.slug}").text
    form = next(form for form in teacher.page.forms if "Unlock" in form.buttons)
    teacher.sends(form, {"act": "unlock"})
    assert "In hand: Ada" in cast.student("Ada").page.text


def test_guessed_codes_are_throttled_but_a_tablet_that_joined_before_gets_in(cast: Cast) -> None:
    known = cast.student("Bo")
    known.client.post("/leave")
    stranger = Tablet()
    for nth in range(60):
        answer = stranger.client.post("/join", {"code": f"XX{nth:04d}"})
        assert answer.status_code == 422
    stranger.opens("/join")
    stranger.presses("Go on", code=cast.code)
    assert "Too many wrong codes" in said(stranger.page)
    known.opens("/join")
    known.presses("Go on", code=cast.code)
    assert "Who are you?" in known.page.text


def test_nobody_joins_before_the_lesson_opens_nor_after_it_closed(cast: Cast) -> None:
    student, teacher = cast.student("Cleo"), cast.teacher()
    old, bench_code = cast.code, cast.bench("Cleo").code
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    teacher.presses("Close lesson 2")
    assert "write one sentence" in said(teacher.page)
    teacher.presses("Close lesson 2", word="The ring expander is in the office.")
    assert "Lesson 3 of 8 is not open yet" in teacher.page.text
    assert student.client.get(f"/bench/{cast.job('Cleo').slug}").status_code == 403
    late = Tablet()
    late.opens("/join")
    late.presses("Go on", code=old)
    assert said(late.page).startswith("No class and no bench has this code")
    late.opens(f"/join/{bench_code}")
    assert "No lesson of Demo class (invented) is open" in said(late.page)
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    teacher.presses("Open lesson 3", minutes="90")
    assert cast.code not in {"", old}
    assert "Cleo" in late.opens(f"/join/{bench_code}").text


def test_the_card_of_another_bench_leads_to_the_own_one_and_says_so(cast: Cast) -> None:
    tablet = Tablet()
    page = tablet.opens(f"/join/{cast.bench('Cleo').code}")
    assert page.text.index("Cleo") < page.text.index("At another bench") < page.text.index("Ada")
    tablet.opens(f"/join/{cast.bench('Cleo').code}?as={cast.people['Ada'].id}")
    tablet.presses("It is me", number=NUMBER)
    assert "That was the card of Bench 7" in tablet.page.text
    assert "Go to Bench 4" in tablet.page.links


def test_a_tablet_changes_hands_with_one_press_and_entries_say_whose_hands(cast: Cast) -> None:
    tablet = cast.student("Cleo")
    cast.student("Dov", tablet)
    bench = f"/bench/{cast.job('Cleo').slug}/strip"
    tablet.opens(bench)
    tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    tablet.presses("Cleo goes on")
    assert tablet.path == bench
    tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    before, last = entries_of(cast, "Cleo")[-2:]
    assert (before["by"], before["as"]) == (cast.people["Dov"].id, "student")
    assert (last["by"], last["as"]) == (cast.people["Cleo"].id, "student")


def test_an_instructor_signs_at_the_students_tablet_which_stays_the_students(cast: Cast) -> None:
    tablet = cast.student("Ada")
    tablet.opens(f"/bench/{cast.job('Ada').slug}/strip")
    tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    form = tablet.form("I looked, and I sign")
    for typed, sentence in (
        ({}, "An instructor does this."),
        ({"instructor": cast.people["Tilda"].id, "number": NUMBER}, "That is not the number."),
        ({"instructor": cast.people["Ada"].id, "number": NUMBER}, "An instructor signs this"),
    ):
        tablet.sends(form, {"number": "", **typed})
        assert sentence in tablet.page.text
        assert tablet.answer.status_code == 403
    tablet.sends(form, {"instructor": cast.people["Tilda"].id, "number": TEACHER_NUMBER})
    last = entries_of(cast, "Ada")[-1]
    assert (last["kind"], last["as"]) == ("sign", "instructor")
    assert (last["by"], last["shown_by"]) == (cast.people["Tilda"].id, cast.people["Ada"].id)
    assert "In hand: Ada" in tablet.page.text
    assert tablet.client.get(f"/class/{cast.of.slug}").status_code == 403
    tablet.presses("Undo that")
    assert "An instructor does this." in tablet.page.text
    assert entries_of(cast, "Ada")[-1] == last


def test_a_form_cannot_say_by_whom_it_is(cast: Cast) -> None:
    tablet = cast.student("Ada")
    tablet.opens(f"/bench/{cast.job('Ada').slug}/strip")
    form = next(form for form in tablet.page.forms if any(one.startswith("Off") for one in form.buttons))
    tablet.sends(form, {"by": cast.people["Bo"].id, "as": "instructor"})
    last = entries_of(cast, "Ada")[-1]
    assert (last["by"], last["as"]) == (cast.people["Ada"].id, "student")


def test_an_instructor_is_never_signed_in_beside_students(cast: Cast) -> None:
    tablet = cast.student("Ada")
    tablet.opens("/teach")
    tablet.presses("Sign in", name="tilda", password=PASSWORD)
    assert "Sign out" in tablet.page.text
    assert tablet.client.post("/hands", {"person": cast.people["Ada"].id}).status_code == 404
    cast.student("Ada", tablet)
    assert tablet.client.get("/class/new").status_code == 403


def test_everybody_can_be_signed_out_from_the_page_of_the_class(cast: Cast) -> None:
    student, teacher = cast.student("Ada"), cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}")
    teacher.presses("Sign everybody out at every tablet")
    assert student.client.get(f"/bench/{cast.job('Ada').slug}").status_code == 403
    assert teacher.client.get(f"/class/{cast.of.slug}").status_code == 200


def test_a_session_known_before_signing_in_is_worth_nothing_after_it(cast: Cast) -> None:
    tablet = cast.student("Ada")
    before = tablet.client.cookies["sessionid"].value
    cast.student("Bo", tablet)
    assert tablet.client.cookies["sessionid"].value != before


def test_a_wrong_password_and_an_unknown_name_get_the_same_sentence(cast: Cast) -> None:
    tablet, sentences = Tablet(), []
    for name in ("Tilda", "Nobody"):
        tablet.opens("/teach")
        tablet.presses("Sign in", name=name, password="another three words")
        sentences.append(said(tablet.page))
    assert sentences[0] == sentences[1] != ""


def test_a_link_lets_a_password_be_chosen_once(cast: Cast) -> None:
    owner = cast.teacher("Odo")
    owner.opens("/people")
    owner.presses("Add, and make a link", name="Rosa", role="instructor")
    link = next(href for words, href in owner.page.links.items() if "/teach/" in href)
    fresh = Tablet()
    path = link.removeprefix("http://localhost")
    fresh.opens(path)
    typed = {"password": "short", "password-again": "short", "number": "6204", "again": "6204"}
    fresh.presses("Keep both and sign in", **typed)
    assert "12 characters or more" in said(fresh.page)
    fresh.presses("Keep both and sign in", **typed | {"password": "password1234", "password-again": "password1234"})
    assert "among those everybody tries" in said(fresh.page)
    fresh.presses("Keep both and sign in", **typed | {"password": PASSWORD, "password-again": PASSWORD})
    assert "Rosa" in fresh.page.text
    assert "was used already" in said(Tablet().opens(path))
    assert "not whole" in said(Tablet().opens(path[:-3]))


def test_who_forgot_the_password_gets_a_new_link_and_the_old_session_ends(cast: Cast) -> None:
    teacher, owner = cast.teacher(), cast.teacher("Odo")
    owner.opens("/people")
    form = next(form for form in owner.page.forms if form.fields.get("person") == cast.people["Tilda"].id)
    owner.sends(form, {"act": "link"})
    assert "A link for Tilda" in owner.page.text
    assert teacher.client.get(f"/class/{cast.of.slug}").status_code == 403
    stale = first_link(cast.people["Tilda"])
    assert "was used already" in said(Tablet().opens(f"/teach/{stale}"))


def test_who_is_forgotten_stands_nowhere_and_the_log_stays_whole(cast: Cast, workshop: Path | str) -> None:
    Person.objects.filter(id=cast.people["Gus"].id).update(name="Gundobert", mark="Q")
    teacher = cast.teacher()
    assert "Gundobert Q" in teacher.opens(f"/log/{cast.job('Gus').slug}").text
    before = [one.body for one in log_of(cast.job("Gus")).after()]
    job = cast.job("Gus")
    teacher.opens(f"/class/{cast.of.slug}")
    form = next(
        form
        for form in teacher.page.forms
        if form.fields.get("person") == cast.people["Gus"].id and "Forget this person" in form.buttons
    )
    teacher.sends(form, {"act": "forget"})
    assert "the logs are whole" in teacher.page.text
    for page in (f"/class/{cast.of.slug}", f"/log/{job.slug}", "/wall", f"/class/{cast.of.slug}/lesson", "/"):
        assert "Gundobert" not in teacher.opens(page).text
    assert [one.body for one in log_of(job).after()] == before
    assert log_of(job).check().ended.value == "whole"
    if isinstance(workshop, Path):
        with sqlite3.connect(workshop) as file:
            assert not any("Gundobert" in line for line in file.iterdump())
    with ledger_of(job) as live:
        assert live.ledger.entries


def test_a_long_list_the_same_name_twice_and_excels_own_kind_of_csv(cast: Cast) -> None:
    teacher = cast.teacher()
    here = f"/class/{cast.of.slug}"
    teacher.opens(here)
    teacher.presses("Add them", names="\n".join(f"Nam{chr(97 + nth % 26)}e{'x' * (nth // 26)}" for nth in range(400)))
    assert "a class has at most 60" in said(teacher.page)
    assert Person.objects.filter(role="student").count() == 8
    teacher.opens(here)
    teacher.presses("Add them", names="Ada\nAda\nNora Berg\nNora Bell")
    marks = sorted((one.name, one.mark) for one in Person.objects.filter(name__in=["Ada", "Nora"]))
    assert len(set(marks)) == len(marks) == 5
    from django.core.files.uploadedfile import SimpleUploadedFile

    teacher.opens(here)
    sent = SimpleUploadedFile("list.csv", "Vorname;Nachname\r\nJürgen;Öst\r\nZoë;Ågren\r\n".encode("cp1252"))
    form = next(form for form in teacher.page.forms if "Add them" in form.buttons)
    teacher.client.post(here, {**form.fields, "act": "add", "names": "", "list": sent})
    assert {(one.name, one.mark) for one in Person.objects.filter(name__in=["Jürgen", "Zoë"])} == {
        ("Jürgen", "Ö"),
        ("Zoë", "Å"),
    }


def test_alone_on_the_own_machine_nobody_signs_in_and_with_a_password_everybody_does(workshop: Path | str) -> None:
    assert Tablet().opens("/").text.startswith("Benches")
    assert Tablet().client.get("/people").status_code == 200
    assert Person.objects.exclude(password="").count() == 0
    Person.objects.filter(name="Tilda").update(password="argon2$of$something")
    look_again()
    assert Tablet().client.get("/people").status_code == 403
    assert "Join your bench" in Tablet().opens("/").text


def test_beyond_this_machine_nobody_is_the_owner_without_a_password(
    workshop: Path | str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.conf import settings

    monkeypatch.setattr(settings, "BEYOND_THIS_MACHINE", True)
    assert Tablet().client.get("/people").status_code == 403


def test_an_empty_code_opens_nothing_even_while_no_class_has_one(cast: Cast) -> None:
    give_code(cast.of, "")
    tablet = Tablet()
    tablet.opens("/join")
    tablet.presses("Go on", code="")
    assert said(tablet.page).startswith("No class and no bench has this code")
