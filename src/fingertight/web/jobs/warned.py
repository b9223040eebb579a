"""What other benches with this machine got wrong, and what the teacher wrote beside a move.

Gathered once a minute, not at every tap.
"""

import time

from fingertight.ledger.asked.warned import mishaps, warnings
from fingertight.store.models import Job, Workshop
from fingertight.store.school.tables import TeacherLine
from fingertight.web.jobs.ledgers import database, ledger_of
from fingertight.web.jobs.workshop import jobs_beside

FRESH_S = 60.0
Warnings = dict[tuple[str, str], tuple[str, ...]]

_gathered: dict[tuple[str, str], tuple[float, Warnings]] = {}


def lines_of(workshop: Workshop, machine: str) -> Warnings:
    """By way and part, what the teacher wrote beside a move of this machine."""
    rows = TeacherLine.objects.filter(workshop=workshop, machine=machine).exclude(text="")
    return {(row.way, row.part): (row.text,) for row in rows}


def lines_changed() -> None:
    """The teacher wrote a line: every bench is told at its next look."""
    _gathered.clear()


def warnings_for(job: Job) -> Warnings:
    """By way and part, what to say at this bench; one ledger is open at a time."""
    key = (str(database()), job.id)
    at, found = _gathered.get(key, (0.0, {}))
    if at and time.monotonic() - at < FRESH_S:
        return found
    jobs = []
    for other in jobs_beside(job):
        with ledger_of(other) as live:
            if live.ledger.entries:
                jobs.append(mishaps(live.ledger))
    found = warnings(jobs)
    for move, said in lines_of(job.workshop, job.machine).items():
        found[move] = (*said, *found.get(move, ()))  # the teacher's own comes first
    _gathered[key] = (time.monotonic(), found)
    return found
