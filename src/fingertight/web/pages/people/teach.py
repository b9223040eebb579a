"""Those who teach sign in: a name and a password; the first time by a link; and a number of their own for tablets."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.store.log.promise import Refused
from fingertight.store.school.links import by_link
from fingertight.store.school.people import give_number, give_password, person_at
from fingertight.store.school.tables import Person
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.signin import NotIn, check_password, checked_number, checked_password, named
from fingertight.web.people.who import ALONE, called, look_again, sign_in, who_of


@only("GET", "HEAD", "POST")
def teach(request: HttpRequest) -> HttpResponse:
    """Name and password."""
    name, problem = request.POST.get("name", "").strip()[:60], ""
    if request.method == "POST":
        try:
            person = check_password(named(the_workshop(), name), request.POST.get("password", "")[:200])
            sign_in(request, person)
            return see("/")
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
            return see("/")
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
    sign_in(request, person)


@only("GET", "HEAD", "POST")
def number(request: HttpRequest) -> HttpResponse:
    """A number of one's own is chosen anew."""
    who, problem, done = who_of(request), "", False
    person = None if who.id == ALONE else person_at(the_workshop(), who.id)
    if request.method == "POST" and person:
        try:
            give_number(person, checked_number(request.POST.get("number", ""), request.POST.get("again", "")))
            look_again()
            done = True
        except NotIn as wrong:
            problem = str(wrong)
    said = {"problem": problem, "done": done, "nobody": person is None}
    return render(request, "number.html", said, status=422 if problem else 200)
