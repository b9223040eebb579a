"""A class is set up, copied, shared, moved to a machine's new file and put away, by pressing what its pages offer."""

import json
from datetime import UTC, datetime

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from fingertight.store.kept import keep_machine
from fingertight.store.models import Job, MachineVersion, Workshop
from fingertight.store.school.classes import benches_of, members_of
from fingertight.store.school.tables import Member, Person, SchoolClass
from fingertight.web.jobs.ledgers import log_of
from tests.web.people.cast import Cast, said
from tests.web.tablet import Page, Tablet

NAMES = "Zora Invented\nYann Made-Up\nZora Another"


def made(teacher: Tablet, **typed: object) -> SchoolClass:
    """The class that the form makes."""
    teacher.opens("/class/new")
    teacher.presses("Make this class", **{"title": "Friday class", "machine": "bench-vice", "benches": "2", **typed})
    return SchoolClass.objects.get(slug=teacher.path.removeprefix("/class/").partition("?")[0])


def next_step(page: Page) -> str:
    """What the page says comes next."""
    return page.text.partition("What comes next ")[2].partition(" Bench cards (PDF)")[0]


def test_a_pasted_list_is_seated_two_to_a_bench_and_the_page_says_what_comes_next(cast: Cast) -> None:
    teacher = cast.teacher()
    of = made(teacher, names=NAMES)
    seats = [(person.name, person.mark, bench) for person, bench in members_of(of)]
    assert seats == [("Yann", "M", "Bench 1"), ("Zora", "A", "Bench 2"), ("Zora", "I", "Bench 1")]
    assert next_step(teacher.page).startswith("Print the cards that stand on the benches, and the bag labels.")
    assert teacher.page.links["Print the bench cards"] == f"/class/{of.slug}/cards.pdf"
    assert teacher.client.get(f"/class/{of.slug}/cards.pdf").content.startswith(b"%PDF")


def test_a_list_from_the_office_in_a_windows_encoding_is_read(cast: Cast) -> None:
    text = "Nachname;Vorname\r\nErfunden;Jörg\r\nErdacht;Çağla\r\n".encode("cp1254")
    of = made(cast.teacher(), list=SimpleUploadedFile("list.csv", text, "text/csv"))
    assert sorted(person.name for person, _ in members_of(of))[-1].startswith("Ça")


def test_a_class_without_students_says_so_and_takes_them_later(cast: Cast) -> None:
    teacher = cast.teacher()
    of = made(teacher)
    assert next_step(teacher.page).startswith("Nobody is on the list yet. Paste the names below.")
    teacher.presses("Add them", names="A Invented\nB Invented\nC Invented\nD Invented\nE Invented")
    assert "5 names added." in teacher.page.text
    assert next_step(teacher.page).startswith("One student has no bench yet.")
    loose = next(person for person, bench in members_of(of) if not bench)
    form = next(form for form in teacher.page.forms if form.fields.get("person") == loose.id and "bench" in form.fields)
    teacher.sends(form, {"act": "move", "bench": "Bench 9"})
    assert said(teacher.page) == "This class has no such bench."
    teacher.sends(form, {"act": "move", "bench": "Bench 2"})
    assert "sits at Bench 2 now." in teacher.page.text


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"title": "   "}, "The class has no name."),
        ({"benches": "none"}, "How many benches: “none”"),
        ({"benches": "31"}, "How many benches: “31” is no whole number from 1 to 30."),
        ({"benches": "2.5"}, "is no whole number from 1 to 30."),
        ({"lessons": "0"}, "How many lessons: “0” is no whole number from 1 to 200."),
        ({"minutes": "900"}, "Minutes of a lesson: “900” is no whole number from 1 to 600."),
        ({"machine": "no-such"}, "Choose a machine of the list, then press again."),
        ({"engines": "no-such"}, "Choose a class of the list, then press again."),
    ],
)
def test_what_is_wrong_in_the_form_is_said_and_nothing_is_made(
    cast: Cast, typed: dict[str, str], sentence: str
) -> None:
    teacher, before = cast.teacher(), [SchoolClass.objects.count(), Person.objects.count(), Job.objects.count()]
    teacher.opens("/class/new")
    typed = {"title": "Friday class", "machine": "bench-vice", "names": NAMES, **typed}
    teacher.presses("Make this class", **typed)
    assert teacher.answer.status_code == 422
    assert sentence in teacher.page.text
    assert "Zora Invented" in teacher.answer.content.decode(), "what was typed stays"
    assert [SchoolClass.objects.count(), Person.objects.count(), Job.objects.count()] == before


