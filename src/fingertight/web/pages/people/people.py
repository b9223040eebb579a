"""The owner says who teaches here: added with a link, unlocked, given a new link, forgotten."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.store.school.links import first_link
from fingertight.store.school.people import forget, has_password, keep_person, people, person_at, take_password
from fingertight.store.school.tables import Person
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import only
from fingertight.web.people.signin import NotIn, is_locked, named, unlock
from fingertight.web.people.who import called, look_again, who_of

LONGEST_NAME = 40


@only("GET", "HEAD", "POST")
def teachers(request: HttpRequest) -> HttpResponse:
    """Everybody who teaches here."""
    problem, link = "", ("", "")
    if request.method == "POST":
        try:
            link = _done(request)
        except NotIn as wrong:
            problem = str(wrong)
        look_again()
    teach_here = people(the_workshop(), "owner", "instructor")
    lines = [
        {"id": one.id, "name": called(one), "role": one.role, "ready": has_password(one), "locked": is_locked(one)}
        for one in teach_here
    ]
    owned = any(one.role == "owner" for one in teach_here)
    said = {"people": lines, "owned": owned, "problem": problem, "link": link}
    return render(request, "people.html", said, status=422 if problem else 200)


def _done(request: HttpRequest) -> tuple[str, str]:
    """What the owner asked for; whose link it is and the link, where there is one now. Raises NotIn."""
    form, workshop = request.POST, the_workshop()
    act = form.get("act", "")
    if act == "add":
        return _added(request, " ".join(form.get("name", "").split())[:LONGEST_NAME], form.get("role", ""))
    person = person_at(workshop, form.get("person", ""))
    if person is None or person.role == "student":
        raise NotIn("There is nobody of this name here. Load the page again.")
    if act == "link":
        take_password(person)
        unlock(person)
        person.refresh_from_db()
        return _link(request, person)
    if act == "unlock":
        unlock(person)
    elif act == "forget" and person.id != who_of(request).id:
        forget(person)
    else:
        raise NotIn("That cannot be done to yourself." if act == "forget" else "This form says nothing known here.")
    return "", ""


def _added(request: HttpRequest, name: str, role: str) -> tuple[str, str]:
    if not name:
        raise NotIn("The name is empty. Type a first name, then press again.")
    if named(the_workshop(), name):
        raise NotIn(f"There is a {name} here already. Add a letter, so that both can sign in.")
    if role != "owner" and not people(the_workshop(), "owner"):
        raise NotIn(
            "Nobody owns this workshop yet, and as soon as somebody has a password all sign in. Add the owner first."
        )
    return _link(request, keep_person(the_workshop(), name, "", "owner" if role == "owner" else "instructor"))


def _link(request: HttpRequest, person: Person) -> tuple[str, str]:
    return called(person), request.build_absolute_uri(f"/teach/{first_link(person)}")
