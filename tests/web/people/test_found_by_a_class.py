"""What a simulated class once found wrong, each as a test of what should be."""

from datetime import UTC, datetime

import pytest

from fingertight.store.models import Workshop
from fingertight.store.school.people import forget
from fingertight.store.school.tables import SchoolClass
from fingertight.web.lesson import courses
from fingertight.web.marks import new_id
from fingertight.web.people.who import Who, look_again
from tests.web.people.cast import NUMBER, PASSWORD, Cast, said
from tests.web.tablet import Form, Tablet

WRENCH = "torque wrench"


def at_the_tools(cast: Cast, name: str, tablet: Tablet, button: str) -> str:
    """A press about the torque wrench at somebody's bench, and what the page says of it then."""
    tablet.opens(f"/tools/{cast.job(name).slug}")
    form = next(form for form in tablet.page.forms if form.fields.get("tool") == WRENCH and button in form.buttons)
    tablet.sends(form, form.buttons[button])
    return tablet.page.text.partition("Torque wrench ")[2].partition("Another tool")[0]


def test_a_bench_that_waited_for_a_tool_and_had_it_waits_no_more_when_it_brings_it_back(cast: Cast) -> None:
    tablet = cast.student("Ada")
    at_the_tools(cast, "Ada", tablet, "We wait for it")
    assert "next:" not in at_the_tools(cast, "Ada", tablet, "Borrowed")
    assert "next:" not in at_the_tools(cast, "Ada", tablet, "Brought back")


def test_wrong_numbers_at_a_students_tablet_do_not_lock_the_instructors_own_phone(cast: Cast) -> None:
    tablet, here = cast.student("Ada"), f"/bench/{cast.job('Ada').slug}/strip"
    for _ in range(5):
        by = {"instructor": cast.people["Tilda"].id, "number": "0001"}
        tablet.sends(Form(here, "post", {"kind": "sign", "sign": "made-safe"}), by)
    phone = Tablet()
    phone.opens("/teach")
    phone.presses("Sign in", name="Tilda", password=PASSWORD)
    assert said(phone.page) == ""


def test_one_finish_pressed_too_early_hides_no_flag_of_another_bench_from_the_wall(cast: Cast) -> None:
    early, other, wall = cast.student("Cleo"), cast.student("Eli"), cast.teacher()
    other.client.post(f"/bench/{cast.job('Eli').slug}/finish", {"kind": "off", "part": "crankshaft", "bag": "99"})
    assert "Crankshaft came off though" in wall.opens("/wall").text
    early.client.post(f"/bench/{cast.job('Cleo').slug}/finish", {"kind": "finish"})
    assert "Crankshaft came off though" in wall.opens("/wall").text


def test_a_log_that_is_open_stops_showing_who_was_forgotten(cast: Cast) -> None:
    teacher, address = cast.teacher(), f"/log/{cast.job('Gus').slug}"
    open_page = teacher.client.get(address)
    assert b"Gus" in open_page.content
    forget(cast.people["Gus"])
    look_again()
    again = teacher.client.get(address, headers={"If-None-Match": open_page["ETag"], "X-Fragment": "live"})
    assert again.status_code == 200


def test_a_number_is_not_changed_by_the_one_the_tablet_was_passed_to(cast: Cast) -> None:
    """Hands change with one press and no number: the neighbour must not choose a new one for somebody else."""
    tablet = cast.student("Dov", cast.student("Cleo"))
    tablet.client.post("/hands", {"person": cast.people["Cleo"].id})
    tablet.client.post("/number", {"number": "8462", "again": "8462"})
    own = Tablet()
    own.opens(f"/join/{cast.code}?as={cast.people['Cleo'].id}")
    own.presses("It is me", number=NUMBER)
    assert said(own.page) == ""


def test_a_workshop_that_had_a_password_never_takes_a_visitor_for_its_owner(cast: Cast) -> None:
    owner = cast.teacher("Odo")
    for name in ("Tilda", "Odo"):  # both forgot theirs
        owner.client.post("/people", {"act": "link", "person": cast.people[name].id})
    assert Tablet().client.get("/people").status_code == 403


def test_a_class_that_is_put_away_says_nothing_at_the_benches_it_shared(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.opens("/class/new")
    teacher.presses("Make this class", title="A class before", engines=cast.of.slug, names="Zora Invented")
    other = teacher.path.partition("?")[0]
    teacher.opens(f"{other}/lesson")
    teacher.presses("Open lesson 1", minutes="90")
    teacher.opens(f"{other}/lesson")
    teacher.presses("Five minutes left")
    teacher.opens(other)
    teacher.presses("Put the class away: the term is over")
    assert "Lesson 1 is still open. Count and close it first" in teacher.page.text
    SchoolClass.objects.filter(slug=other.removeprefix("/class/")).update(archived=datetime.now(UTC))
    courses.classes_changed()
    student = cast.student("Ada")
    assert "The lesson ends at" not in student.opens(f"/bench/{cast.job('Ada').slug}").text
    at_the_tools(cast, "Ada", student, "We wait for it")
    assert "next: Bench 4" in teacher.opens(f"/wall?class={cast.of.slug}").text.partition("Torque wrench")[2]


def test_what_is_written_while_somebody_looks_is_seen_by_the_next_who_looks(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One thread has read a class's log and not yet remembered it when another writes: the old state must not stay."""
    whole, workshop = courses.diary, Workshop.objects.get()
    teacher = Who(id=cast.people["Tilda"].id)

    def read_and_overtaken(workshop: Workshop, slug: str) -> list[dict[str, object]]:
        entries = whole(workshop, slug)
        monkeypatch.setattr(courses, "diary", whole)
        courses.write(cast.of, teacher, new_id(), "ending", minutes=5)
        return entries

    courses.classes_changed()
    monkeypatch.setattr(courses, "diary", read_and_overtaken)
    courses.course(workshop, cast.of.slug)
    left = courses.course(workshop, cast.of.slug).minutes_left(datetime.now(UTC).timestamp())
    assert left is not None
    assert left <= 5
