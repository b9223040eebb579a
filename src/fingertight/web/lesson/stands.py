"""Every bench of a class: its job, one ledger open at a time, and what belongs to all of them."""

import time
from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from fingertight.cards.lesson.classes import PersonLine
from fingertight.cards.lesson.lesson import MissingLine
from fingertight.ledger.replay import Ledger
from fingertight.lesson.diary import Course
from fingertight.lesson.sight import missing_of
from fingertight.lesson.tools import AtBench, ToolNow, lent, taken_last, tools_of
from fingertight.store.models import Job, Workshop
from fingertight.store.school.classes import benches_of, members_of
from fingertight.store.school.tables import ClassBench, SchoolClass, SharedTool
from fingertight.web.jobs.ledgers import LiveJob, ledger_of, name_of
from fingertight.web.people.signin import is_locked
from fingertight.web.people.who import called

Part = TypeVar("Part")


def jobs_of(of: SchoolClass) -> list[tuple[ClassBench, Job]]:
    """The benches of a class in their order, each with its job."""
    benches = benches_of(of)
    found = {
        job.id: job
        for job in Job.objects.select_related("machine_version", "workshop").filter(
            workshop=of.workshop, id__in=[one.job for one in benches]
        )
    }
    return [(bench, found[bench.job]) for bench in benches]


def each(jobs: list[Job], ask: Callable[[Job, LiveJob], Part]) -> list[Part]:
    """What is asked of each job, under its own lock; one is open at a time."""
    found = []
    for job in jobs:
        with ledger_of(job) as live:
            found.append(ask(job, live))
    return found


def people_of(of: SchoolClass, away: set[str]) -> list[PersonLine]:
    """The students of a class."""
    return [
        PersonLine(one.id, called(one), bench, not one.number, is_locked(one), one.id in away)
        for one, bench in members_of(of)
        if one.role == "student"
    ]


def tools_at(workshop: Workshop, jobs: list[Job], course: Course | None) -> tuple[ToolNow, ...]:
    """Shared tools as they are now at these benches."""
    stock = {one.name: one.many for one in SharedTool.objects.filter(workshop=workshop).order_by("name")}

    def at_bench(job: Job, live: LiveJob) -> tuple[list[tuple[str, AtBench]], ...]:
        return tuple(
            [(name, AtBench(job.bench, at.since, at.by)) for name, at in said(live.ledger)]
            for said in (lent, taken_last)
        )

    found = each(jobs, at_bench)
    borrowed, taken = ([one for both in found for one in both[which]] for which in (0, 1))
    return tools_of(stock, borrowed, course.waiting if course else (), taken)


def missing_at(job: Job, ledger: Ledger, names: dict[str, str]) -> list[MissingLine]:
    """What is not where it belongs at one bench."""
    return [
        MissingLine(
            name_of(job),
            one.what,
            one.sentence,
            moment(one.since),
            _last(one.last_seen, one.last_by, one.where, names),
        )
        for one in missing_of(ledger)
    ]


def _last(when: float, by: str, where: str, names: dict[str, str]) -> str:
    if not when:
        return "Nobody had it in sight yet."
    who = names.get(by, "")
    return f"Last in sight {moment(when)}{f', {who}' if who else ''}{f', {where}' if where else ''}."


def moment(when: float) -> str:
    """A time as people say it: the hour today, the day before that."""
    at, today = datetime.fromtimestamp(when), datetime.fromtimestamp(time.time())
    if at.date() == today.date():
        return f"{at:%H:%M}"
    return f"{at.day} {at:%B}, {at:%H:%M}"
