"""What other benches with this machine got wrong: gathered once a minute, not at every tap."""

import time

from fingertight.ledger.asked.warned import mishaps, warnings
from fingertight.store.models import Job
from fingertight.web.jobs.ledgers import database, ledger_of
from fingertight.web.jobs.workshop import jobs_beside

FRESH_S = 60.0
Warnings = dict[tuple[str, str], tuple[str, ...]]

_gathered: dict[tuple[str, str], tuple[float, Warnings]] = {}


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
    _gathered[key] = (time.monotonic(), found)
    return found
