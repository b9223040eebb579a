"""One size being measured: readings in, verdict out in the same answer."""

from collections.abc import Mapping

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.measure.page import Others, size_page_card
from fingertight.cards.measure.sheet import measuring_sheet
from fingertight.ledger.asked.measured import sizes_of
from fingertight.paper.lists.measured import measured_pdf
from fingertight.paper.sheets import CannotPrint
from fingertight.store.models import Job
from fingertight.web.jobs.ledgers import is_seen, ledger_of, mark, mark_of, name_of
from fingertight.web.jobs.taps import NotWritten, press
from fingertight.web.jobs.workshop import job_at, jobs_beside
from fingertight.web.pages.refusals import is_fragment, only, refused, see
from fingertight.web.people.who import who_of


@only("GET", "HEAD", "POST")
def measure(request: HttpRequest, slug: str, check_id: str) -> HttpResponse:
    """The page of one check. A press is written and answered with the verdict; what was not taken comes back."""
    job = job_at(slug)
    if request.method == "POST":
        try:
            press(job, request.POST, who_of(request))
        except NotWritten as wrong:
            return shown(request, job, check_id, typed=request.POST.dict(), problem=str(wrong), status=wrong.status)
        return shown(request, job, check_id) if is_fragment(request) else see(request.path)
    if is_seen(job, request.headers.get("If-None-Match")):
        return HttpResponse(status=304, headers={"ETag": mark(job)})
    return shown(request, job, check_id)


def shown(
    request: HttpRequest,
    job: Job,
    check_id: str,
    *,
    typed: Mapping[str, str] | None = None,
    problem: str = "",
    status: int = 200,
) -> HttpResponse:
    """The page, or for one that is open already what lives in it."""
    others = of_the_class(job, check_id)
    with ledger_of(job) as live:
        try:
            card = size_page_card(
                name_of(job),
                live.ledger.state,
                check_id,
                others=others,
                typed=typed,
                problem=problem,
                chosen=request.GET.get("with", ""),
            )
        except KeyError:
            raise Http404(check_id) from None
        seen = mark_of(job, live.seq)
    template = "measure_live.html" if is_fragment(request) else "measure.html"
    said = {"card": card, "seen": seen, "address": request.path}
    response = render(request, template, said, status=status)
    response["ETag"] = seen
    return response


@only("GET", "HEAD")
def sheet(request: HttpRequest, slug: str) -> HttpResponse:
    """Readings, verdicts and the order list of this job as PDF."""
    job = job_at(slug)
    with ledger_of(job) as live:
        card = measuring_sheet(live.ledger.state, job.machine_sha256, bench=job.bench)
    try:
        pdf = measured_pdf(card)
    except CannotPrint as wrong:
        return refused(request, 422, "There is no measuring sheet", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{slug}-measured.pdf"'
    return response


def of_the_class(job: Job, check_id: str) -> Others:
    """What the other benches with this very machine read at each spot; one ledger is open at a time."""
    found: dict[tuple[str | None, str | None], list[float]] = {}
    for other in jobs_beside(job):
        with ledger_of(other) as live:
            state = live.ledger.state
            check = state.plan.anatomy.check_by_id.get(check_id)
            for spot, size in sizes_of(state, check).items() if check else ():
                found.setdefault(spot, []).append(size)
    return found
