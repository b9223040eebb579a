"""Those who teach sign in: a name and a password; the first time by a link; and a number of their own for tablets."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.store.log.promise import Refused
from fingertight.store.school.links import by_link
from fingertight.store.school.people import give_number, give_password, person_at
from fingertight.store.school.tables import Person
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.signin import (
    NotIn,
    check_number,
    check_password,
    checked_number,
    checked_password,
    named,
    unlock,
)
from fingertight.web.people.who import ALONE, Role, called, look_again, sign_in, who_of

WAS_HERE = "was-here"
_A_YEAR_S = 365 * 24 * 3600


@only("GET", "HEAD", "POST")
def teach(request: HttpRequest) -> HttpResponse:
    """Name and password."""
    name, problem = request.POST.get("name", "").strip()[:60], ""
    if request.method == "POST":
        try:
            person = named(the_workshop(), name)
            was_here = person is not None and request.get_signed_cookie(WAS_HERE, default="") == person.id
            person = check_password(person, request.POST.get("password", "")[:200], was_here=was_here)
            return _is_in(request, person)
        except NotIn as wrong:
            problem = str(wrong)
    return render(request, "teach.html", {"name": name, "problem": problem}, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def first_link(request: HttpRequest, token: str) -> HttpResponse:
    """A password and a number are chosen once, by whoever holds the link."""
    try:
        person = by_link(the_workshop(), token)
    except Refused as wrong:
        return render(request, "teach.html", {"name": "", "problem": str(wrong)}, status=422)
    problem = ""
    if request.method == "POST":
        try:
            _chosen(request, person)
            return _is_in(request, person)
        except NotIn as wrong:
            problem = str(wrong)
    said = {"name": called(person), "problem": problem}
    return render(request, "first_link.html", said, status=422 if problem else 200)


def _chosen(request: HttpRequest, person: Person) -> None:
    form = request.POST
    password = checked_password(form.get("password", "")[:200], form.get("password-again", "")[:200])
    number = checked_number(form.get("number", ""), form.get("again", ""))
    give_password(person, password)
    give_number(person, number)
    look_again()
    person.refresh_from_db()


def _is_in(request: HttpRequest, person: Person) -> HttpResponse:
    """Signed in; the browser remembers who, so that wrong guesses elsewhere never close it to them."""
    sign_in(request, person)
    answer = see("/")
    answer.set_signed_cookie(WAS_HERE, person.id, max_age=_A_YEAR_S, samesite="Lax", httponly=True)
    return answer


@only("GET", "HEAD", "POST")
def number(request: HttpRequest) -> HttpResponse:
    """A number of one's own is chosen anew.

    Students type the old one, for a tablet changes hands without a number; who teaches types the password.
    """
    who, problem, done = who_of(request), "", False
    person = None if who.id == ALONE else person_at(the_workshop(), who.id)
    if request.method == "POST" and person:
        try:
            _renumbered(request, person)
            done = True
        except NotIn as wrong:
            problem = str(wrong)
    said = {"problem": problem, "done": done, "nobody": person is None}
    return render(request, "number.html", said, status=422 if problem else 200)


def _renumbered(request: HttpRequest, person: Person) -> None:
    """Raises NotIn; nothing is changed then."""
    form = request.POST
    number = checked_number(form.get("number", ""), form.get("again", ""))
    if person.role == Role.STUDENT:
        check_number(person, form.get("old", "").strip()[:4])
    else:
        check_password(person, form.get("old", "")[:200], was_here=True)
    give_number(person, number)
    unlock(person)
    look_again()
