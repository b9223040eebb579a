"""The wall: every bench at once, for a projector and for the instructor's phone; looks again every two seconds."""

import time
from hashlib import sha256

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.workshop.wall import wall_card
from fingertight.store.models import Job, Workshop
from fingertight.web.jobs.ledgers import ledger_of, mark, name_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import is_fragment, only


@only("GET", "HEAD")
def wall(request: HttpRequest) -> HttpResponse:
    """All benches that are not put away."""
    workshop = the_workshop()
    jobs = _at_work(workshop)
    seen = _mark(jobs)
    if (request.headers.get("If-None-Match") or "").removeprefix("W/") == seen:
        return HttpResponse(status=304, headers={"ETag": seen})
    ledgers = []
    for job in jobs:
        with ledger_of(job) as live:
            ledgers.append((name_of(job), live.ledger))
    card = wall_card(workshop.name, ledgers, time.time())
    template = "wall_live.html" if is_fragment(request) else "wall.html"
    response = render(request, template, {"card": card, "seen": seen, "address": request.path})
    response["ETag"] = seen
    return response


def _at_work(workshop: Workshop) -> list[Job]:
    return list(Job.objects.select_related("machine_version", "workshop").filter(workshop=workshop).order_by("number"))


def _mark(jobs: list[Job]) -> str:
    """What changes when anything at any bench does, and once a minute, since waits grow."""
    said = " ".join(mark(job) for job in jobs) + f" {int(time.time() // 60)}"
    return f'"wall-{sha256(said.encode()).hexdigest()[:20]}"'
