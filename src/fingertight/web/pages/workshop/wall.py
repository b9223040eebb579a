"""The wall: every bench at once, for a projector and for the instructor's phone; looks again every two seconds."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.card import Card
from fingertight.cards.lesson.tools import tool_line
from fingertight.cards.workshop.handover import handed_over, handover_card
from fingertight.cards.workshop.tally import bench_count, tally_card
from fingertight.cards.workshop.wall import OnTheWall, WallCard, WallLesson, on_the_wall, wall_card
from fingertight.lesson.diary import Course
from fingertight.lesson.pace import Planned, share_planned
from fingertight.paper.lists.handover import handover_pdf
from fingertight.paper.sheets import CannotPrint
from fingertight.store.models import Job, Workshop
from fingertight.store.school.classes import class_at, classes
from fingertight.store.school.tables import SchoolClass
from fingertight.web.jobs.ledgers import LiveJob, mark, name_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.lesson.courses import course
from fingertight.web.lesson.stands import each, jobs_of, people_of, tools_at
from fingertight.web.pages.refusals import is_fragment, only, refused
from fingertight.web.people.names import names_mark
from fingertight.web.people.who import Who, who_of


@dataclass(frozen=True)
class Shown:
    """The jobs a page is about: those of one class where one is named or at work, else all there are."""

    workshop: Workshop
    jobs: list[Job]
    of: SchoolClass | None
    state: Course | None

    @property
    def title(self) -> str:
        """What they are called together."""
        return self.of.title if self.of else self.workshop.name


@only("GET", "HEAD")
def wall(request: HttpRequest) -> HttpResponse:
    """All benches that are not put away."""
    return _looked_at_again(request, "wall", lambda shown: _wall(shown, who_of(request)))


@only("GET", "HEAD")
def count(request: HttpRequest) -> HttpResponse:
    """Whether every bench may be walked away from."""

    def tally(shown: Shown) -> Card:
        return tally_card(shown.title, each(shown.jobs, lambda job, live: bench_count(name_of(job), live.ledger)))

    return _looked_at_again(request, "tally", tally)


def _wall(shown: Shown, who: Who) -> WallCard:
    """The wall as this person may see it: a visitor sees no names and no code."""
    now_s, seats = time.time(), _seats(shown) if who.teaches else {}
    planned = _planned(shown, now_s)

    def brought(job: Job, live: LiveJob) -> OnTheWall | None:
        return on_the_wall(name_of(job), live.ledger, now_s, seats.get(job.id, ()), planned)

    tools = [tool_line(tool, now_s) for tool in tools_at(shown.workshop, shown.jobs, shown.state)]
    return wall_card(shown.title, each(shown.jobs, brought), tools, _lesson(shown, who, now_s))


def _seats(shown: Shown) -> dict[str, tuple[str, ...]]:
    """Who sits at the bench of each job, without those who are away."""
    if shown.of is None or shown.state is None:
        return {}
    people = people_of(shown.of, shown.state.away if shown.state.now else set())
    return {
        bench.job: tuple(
            f"{one.name} (away)" if one.is_away else one.name for one in people if one.bench == bench.bench
        )
        for bench, _ in jobs_of(shown.of)
    }


def _planned(shown: Shown, now_s: float) -> Planned | None:
    if shown.of is None or shown.state is None or not shown.state.lessons:
        return None
    over = sum(lesson.closed is not None for lesson in shown.state.lessons)
    minutes = float(shown.state.now.minutes if shown.state.now else shown.of.lesson_min)
    share = share_planned(over, shown.state.elapsed_min(now_s), minutes, shown.of.lessons)
    return Planned(share, shown.of.lessons)


def _lesson(shown: Shown, who: Who, now_s: float) -> WallLesson | None:
    of, state = shown.of, shown.state
    if of is None or state is None or state.now is None:
        return None
    people, left = people_of(of, state.away), state.minutes_left(now_s)
    here = sum(not one.is_away for one in people)
    return WallLesson(
        of.title,
        of.slug,
        f"{of.title}, lesson {state.now.number} of {of.lessons}",
        f"{here} of {len(people)} here" if people else "",
        "Time is over: count" if not left else f"{left} min to the end",
        of.code if who.teaches else "",
    )


def _looked_at_again(request: HttpRequest, page: str, card_of: Callable[[Shown], Card]) -> HttpResponse:
    """A page on all benches that stays open: whole, or what lives in it, or nothing where nothing happened."""
    shown = _shown(request)
    seen = _mark(shown, who_of(request))
    if (request.headers.get("If-None-Match") or "").removeprefix("W/") == seen:
        return HttpResponse(status=304, headers={"ETag": seen})
    template = f"{page}_live.html" if is_fragment(request) else f"{page}.html"
    asked = f"?class={shown.of.slug}" if shown.of else ""
    said = {"card": card_of(shown), "seen": seen, "address": request.get_full_path(), "asked": asked}
    response = render(request, template, said)
    response["ETag"] = seen
    return response


@only("GET", "HEAD")
def handover(request: HttpRequest) -> HttpResponse:
    """Where every bench stopped, as PDF."""
    shown = _shown(request)
    handed = each(shown.jobs, lambda job, live: handed_over(name_of(job), live.ledger))
    day = datetime.now(UTC).astimezone().date().isoformat()
    try:
        pdf = handover_pdf(handover_card(shown.title, handed), day)
    except CannotPrint as wrong:
        return refused(request, 422, "There is no hand-over sheet", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="hand-over-{day}.pdf"'
    return response


def _shown(request: HttpRequest) -> Shown:
    """The class that is named; else the one whose lesson is open; else every job there is."""
    workshop, named = the_workshop(), request.GET.get("class", "")
    of = class_at(workshop, named) if named else None
    if of is None and named != "all":
        of = next((one for one in classes(workshop) if course(workshop, one.slug).now), None)
    if of:
        return Shown(workshop, [job for _, job in jobs_of(of)], of, course(workshop, of.slug))
    jobs = Job.objects.select_related("machine_version", "workshop").filter(workshop=workshop).order_by("number")
    return Shown(workshop, list(jobs), None, None)


def _mark(shown: Shown, who: Who) -> str:
    """What changes when anything at any bench does, and once a minute, since waits grow."""
    said = " ".join(mark(job) for job in shown.jobs)
    said += f" {int(time.time() // 60)} {shown.of.slug if shown.of else ''} {who.role}"
    said += f" {names_mark(who, shown.workshop)}" if who.teaches else ""
    return f'"wall-{sha256(said.encode()).hexdigest()[:20]}"'
