"""What one student did with their own hands: for the instructor, and for themselves."""

from tests.web.people.cast import Cast
from tests.web.tablet import Tablet


def takes_off(tablet: Tablet, cast: Cast, name: str) -> str:
    """One part comes off in this student's hands; what it is called."""
    tablet.opens(f"/bench/{cast.job(name).slug}/strip")
    form = next(form for form in tablet.page.forms if form.fields.get("kind") == "off")
    tablet.sends(form, {})
    return form.fields["part"]


def test_a_move_counts_for_the_hands_that_did_it_and_for_nobody_else(cast: Cast) -> None:
    tablet = cast.student("Ada", cast.student("Bo"))
    teacher = cast.teacher()
    before = {name: teacher.opens(f"/student/{cast.people[name].id}").text for name in ("Ada", "Bo")}
    takes_off(tablet, cast, "Ada")
    after = {name: teacher.opens(f"/student/{cast.people[name].id}").text for name in ("Ada", "Bo")}
    assert after["Bo"] == before["Bo"]
    assert after["Ada"] != before["Ada"]
    assert "Took off" in after["Ada"]
    assert "Demo class (invented), Bench 4" in after["Ada"]


def test_what_was_not_done_yet_this_term_is_listed(cast: Cast) -> None:
    page = cast.teacher().opens(f"/student/{cast.people['Hana'].id}")
    assert page.text.partition("Not yet ")[2].strip()


def test_a_student_sees_their_own_work_and_nobody_elses(cast: Cast) -> None:
    tablet = cast.student("Cleo")
    takes_off(tablet, cast, "Cleo")
    assert "Took off" in tablet.opens("/mine").text
    assert tablet.client.get(f"/student/{cast.people['Dov'].id}").status_code == 403


def test_nobody_is_followed_who_is_forgotten_or_teaches(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.client.post(f"/class/{cast.of.slug}", {"act": "forget", "person": cast.people["Gus"].id})
    for name in ("Gus", "Odo"):
        assert teacher.client.get(f"/student/{cast.people[name].id}").status_code == 404


def test_the_instructor_hears_of_a_pair_where_one_does_everything(cast: Cast) -> None:
    teacher = cast.teacher()
    tablet = cast.student("Ada")
    for _ in range(30):
        tablet.opens(f"/bench/{cast.job('Ada').slug}/strip")
        form = next(form for form in tablet.page.forms if form.fields.get("kind") in {"off", "sign"} and form.buttons)
        by = {"instructor": cast.people["Tilda"].id, "number": "5937"} if form.fields["kind"] == "sign" else {}
        tablet.sends(form, {**next(iter(form.buttons.values())), **by})
    pages = {name: teacher.opens(f"/student/{cast.people[name].id}").text for name in ("Ada", "Bo")}
    assert "Ada did " in pages["Ada"]
    assert "The other one did" in pages["Bo"]
    assert "Ada did" in teacher.opens(f"/class/{cast.of.slug}").text
