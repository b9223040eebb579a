"""A class: set up, its benches and people, put away, copied, moved to a machine's new text."""

from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.bench.words import counted
from fingertight.cards.lesson.classes import BenchLine, ClassFacts, LessonLine, PersonLine, class_card
from fingertight.cards.workshop.front import job_line
from fingertight.lesson.diary import Lesson
from fingertight.lesson.hands import one_sided
from fingertight.store.models import Job
from fingertight.store.school.classes import class_at, classes, members_of, put_away, seat
from fingertight.store.school.people import forget, sign_out_everywhere, take_number
from fingertight.store.school.tables import Person, SchoolClass
from fingertight.store.versions import newest_of
from fingertight.web.jobs.ledgers import LiveJob, name_of
from fingertight.web.jobs.taps import AN_ID, Mistyped
from fingertight.web.jobs.workshop import newest_versions, the_workshop
from fingertight.web.lesson.courses import classes_changed, course, write
from fingertight.web.lesson.setup import copied, made_from, more_students, moved_to_newest
from fingertight.web.lesson.stands import each, jobs_of, moment, people_of
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.signin import unlock
from fingertight.web.people.who import called, look_again, who_of


@only("GET", "HEAD", "POST")
def new(request: HttpRequest) -> HttpResponse:
    """What a class is to be: name, machine, benches, lessons, the list of names."""
    problem = ""
    if request.method == "POST":
        try:
            added = made_from(request)
            return see(f"/class/{added.of.slug}?{urlencode({'said': ' '.join(added.left_out)[:1500]})}")
        except (Mistyped, Http404) as wrong:
            problem = str(wrong) if isinstance(wrong, Mistyped) else "Choose a machine of the list, then press again."
    workshop = the_workshop()
    said = {
        "problem": problem,
        "typed": request.POST,
        "machines": newest_versions(workshop),
        "classes": classes(workshop),
    }
    return render(request, "class_new.html", said, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def one(request: HttpRequest, class_slug: str) -> HttpResponse:
    """One class. A form here changes who sits where, the list, or the class as a whole."""
    of, problem = found(class_slug), ""
    if request.method == "POST":
        try:
            where, told = _done(request, of)
            return see(f"{where}?{urlencode({'said': told})}" if told else where)
        except Mistyped as wrong:
            problem = str(wrong)
    said = {"card": _card(of), "problem": problem, "told": request.GET.get("said", "")[:1500]}
    return render(request, "class.html", said, status=422 if problem else 200)


def found(class_slug: str) -> SchoolClass:
    """The class at this address. Raises Http404."""
    of = class_at(the_workshop(), class_slug)
    if of is None:
        raise Http404(class_slug)
    return of


def facts_of(of: SchoolClass) -> ClassFacts:
    """What the store knows of a class."""
    newest = newest_of(of.workshop, of.machine)
    on = {job.machine_sha256 for _, job in jobs_of(of)}
    newer = newest.number if newest and on != {newest.sha256} else 0
    name = newest.name if newest else of.machine
    return ClassFacts(of.slug, of.title, of.machine, name, of.lessons, of.code, newer, of.archived is not None)


def _card(of: SchoolClass) -> object:
    state = course(of.workshop, of.slug)
    people = people_of(of, state.away if state.now else set())
    at = {bench.job: bench for bench, _ in jobs_of(of)}
    names = {one.id: one.name for one in people}

    def line(job: Job, live: LiveJob) -> BenchLine:
        bench = at[job.id]
        here = tuple(one for one in people if one.bench == bench.bench)
        uneven = one_sided(live.ledger, [one.id for one in here]) if len(here) > 1 else None
        return BenchLine(
            bench.bench,
            bench.code,
            job.slug,
            job_line(name_of(job), live.ledger).sentence,
            here,
            f"{names[uneven.person]} did {round(uneven.share * 100)} % of {uneven.of}" if uneven else "",
        )

    lines = each([job for _, job in jobs_of(of)], line)
    benches = {one.bench for one in lines}
    loose: list[PersonLine] = [one for one in people if one.bench not in benches]
    return class_card(facts_of(of), state, lines, loose, [_lesson_line(one) for one in state.lessons if one.closed])


def _lesson_line(lesson: Lesson) -> LessonLine:
    short = f", closed with {lesson.short} not right: “{lesson.word}”" if lesson.short else ""
    return LessonLine(lesson.number, f"Lesson {lesson.number}, {moment(lesson.opened)}{short}.")


def _done(request: HttpRequest, of: SchoolClass) -> tuple[str, str]:
    """What the form asked for: where to look now, and what to say there. Raises Mistyped."""
    form, here = request.POST, f"/class/{of.slug}"
    act = form.get("act", "")
    if act == "add":
        added = more_students(request, of)
        return here, " ".join((f"{counted(added.students, 'name')} added.", *added.left_out))[:1500]
    if act == "archive":
        _put_away(of, away=form.get("away") == "yes")
        look_again()
        return here, ""
    if act == "copy":
        title = " ".join(form.get("title", "").split())
        if not title:
            raise Mistyped("The new class has no name. Type one, then press again.")
        return f"/class/{copied(of, title).slug}", "A class like the other, with engines of its own."
    if act == "version":
        moved, kept = moved_to_newest(of, who_of(request))
        return here, " ".join((f"{counted(moved, 'bench')} moved to the newest file.", *kept))[:1500]
    if act == "sign-out":
        sign_out_everywhere(of.workshop, [person.id for person, _ in members_of(of)])
        look_again()
        return here, "Everybody of this class is signed out at every tablet."
    return here, _with_person(request, of, act)


def _put_away(of: SchoolClass, *, away: bool) -> None:
    """The term is over, or it is not after all. Raises Mistyped while a lesson is open."""
    now = course(of.workshop, of.slug).now
    if away and now:
        raise Mistyped(f"Lesson {now.number} is still open. Count and close it first: nothing is left behind unseen.")
    put_away(of, away=away)
    classes_changed()


def _with_person(request: HttpRequest, of: SchoolClass, act: str) -> str:
    person = next((one for one, _ in members_of(of) if one.id == request.POST.get("person")), None)
    if person is None:
        raise Mistyped("Nobody of this name is in the class. Load the page again.")
    said = _ACTS[act](request, of, person) if act in _ACTS else None
    if said is None:
        raise Mistyped("This form says nothing known here. Load the page again.")
    look_again()
    return said


def _seat(request: HttpRequest, of: SchoolClass, person: Person) -> str:
    bench = request.POST.get("bench", "")
    if bench and bench not in {one.bench for one, _ in jobs_of(of)}:
        raise Mistyped("This class has no such bench. Choose one of the list.")
    seat(of, person, bench)
    if bench:
        given = request.POST.get("id", "")
        write(
            of,
            who_of(request),
            given if AN_ID.match(given) else new_id(),
            "seat",
            person=person.id,
            bench=bench,
        )
    return f"{called(person)} sits at {bench or 'no bench'} now."


def _renumber(request: HttpRequest, of: SchoolClass, person: Person) -> str:
    take_number(person)
    unlock(person)
    return f"{called(person)} chooses a new number when joining next."


def _unlock(request: HttpRequest, of: SchoolClass, person: Person) -> str:
    unlock(person)
    return f"{called(person)} may try again."


def _forget(request: HttpRequest, of: SchoolClass, person: Person) -> str:
    forget(person)
    return "Forgotten: the name is gone, the logs are whole."


_ACTS = {"move": _seat, "renumber": _renumber, "unlock": _unlock, "forget": _forget}
