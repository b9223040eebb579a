"""One part at one bench."""

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.cards.bench.part import part_card
from fingertight.cards.film.seen import DONE
from fingertight.lesson.record.pictures import NotAPhoto
from fingertight.lesson.record.recording import recording_of
from fingertight.store.models import Job
from fingertight.store.school.photos import still_there
from fingertight.store.school.recordings import entries_of, recordings_of
from fingertight.web.jobs.films import film_words
from fingertight.web.jobs.ledgers import ledger_of, name_of
from fingertight.web.jobs.taps import NotWritten, press
from fingertight.web.jobs.workshop import job_at
from fingertight.web.pages.record.photos import photos_sent
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of


@only("GET", "HEAD", "POST")
def part(request: HttpRequest, slug: str, part_id: str) -> HttpResponse:
    """Where it is, what holds it, why not yet, what was done with it."""
    job = job_at(slug)
    if request.method == "POST":
        try:
            press(job, _with_photo(request), who_of(request))
        except NotWritten as wrong:
            return shown(request, job, part_id, str(wrong), wrong.status)
        except NotAPhoto as wrong:
            return shown(request, job, part_id, str(wrong), 422)
        return see(request.path)
    return shown(request, job, part_id)


def _with_photo(request: HttpRequest) -> QueryDict:
    """The form, with the id of the picture that came with it. Raises NotAPhoto."""
    sent = photos_sent(request)
    if not sent:
        return request.POST
    form = request.POST.copy()
    form["photo"] = sent[0]
    return form


def _demonstrated(job: Job, part_id: str) -> list[str]:
    """The photos of this part that were taken when the machine was recorded."""
    found = (recording_of(entries_of(one)).off for one in recordings_of(job.workshop, job.machine))
    return [photo for parts in found for part in parts if part.id == part_id for photo in part.details.photos]


def shown(request: HttpRequest, job: Job, part_id: str, problem: str = "", status: int = 200) -> HttpResponse:
    """The page; what was typed and not taken stays in its fields."""
    with ledger_of(job) as live:
        if part_id not in live.plan.parts:
            raise Http404(part_id)
        typed = request.POST.dict() if problem else {}
        card = part_card(name_of(job), live.ledger, live.bags, part_id, typed)
    said = {"card": card, "problem": problem, "address": request.path, "typed": typed}
    said["photos"] = still_there(job.workshop, [*_demonstrated(job, part_id), *card.photos])
    films = film_words(job.workshop, job.machine)
    said["films"] = [way for way in ("off", "on") if films.get((way, part_id)) == DONE]
    return render(request, "part.html", said, status=status)
