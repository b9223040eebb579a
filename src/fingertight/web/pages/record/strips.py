"""What benches took apart teaches too: each strip of a machine that was made from this recording, added by a press."""

import json

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.record.strips import strips_card
from fingertight.lesson.record.recording import NotRecorded, Recording, recording_of
from fingertight.lesson.record.strips import strip_in
from fingertight.order.learn import Strip
from fingertight.store.models import Job
from fingertight.store.school.recordings import entries_of
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.jobs.ledgers import log_of
from fingertight.web.pages.record.kept import enter, found, learned
from fingertight.web.pages.refusals import only, see

MOST_JOBS = 60


@only("GET", "HEAD", "POST")
def strips(request: HttpRequest, slug: str) -> HttpResponse:
    """Every bench that stripped such a machine, what its order would teach, and which were added."""
    of, problem = found(slug), ""
    recording = recording_of(entries_of(of))
    there = _strips(of, recording)
    if request.method == "POST":
        try:
            _add(request, of, there)
            return see(request.path)
        except NotRecorded as wrong:
            problem = str(wrong)
    known = learned(request, of, recording)
    names = {part.id: part.name for part in recording.off}
    shown = {job.slug: _named(strip, names) for job, strip in there}
    said = {
        "slug": of.slug,
        "name": of.name,
        "machine": of.machine,
        "card": strips_card(known, shown, [one.label for one in recording.strips]),
        "problem": problem,
        "address": request.path,
    }
    return render(request, "record_strips.html", said, status=422 if problem else 200)


def _strips(of: RecordedMachine, recording: Recording) -> list[tuple[Job, Strip]]:
    """The strips of all benches, as far as they are of parts of this recording."""
    if not of.machine:
        return []
    ids = [part.id for part in recording.off]
    jobs = Job.objects.select_related("machine_version", "workshop").filter(
        workshop=of.workshop, machine_version__slug=of.machine
    )
    found_there = []
    for job in jobs.order_by("-started")[:MOST_JOBS]:
        bodies = (json.loads(kept.body) for kept in log_of(job).after())
        strip = strip_in(bodies, f"{job.bench}, {job.title}, {job.started:%d %B %Y}", ids)
        order = tuple(part for part in strip.order if part in ids)
        if len(order) > 1:
            found_there.append((job, Strip(order, strip.label, strip.still_on)))
    return found_there


def _named(strip: Strip, names: dict[str, str]) -> Strip:
    order, still_on = (tuple(names[part] for part in some) for some in (strip.order, strip.still_on))
    return Strip(order, strip.label, still_on)


def _add(request: HttpRequest, of: RecordedMachine, there: list[tuple[Job, Strip]]) -> None:
    """The strip of one bench becomes an entry, or counts no more. Raises NotRecorded."""
    if label := request.POST.get("back", ""):
        enter(request, of, "no strip", label=label)
        return
    wanted = request.POST.get("job", "")
    strip = next((strip for job, strip in there if job.slug == wanted), None)
    if strip is None:
        raise NotRecorded("This bench took fewer than two parts off. Load the page again.")
    enter(request, of, "strip", label=strip.label, order=list(strip.order), still_on=list(strip.still_on))
