"""Whose bolt is this? One from the floor, or a whole tray, at one bench."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.sums.answer import SumCard
from fingertight.cards.tighten.bolt import bolt_card
from fingertight.cards.tighten.tray import tray_card
from fingertight.ledger.state import State
from fingertight.quantity import NotUnderstood
from fingertight.web.jobs.ledgers import ledger_of, name_of
from fingertight.web.jobs.workshop import job_at
from fingertight.web.pages.refusals import only

LONGEST = 8000


@only("GET", "HEAD")
def loose(request: HttpRequest, slug: str) -> HttpResponse:
    """What was told, and whose it is; the address holds the question, so it can be kept and sent."""
    job, told, problem = job_at(slug), request.GET.get("bolts", "")[:LONGEST], ""
    card: SumCard | None = None
    with ledger_of(job) as live:
        if told.strip():
            try:
                card = _answered(live.ledger.state, told)
            except NotUnderstood as slip:
                problem = str(slip)
    said = {
        "job": name_of(job),
        "told": told,
        "answer": card.answer if card else None,
        "is_no": card.is_no if card else False,
        "problem": problem,
    }
    return render(request, "loose.html", said, status=422 if problem else 200)


def _answered(state: State, told: str) -> SumCard:
    lines = [line for line in told.splitlines() if line.strip()]
    anatomy = state.plan.anatomy
    if len(lines) == 1:
        try:
            return bolt_card(anatomy, lines[0], state)
        except NotUnderstood:  # several of one kind are a small tray
            return tray_card(anatomy, lines, state)
    return tray_card(anatomy, lines, state)
