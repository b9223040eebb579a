"""The films on the workshop's machine: which there are, another is sent, one is played."""

from typing import cast

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.csrf import csrf_exempt, csrf_protect

from fingertight.cards.film.folder import films_card
from fingertight.store.films import folder
from fingertight.store.log.promise import Refused
from fingertight.store.models import MachineVersion
from fingertight.web.jobs.films import films_changed, films_folder
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.film.arriving import Arriving, arrived_film
from fingertight.web.pages.film.ranges import sent_file
from fingertight.web.pages.refusals import only, see


@csrf_exempt  # asked in `_films`: the form must not be read before it is said where a film in it goes
@only("GET", "HEAD", "POST")
def films(request: HttpRequest) -> HttpResponse:
    """The films there are; another one."""
    if request.method == "POST":
        request.upload_handlers = [Arriving(request)]
    return _films(request)


@csrf_protect
def _films(request: HttpRequest) -> HttpResponse:
    machine, problem = _machine(request), ""
    if request.method == "POST":
        try:
            film = arrived_film(request)
            films_changed()
            return see(f"/machine/{machine}/film?film={film.name}" if machine else "/films")
        except Refused as wrong:
            problem = str(wrong)
    card = films_card(folder.films(films_folder()), max(folder.free_bytes(films_folder()), 0))
    said = {"card": card, "problem": problem, "machine": machine, "folder": films_folder()}
    said["most"] = settings.LARGEST_FILM_BYTES
    return render(request, "films.html", said, status=422 if problem else 200)


@only("GET", "HEAD")
def film(request: HttpRequest, name: str) -> HttpResponse:
    """The film, or the piece of it that is asked for."""
    found = folder.film_named(films_folder(), name)
    if found is None:
        raise Http404(name)
    # Sent piece by piece, it is no HttpResponse to Django, but all that is done with one here.
    return cast(HttpResponse, sent_file(request, found.path, found.type, found.size, found.changed_ns))


def _machine(request: HttpRequest) -> str:
    """The machine the film is sent for, if there is one of this address."""
    slug = request.GET.get("machine", "")
    return slug if MachineVersion.objects.filter(workshop=the_workshop(), slug=slug).exists() else ""