def test_a_second_class_goes_on_at_the_same_engines(cast: Cast) -> None:
    teacher = cast.teacher()
    of = made(teacher, engines=cast.of.slug, names=NAMES)
    assert [one.job for one in benches_of(of)] == [one.job for one in benches_of(cast.of)]
    assert {one.code for one in benches_of(of)}.isdisjoint(one.code for one in benches_of(cast.of))
    assert Member.objects.filter(class_slug=cast.of.slug).count() == len(members_of(cast.of))


def test_of_two_classes_at_one_bench_the_lesson_that_opened_last_speaks(cast: Cast) -> None:
    teacher = cast.teacher()
    of = made(teacher, engines=cast.of.slug, names=NAMES)
    teacher.opens(f"/class/{of.slug}/lesson")
    teacher.presses("Open lesson 1", minutes="90")
    bench = f"/tools/{cast.job('Cleo').slug}"
    teacher.opens(bench)
    form = next(form for form in teacher.page.forms if form.fields.get("tool") == "torque wrench" and form.buttons)
    teacher.client.post(bench, {"tool": form.fields["tool"], "act": "ask"})
    assert "next:" in teacher.opens(f"/wall?class={of.slug}").text
    assert "next:" not in teacher.opens(f"/wall?class={cast.of.slug}").text.partition("Torque wrench")[2]


def test_a_copy_has_the_same_benches_engines_of_its_own_and_nobody_in_it(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}")
    teacher.presses("Copy it", title="Next term")
    copy = SchoolClass.objects.get(slug="next-term")
    assert [one.bench for one in benches_of(copy)] == [one.bench for one in benches_of(cast.of)]
    assert {one.job for one in benches_of(copy)}.isdisjoint(one.job for one in benches_of(cast.of))
    assert members_of(copy) == []
    assert (copy.lessons, copy.lesson_min) == (cast.of.lessons, cast.of.lesson_min)


def test_a_class_is_put_away_after_its_lesson_and_taken_out_again(cast: Cast) -> None:
    teacher, here = cast.teacher(), f"/class/{cast.of.slug}"
    teacher.opens(here)
    teacher.presses("Put the class away: the term is over")
    assert said(teacher.page) == "Lesson 2 is still open."
    teacher.opens(f"{here}/lesson")
    teacher.presses("Close lesson 2", word="The bore gauge is in the office.")
    teacher.opens(here)
    teacher.presses("Put the class away: the term is over")
    assert next_step(teacher.page).startswith("This class is put away. Everything it did is kept.")
    assert "The bore gauge is in the office." in teacher.page.text
    assert teacher.opens(f"/student/{cast.people['Cleo'].id}").text
    teacher.opens(here)
    teacher.presses("Take it out of the archive")
    assert next_step(teacher.page).startswith("Lesson 3 comes next.")


def test_benches_take_the_newest_file_of_the_machine_and_their_logs_say_when(cast: Cast) -> None:
    teacher, workshop = cast.teacher(), Workshop.objects.get()
    old = MachineVersion.objects.filter(slug=cast.of.machine).latest("version")
    changed = old.text.replace('name = "', 'name = "New ', 1)
    version = keep_machine(workshop, old.slug, f"New {old.name}", changed, datetime.now(UTC))
    page = teacher.opens(f"/class/{cast.of.slug}")
    assert f"The machine’s file has version {version.version}." in page.text
    before = [len(log_of(job).after()) for job in Job.objects.filter(machine=cast.of.machine)]
    assert any(before)
    teacher.presses("Take the machine’s newest file")
    assert "moved to the newest file." in teacher.page.text
    assert "The machine’s file has version" not in teacher.page.text
    last = json.loads(log_of(cast.job("Cleo")).after()[-1].body)
    assert (last["kind"], last["machine_sha256"], last["by"]) == ("note", version.sha256, cast.people["Tilda"].id)
