"""One move as the film shows it, from its start to its end; the move before and after it, and the way back."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.film.seen import seen_card
from fingertight.store.models import Job, Workshop
from fingertight.web.guards import POLICY
from fingertight.web.jobs.films import seen_film
from fingertight.web.jobs.workshop import machine_at
from fingertight.web.pages.refusals import only, refused

PLAYS = f"{POLICY}; media-src 'self'"


@only("GET", "HEAD")
def seen(request: HttpRequest, slug: str) -> HttpResponse:
    """The film of a machine at one move (`part`, `way`), or at its first; `bench`: the job to go back to."""
    version, asked = machine_at(slug), request.GET
    film = seen_film(version.workshop, slug)
    bench = _bench(version.workshop, slug, asked.get("bench", ""))
    card = None
    if film:
        name = film.film.name
        card = seen_card(slug, version.name, name, film.chapters, part=asked.get("part", ""), way=asked.get("way", ""))
    if card is None:
        back = (f"/bench/{bench.slug}", "Back to the bench") if bench else (f"/machine/{slug}", "The machine")
        mend = "The film was taken away, or has no chapter of this. The card of the move says how it is done."
        return refused(request, 404, "No film shows this", mend, back)
    response = render(request, "seen.html", {"card": card, "bench": bench})
    response["Content-Security-Policy"] = PLAYS
    return response


def _bench(workshop: Workshop, machine: str, slug: str) -> Job | None:
    """The job of that machine to go back to, if it is one."""
    return Job.objects.filter(workshop=workshop, slug=slug, machine=machine).first() if slug else None
