"""What one person has done with their own hands, over all benches they sat at."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.lesson.student import StudentCard, student_card
from fingertight.lesson.hands import Hands, hands_of, not_yet, one_sided
from fingertight.store.models import Job
from fingertight.store.school.classes import class_at, members_of
from fingertight.store.school.people import person_at
from fingertight.store.school.tables import Member, Person
from fingertight.web.jobs.ledgers import ledger_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.lesson.stands import each, jobs_of
from fingertight.web.pages.refusals import only
from fingertight.web.people.who import called, who_of


@only("GET", "HEAD")
def student(request: HttpRequest, person_id: str) -> HttpResponse:
    """Somebody of a class, for the instructor."""
    person = person_at(the_workshop(), person_id)
    if person is None or person.forgotten or person.role != "student":
        raise Http404(person_id)
    return render(request, "student.html", {"card": _card(person), "title": called(person)})


@only("GET", "HEAD")
def mine(request: HttpRequest) -> HttpResponse:
    """The own work, for whoever is signed in."""
    person = person_at(the_workshop(), who_of(request).id)
    if person is None:
        raise Http404("nobody")
    return render(request, "student.html", {"card": _card(person), "title": "What you have done"})


def _card(person: Person) -> StudentCard:
    """Over all classes: what was done anywhere, what not yet at the own bench, and whether a pair shares."""
    workshop, hands, benches = person.workshop, Hands(person.id), []
    own: list[tuple[Job, str, list[str]]] = []
    for member in Member.objects.filter(workshop=workshop, person=person.id):
        of = class_at(workshop, member.class_slug)
        if of is None:
            continue
        stands = jobs_of(of)
        for done in each([job for _, job in stands], lambda job, live: hands_of(person.id, [(job.id, live.ledger)])):
            hands = _together(hands, done)
        pair = [one.id for one, bench in members_of(of) if bench == member.bench and one.role == "student"]
        own += [(job, bench.bench, pair) for bench, job in stands if bench.bench == member.bench]
        benches += [f"{of.title}, {member.bench}"] if member.bench else []
    missing: list[str] = []
    uneven: list[str] = []
    for job, bench, pair in own:
        with ledger_of(job) as live:
            missing += not_yet(hands, live.ledger)
            sided = one_sided(live.ledger, pair) if len(pair) > 1 else None
        if sided:
            who = called(person) if sided.person == person.id else "The other one"
            uneven.append(f"{who} did {round(sided.share * 100)} % of the {sided.of} things done at {bench}.")
    return student_card(called(person), benches, hands, list(dict.fromkeys(missing)), uneven)


def _together(one: Hands, other: Hands) -> Hands:
    return Hands(
        one.person,
        one.off + other.off,
        one.on + other.on,
        one.passes + other.passes,
        one.readings + other.readings,
        one.settings + other.settings,
        one.signs + other.signs,
        one.counts + other.counts,
    )
