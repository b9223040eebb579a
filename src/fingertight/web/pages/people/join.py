"""Students join: the class's code or a bench's card, then the own name, then the own number. A tablet changes hands."""

from contextlib import suppress

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.http import url_has_allowed_host_and_scheme

from fingertight.cards.lesson.joining import JoinCard, NameLine, join_card
from fingertight.lesson.diary import NotInTheDiary
from fingertight.store.models import Job, Workshop
from fingertight.store.school.classes import class_at, members_of
from fingertight.store.school.people import give_number
from fingertight.store.school.tables import ClassBench, Member, Person, SchoolClass
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.lesson.courses import course, write
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.signin import (
    NotIn,
    badge_holder,
    check_number,
    checked_number,
    count_wrong_code,
    is_locked,
    may_try_code,
)
from fingertight.web.people.who import Who, called, change_hands, leave, look_again, sign_in, who_of

LONGEST_CODE = 20
JOINED = "joined"
_A_YEAR_S = 365 * 24 * 3600


@only("GET", "HEAD", "POST")
def join(request: HttpRequest) -> HttpResponse:
    """A code is typed."""
    if request.method != "POST":
        return render(request, "join.html", {"problem": "", "code": ""})
    code = "".join(request.POST.get("code", "").split()).upper()[:LONGEST_CODE]
    try:
        _class_of(request, code)
    except NotIn as wrong:
        return render(request, "join.html", {"problem": str(wrong), "code": code}, status=422)
    return see(f"/join/{code}")


@only("GET", "HEAD", "POST")
def join_as(request: HttpRequest, code: str) -> HttpResponse:
    """The own name, then the own number."""
    code, problem, status = code.upper()[:LONGEST_CODE], "", 200
    try:
        of, bench = _class_of(request, code)
    except NotIn as wrong:
        return render(request, "join.html", {"problem": str(wrong), "code": code}, status=422)
    chosen = request.POST.get("person", "") or request.GET.get("as", "")
    if request.method == "POST":
        try:
            return _joined(request, of, bench, chosen)
        except NotIn as wrong:
            problem, status = str(wrong), 422
    card = _card(of, code, bench, chosen)
    return render(request, "join_as.html", {"card": card, "problem": problem}, status=status)


def _class_of(request: HttpRequest, code: str) -> tuple[SchoolClass, str]:
    """Whose code this is, and of which bench. Raises NotIn for none, too many wrong ones, and before the lesson."""
    workshop = the_workshop()
    known = bool(request.get_signed_cookie(JOINED, default=""))
    if not may_try_code(workshop, known_tablet=known):
        raise NotIn("Too many wrong codes were typed just now. Wait ten minutes, or let the instructor sign you in.")
    found = _looked_up(workshop, code) if code else None
    if found is None:
        count_wrong_code(workshop, known_tablet=known)
        raise NotIn("No class and no bench has this code. It stands on the wall, and on the card of the bench.")
    of, bench = found
    if not course(workshop, of.slug).now:
        raise NotIn(f"No lesson of {of.title} is open. The instructor opens it, then this code lets you in.")
    return of, bench


def _looked_up(workshop: Workshop, code: str) -> tuple[SchoolClass, str] | None:
    of = SchoolClass.objects.filter(workshop=workshop, code=code, archived=None).first()
    if of:
        return of, ""
    bench = ClassBench.objects.filter(workshop=workshop, code=code).first()
    of = class_at(workshop, bench.class_slug) if bench else None
    return (of, bench.bench) if of and bench and of.archived is None else None


def _card(of: SchoolClass, code: str, bench: str, chosen: str) -> JoinCard:
    lines = [
        NameLine(one.id, called(one), at, not one.number, is_locked(one))
        for one, at in members_of(of)
        if one.role == "student"
    ]
    return join_card(code, of.title, bench, lines, chosen)


def _joined(request: HttpRequest, of: SchoolClass, bench: str, person_id: str) -> HttpResponse:
    """Signed in, marked as here, and led to the own bench. Raises NotIn."""
    member = next(((one, at) for one, at in members_of(of) if one.id == person_id and one.role == "student"), None)
    if member is None:
        raise NotIn("This name is not on the list. Choose one, or ask the instructor to add you.")
    person, own = member
    number = request.POST.get("number", "").strip()
    if person.number:
        check_number(person, number)
    else:
        give_number(person, checked_number(number, request.POST.get("again", "")))
        look_again()
        person.refresh_from_db()
    sign_in(request, person)
    _is_here(of, person)
    answer = see(_where_to(of, own, bench))
    answer.set_signed_cookie(JOINED, "yes", max_age=_A_YEAR_S, samesite="Lax", httponly=True)
    return answer


def _is_here(of: SchoolClass, person: Person) -> None:
    if person.id in course(of.workshop, of.slug).away:
        with suppress(NotInTheDiary):  # the lesson was closed between two breaths
            write(of, Who(id=person.id), new_id(), "here", person=person.id)


def _where_to(of: SchoolClass, own: str, card_of: str) -> str:
    """To the own bench; with a word where the card was another bench's."""
    bench = ClassBench.objects.filter(workshop=of.workshop, class_slug=of.slug, bench=own).first()
    if bench is None:
        return "/"
    job = Job.objects.get(workshop=of.workshop, id=bench.job)
    return f"/bench/{job.slug}" if card_of in {"", own} else "/hands?other=" + card_of.replace(" ", "+")


@only("GET", "HEAD")
def badge(request: HttpRequest, token: str) -> HttpResponse:
    """A badge is scanned: it leads to the own name in the class whose lesson is open; the number is still typed."""
    workshop = the_workshop()
    try:
        person = badge_holder(workshop, token)
    except NotIn as wrong:
        return render(request, "join.html", {"problem": str(wrong), "code": ""}, status=422)
    slugs = Member.objects.filter(workshop=workshop, person=person.id).values_list("class_slug", flat=True)
    mine = SchoolClass.objects.filter(workshop=workshop, slug__in=list(slugs), archived=None).order_by("-made")
    of = next((one for one in mine if course(workshop, one.slug).now), None)
    if of is None:
        problem = f"No lesson of yours is open, {person.name}. The instructor opens it, then scan your badge again."
        return render(request, "join.html", {"problem": problem, "code": ""}, status=422)
    return HttpResponseRedirect(f"/join/{of.code}?as={person.id}")


@only("GET", "HEAD", "POST")
def hands(request: HttpRequest) -> HttpResponse:
    """Who has this tablet in hand: one tap for another who signed in at it."""
    who = who_of(request)
    if request.method == "POST":
        if not change_hands(request, request.POST.get("person", "")):
            raise Http404("not signed in here")
        return see(_next(request))
    benches = ClassBench.objects.filter(workshop=the_workshop(), class_slug__in=[seat.class_slug for seat in who.seats])
    codes = {(one.class_slug, one.bench): one.code for one in benches}
    seats = [(seat, codes.get((seat.class_slug, seat.bench), "")) for seat in who.seats]
    said = {"seats": seats, "other": request.GET.get("other", "")[:60]}
    return render(request, "hands.html", said)


@only("GET", "HEAD", "POST")
def leaving(request: HttpRequest) -> HttpResponse:
    """Everybody at this tablet is signed out."""
    if request.method == "POST":
        leave(request)
        return see("/")
    return render(request, "leave.html")


def _next(request: HttpRequest) -> str:
    wanted = request.POST.get("next", "")
    safe = url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) and wanted.startswith("/")
    return wanted if safe else "/"
