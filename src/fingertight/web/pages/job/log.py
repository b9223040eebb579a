"""The log of a job: every entry, undo, and taking the job along."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.workshop.log import log_card
from fingertight.store.archive import write_archive
from fingertight.store.kept import archive_of
from fingertight.store.models import Job
from fingertight.web.jobs.ledgers import ledger_of, log_of, mark_of
from fingertight.web.jobs.taps import NotWritten, press
from fingertight.web.jobs.workshop import job_at
from fingertight.web.pages.refusals import is_fragment, only, see
from fingertight.web.people.names import names_for, names_mark
from fingertight.web.people.who import who_of


@only("GET", "HEAD", "POST")
def log(request: HttpRequest, slug: str) -> HttpResponse:
    """Every entry, newest first."""
    job = job_at(slug)
    if request.method == "POST":
        try:
            press(job, request.POST, who_of(request))
        except NotWritten as wrong:
            return shown(request, job, str(wrong), wrong.status)
        return shown(request, job) if is_fragment(request) else see(request.path)
    seen = _mark(request, job, log_of(job).head().seq)
    if (request.headers.get("If-None-Match") or "").removeprefix("W/") == seen:
        return HttpResponse(status=304, headers={"ETag": seen})
    return shown(request, job)


def _mark(request: HttpRequest, job: Job, seq: int) -> str:
    """What changes with an entry, and with what those who wrote them are called."""
    return f'{mark_of(job, seq)[:-1]}-{names_mark(who_of(request), job.workshop)}"'


def shown(request: HttpRequest, job: Job, problem: str = "", status: int = 200) -> HttpResponse:
    """The page, or for a page that is open already only what lives in it."""
    names = names_for(who_of(request), job.workshop)
    with ledger_of(job) as live:
        card = log_card(job.slug, job.bench, job.title, live.ledger, names)
        seen, unread = _mark(request, job, live.seq), tuple(live.unread)
    template = "log_live.html" if is_fragment(request) else "log.html"
    said = {"card": card, "seen": seen, "problem": problem, "unread": unread, "address": request.path}
    response = render(request, template, said, status=status)
    response["ETag"] = seen
    return response


@only("GET", "HEAD")
def taken_along(request: HttpRequest, slug: str, name: str) -> HttpResponse:
    """The job as one zip, its log, or its machine's text."""
    job = job_at(slug)
    kind, read = TAKEN[name]
    response = HttpResponse(read(job), content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{job.slug}-{name}"'
    return response


def _zip(job: Job) -> bytes:
    return write_archive(archive_of(job, log_of(job)))


def _lines(job: Job) -> bytes:
    return "".join(f"{entry.body}\n" for entry in log_of(job).after()).encode()


def _text(job: Job) -> bytes:
    text: str = job.machine_version.text
    return text.encode()


TAKEN: dict[str, tuple[str, Callable[[Job], bytes]]] = {
    "job.zip": ("application/zip", _zip),
    "log.jsonl": ("application/jsonl; charset=utf-8", _lines),
    "anatomy.toml": ("application/toml; charset=utf-8", _text),
}
