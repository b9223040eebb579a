"""The wall: every bench at once, for a projector and for the instructor's phone; looks again every two seconds."""

import time
from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from typing import TypeVar

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.bench.page import JobName
from fingertight.cards.card import Card
from fingertight.cards.workshop.handover import handed_over, handover_card
from fingertight.cards.workshop.tally import bench_count, tally_card
from fingertight.cards.workshop.wall import on_the_wall, wall_card
from fingertight.ledger.replay import Ledger
from fingertight.paper.lists.handover import handover_pdf
from fingertight.paper.sheets import CannotPrint
from fingertight.store.models import Job, Workshop
from fingertight.web.jobs.ledgers import ledger_of, mark, name_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import is_fragment, only, refused

Part = TypeVar("Part")


@only("GET", "HEAD")
def wall(request: HttpRequest) -> HttpResponse:
    """All benches that are not put away."""
    now_s = time.time()
    return _looked_at_again(request, "wall", lambda job, ledger: on_the_wall(job, ledger, now_s), wall_card)


@only("GET", "HEAD")
def count(request: HttpRequest) -> HttpResponse:
    """Whether every bench may be walked away from."""
    return _looked_at_again(request, "tally", bench_count, tally_card)


def _looked_at_again(
    request: HttpRequest,
    page: str,
    of_one: Callable[[JobName, Ledger], Part],
    of_all: Callable[[str, list[Part]], Card],
) -> HttpResponse:
    """A page on all benches that stays open: whole, or what lives in it, or nothing where nothing happened."""
    workshop = the_workshop()
    jobs = _at_work(workshop)
    seen = _mark(jobs)
    if (request.headers.get("If-None-Match") or "").removeprefix("W/") == seen:
        return HttpResponse(status=304, headers={"ETag": seen})
    template = f"{page}_live.html" if is_fragment(request) else f"{page}.html"
    card = of_all(workshop.name, _each(jobs, of_one))
    response = render(request, template, {"card": card, "seen": seen, "address": request.path})
    response["ETag"] = seen
    return response


def _each(jobs: list[Job], of_one: Callable[[JobName, Ledger], Part]) -> list[Part]:
    """What is asked of each job, under its own lock; one is open at a time."""
    found = []
    for job in jobs:
        with ledger_of(job) as live:
            found.append(of_one(name_of(job), live.ledger))
    return found


@only("GET", "HEAD")
def handover(request: HttpRequest) -> HttpResponse:
    """Where every bench stopped, as PDF."""
    workshop = the_workshop()
    handed = _each(_at_work(workshop), handed_over)
    day = datetime.now(UTC).astimezone().date().isoformat()
    try:
        pdf = handover_pdf(handover_card(workshop.name, handed), day)
    except CannotPrint as wrong:
        return refused(request, 422, "There is no hand-over sheet", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="hand-over-{day}.pdf"'
    return response


def _at_work(workshop: Workshop) -> list[Job]:
    return list(Job.objects.select_related("machine_version", "workshop").filter(workshop=workshop).order_by("number"))


def _mark(jobs: list[Job]) -> str:
    """What changes when anything at any bench does, and once a minute, since waits grow."""
    said = " ".join(mark(job) for job in jobs) + f" {int(time.time() // 60)}"
    return f'"wall-{sha256(said.encode()).hexdigest()[:20]}"'
