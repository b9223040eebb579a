"""The bench: what can be done now. A press writes an entry; an open page is told whether anything changed."""

from collections.abc import Mapping

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from fingertight.cards.bench.page import STAGES, bench_card, pressed_card, stage_of
from fingertight.store.log.promise import Receipt
from fingertight.store.models import Job
from fingertight.web.jobs.films import film_words
from fingertight.web.jobs.ledgers import is_seen, ledger_of, mark, mark_of, name_of
from fingertight.web.jobs.taps import NotWritten, press
from fingertight.web.jobs.warned import warnings_for
from fingertight.web.jobs.workshop import job_at
from fingertight.web.lesson.courses import ending_sentence, lesson_at
from fingertight.web.pages.refusals import is_fragment, is_program, only, refused, see
from fingertight.web.people.who import who_of


@only("GET", "HEAD", "POST")
def bench(request: HttpRequest, slug: str, stage: str = "") -> HttpResponse:
    """One bench at one stage; without a stage, the one its last move belongs to."""
    job = job_at(slug)
    if stage and stage not in STAGES:
        raise Http404(stage)
    if request.method == "POST":
        return pressed(request, job, stage)
    if is_seen(job, request.headers.get("If-None-Match")):
        return HttpResponse(status=304, headers={"ETag": mark(job)})
    return shown(request, job, stage)


def pressed(request: HttpRequest, job: Job, stage: str) -> HttpResponse:
    """The press is written and the page shown anew; what could not be taken comes back as it was typed."""
    try:
        receipt = press(job, request.POST, who_of(request))
    except NotWritten as wrong:
        if is_program(request):
            return refused(request, wrong.status, "Not written", str(wrong))
        return shown(request, job, stage, typed=request.POST.dict(), problem=str(wrong), status=wrong.status)
    if is_program(request):
        return answered(job, receipt)
    return shown(request, job, stage) if is_fragment(request) else see(request.get_full_path())


def answered(job: Job, receipt: Receipt) -> HttpResponse:
    """The answer to a program's press: that it is kept, and what is not right now."""
    with ledger_of(job) as live:
        card = pressed_card(live.ledger, receipt.id, receipt.seq)
    return JsonResponse(card.as_json())


def shown(
    request: HttpRequest,
    job: Job,
    stage: str,
    *,
    typed: Mapping[str, str] | None = None,
    problem: str = "",
    status: int = 200,
) -> HttpResponse:
    """The page, or for a page that is open already only what lives in it."""
    warned, films = warnings_for(job), film_words(job.workshop, job.machine)
    with ledger_of(job) as live:
        card = bench_card(
            name_of(job),
            live.ledger,
            live.bags,
            stage or stage_of(live.ledger),
            typed=typed,
            problem=problem,
            warned=warned,
            films=films,
        )
        seen = mark_of(job, live.seq)
    now = lesson_at(job)
    template = "bench/live.html" if is_fragment(request) else "bench.html"
    said = {"card": card, "seen": seen, "problem": problem, "address": f"/bench/{job.slug}/{card.stage}"}
    said["ending"] = ending_sentence(now[1]) if now else ""
    response = render(request, template, said, status=status)
    response["ETag"] = seen
    return response
