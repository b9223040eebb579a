"""A lesson: opened with where each bench stopped and who is away; run; counted; closed with the instructor's word."""

import time
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.bench.page import stage_of
from fingertight.cards.bench.words import counted
from fingertight.cards.lesson.lesson import LessonCard, MissingLine, Stopped, lesson_card, short_of
from fingertight.cards.workshop.front import job_line
from fingertight.cards.workshop.handover import handed_over
from fingertight.cards.workshop.tally import BenchCount, bench_count
from fingertight.ledger.replay import Ledger
from fingertight.lesson.diary import NotInTheDiary
from fingertight.store.models import Job
from fingertight.store.school.classes import give_code, members_of
from fingertight.store.school.people import new_code, sign_out_everywhere
from fingertight.store.school.tables import SchoolClass
from fingertight.web.jobs.ledgers import LiveJob, name_of
from fingertight.web.jobs.taps import AN_ID, Mistyped
from fingertight.web.lesson.courses import course, write
from fingertight.web.lesson.setup import LONGEST_LESSON_MIN, whole
from fingertight.web.lesson.stands import each, jobs_of, missing_at, people_of
from fingertight.web.marks import new_id
from fingertight.web.pages.lesson.classes import found
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.names import names_for
from fingertight.web.people.who import look_again, who_of

JOIN_LETTERS = 6
LAST_MINUTES = 5
LONGEST_WORD = 300
MOST_MOVES = 3
"""Of so many moves of each bench that come next, the cautions are said before the lesson begins."""


@only("GET", "HEAD", "POST")
def lesson(request: HttpRequest, class_slug: str) -> HttpResponse:
    """The lesson that is open, or the one to come."""
    of, problem = found(class_slug), ""
    if request.method == "POST":
        try:
            _done(request, of)
            return see(request.path)
        except (Mistyped, NotInTheDiary) as wrong:
            problem = str(wrong)
    said = {"card": _card(request, of, problem)}
    return render(request, "lesson.html", said, status=422 if problem else 200)


def _done(request: HttpRequest, of: SchoolClass) -> None:
    """One press of the instructor's, written into the class's log. Raises Mistyped, NotInTheDiary."""
    form, who, act = request.POST, who_of(request), request.POST.get("act", "")
    given = form.get("id", "")
    entry = given if AN_ID.match(given) else new_id()
    if act == "open":
        minutes = whole("Minutes of this lesson", form.get("minutes", str(of.lesson_min)), LONGEST_LESSON_MIN)
        if write(of, who, entry, "open", minutes=minutes):
            give_code(of, new_code(JOIN_LETTERS))
            for person in form.getlist("away"):
                _away(of, request, person, "away")
    elif act in {"away", "here"}:
        _away(of, request, form.get("person", ""), act)
    elif act == "ending":
        write(of, who, entry, "ending", minutes=LAST_MINUTES)
    elif act == "close":
        stands = stands_of(request, of)
        short = short_of([one for one in stands.counts if one], stands.missing)
        word = " ".join(form.get("word", "").split())[:LONGEST_WORD]
        if write(of, who, entry, "close", short=short, word=word):
            give_code(of, "")
            sign_out_everywhere(of.workshop, [one.id for one, _ in members_of(of) if one.role == "student"])
            look_again()
    else:
        raise Mistyped("This form says nothing known here. Load the page again.")


def _away(of: SchoolClass, request: HttpRequest, person: str, act: str) -> None:
    if person in {one.id for one, _ in members_of(of)}:
        write(of, who_of(request), new_id(), act, person=person)


@dataclass(frozen=True)
class Stands:
    """Where every bench of a class stands: where it stopped, what is missing, whether it was counted."""

    stopped: list[Stopped]
    missing: list[MissingLine]
    counts: list[BenchCount | None]


def stands_of(request: HttpRequest, of: SchoolClass) -> Stands:
    """What the lesson asks of every bench; one ledger is open at a time."""
    names = names_for(who_of(request), of.workshop)

    def stand(job: Job, live: LiveJob) -> tuple[Stopped, list[MissingLine], BenchCount | None]:
        ledger = live.ledger
        return _stopped(job, ledger), missing_at(job, ledger, names), bench_count(name_of(job), ledger)

    stands = each([job for _, job in jobs_of(of)], stand)
    return Stands(
        [one for one, _, _ in stands],
        [line for _, missing, _ in stands for line in missing],
        [count for _, _, count in stands],
    )


def _stopped(job: Job, ledger: Ledger) -> Stopped:
    name, handed = name_of(job), handed_over(name_of(job), ledger)
    state = ledger.state
    could = state.moves.may_come_off() if stage_of(ledger) == "strip" else state.may_go_on()
    coming = [] if state.finished else list(could)[:MOST_MOVES]
    cautions = tuple(dict.fromkeys(text for part in coming for text in ledger.plan.anatomy.part_by_id[part].cautions))
    if handed is None:
        return Stopped(name, job_line(name, ledger).sentence, cautions)
    tools = f" Still has: {', '.join(handed.tools)}." if handed.tools else ""
    flags = f" {counted(len(handed.flags) + handed.more_flags, 'thing')} not right." if handed.flags else ""
    return Stopped(name, f"{handed.stage}, {handed.depth}. {handed.last}{tools}{flags}", cautions)


def _card(request: HttpRequest, of: SchoolClass, problem: str) -> LessonCard:
    state, stands = course(of.workshop, of.slug), stands_of(request, of)
    return lesson_card(
        state,
        slug=of.slug,
        title=of.title,
        of=of.lessons,
        minutes=of.lesson_min,
        code=of.code,
        now_s=time.time(),
        stopped=stands.stopped,
        people=people_of(of, state.away if state.now else set()),
        missing=stands.missing,
        counts=stands.counts,
        problem=problem,
    )
