"""Practice at reading instruments: one set at random, what was read, and how the class gets on."""

import secrets
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.measure.exercise import choices, exercise_card, is_drawn
from fingertight.cards.measure.record import Tried, record_card
from fingertight.cards.pictures.drawing import svg
from fingertight.cards.pictures.instruments.drawn import drawn_for
from fingertight.measure.slips import turn_of
from fingertight.measure.typed import Scale, as_read
from fingertight.quantity import NotUnderstood, converted, read_quantity
from fingertight.store.kept import keep_attempt
from fingertight.store.models import Attempt
from fingertight.web.jobs.taps import AN_ID
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see

MOST_SEEDS = 10**9
LONGEST_MARK, LONGEST_TYPED = 40, 60
REMEMBERED_S = 12 * 3600


@only("GET", "HEAD")
def exercises(request: HttpRequest) -> HttpResponse:
    """The instruments there are to practise at."""
    return render(request, "exercises.html", {"choices": choices(), "who": _who(request)})


@only("GET", "HEAD", "POST")
def exercise(request: HttpRequest, name: str) -> HttpResponse:
    """One instrument to be read. A reading sent is kept, and told; the address says which setting it was."""
    if not is_drawn(name):
        raise Http404(name)
    if request.method == "POST":
        return _tried(request, name)
    seed = _seed(request.GET.get("seed", ""))
    if seed is None:
        return see(f"/exercise/{name}?seed={secrets.randbelow(MOST_SEEDS)}")
    card = exercise_card(name, seed, request.GET.get("read", "")[:LONGEST_TYPED])
    said = {"card": card, "who": _who(request)}
    return render(request, "exercise.html", said, status=422 if card.problem else 200)


@only("GET", "HEAD")
def record(request: HttpRequest) -> HttpResponse:
    """How the class gets on, by person and instrument."""
    rows = Attempt.objects.filter(workshop=the_workshop()).order_by("at", "id")
    card = record_card(Tried(row.who, row.instrument, row.seed, row.typed) for row in rows)
    return render(request, "exercise_record.html", {"card": card})


@only("GET", "HEAD")
def instrument(request: HttpRequest) -> HttpResponse:
    """The instrument at a typed value, for a page that is open: does yours look like this?"""
    said = request.GET
    try:
        kind, unit = said.get("kind", ""), said.get("unit", "mm")
        resolution = float(said.get("resolution", "0"))
        read = as_read(said.get("value", "")[:LONGEST_TYPED], Scale(unit, resolution, turn_of(kind, unit)))
        zero = read_quantity(said["zero"], unit)[0] if said.get("zero", "").strip() else None
        # Of several readings of a spot the last is the one that is being typed.
        drawn = drawn_for(kind, unit, resolution, converted(read.values[-1], read.unit, unit), zero=zero)
    except (NotUnderstood, ValueError, KeyError):
        drawn = None
    return HttpResponse(svg(drawn) if drawn else "")


def _tried(request: HttpRequest, name: str) -> HttpResponse:
    seed, typed = _seed(request.POST.get("seed", "")), request.POST.get("read", "").strip()[:LONGEST_TYPED]
    who = " ".join(request.POST.get("who", "").split())[:LONGEST_MARK]
    if seed is None:
        return see(f"/exercise/{name}")
    card = exercise_card(name, seed, typed)
    if card.told:
        given = request.POST.get("id", "")
        attempt = given if AN_ID.match(given) else new_id()
        keep_attempt(the_workshop(), attempt, who=who, instrument=name, seed=seed, typed=typed)
    answer = see(f"/exercise/{name}?{urlencode({'seed': seed, 'read': typed})}")
    answer.set_cookie("who", who, max_age=REMEMBERED_S, samesite="Lax", httponly=True)
    return answer


def _seed(said: str) -> int | None:
    return int(said) if said.isascii() and said.isdigit() and len(said) <= 18 else None


def _who(request: HttpRequest) -> str:
    return request.COOKIES.get("who", "")[:LONGEST_MARK]
