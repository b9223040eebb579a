"""Orders of a machine: the best while it is looked for, one's own to drag, the shortest way in, what is laid out."""

import re
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.cards.order.dragged import dragged_card
from fingertight.cards.order.layout import LayoutCard, layout_of
from fingertight.cards.order.picture import way_picture
from fingertight.cards.order.whole import Asked, NoOrderCard, OrderCard, answered, order_card, proof_sentence
from fingertight.cards.order.within import WithinCard, within_answered
from fingertight.paper.lists.layout import layout_pdf
from fingertight.paper.sheets import CannotPrint
from fingertight.quantity import NotUnderstood, read_number
from fingertight.web.jobs.workshop import machine_at
from fingertight.web.orders.looking import Looking, looked_for
from fingertight.web.pages.refusals import is_fragment, only, refused, see

MOST_TARGETS = 8
MOST_MINUTES = 600


@only("GET", "HEAD", "POST")
def order(request: HttpRequest, slug: str) -> HttpResponse:
    """The best order to what is asked, as far as it is known; a press stops the search."""
    version = machine_at(slug)
    anatomy, asked = _anatomy(slug, version.text), _asked(request, version.text)
    looking = looked_for(version.text, _arguments(asked))
    if request.method == "POST":
        looking.stop()
        return see(request.get_full_path())
    seen = f'"order-{slug}-{looking.heard}-{int(looking.done)}"'
    if (request.headers.get("If-None-Match") or "").removeprefix("W/") == seen:
        return HttpResponse(status=304, headers={"ETag": seen})
    card = answered(anatomy, asked, looking.answer) if looking.answer else _usual(anatomy, asked)
    said = {
        **_about(slug, anatomy, asked),
        "card": card,
        "sure": proof_sentence(card) if isinstance(card, OrderCard) else "",
        "looking": looking,
        "seen": seen,
        "address": request.get_full_path(),
        "rings": way_picture(anatomy, card.order, asked.to) if isinstance(card, OrderCard) and asked.to else None,
    }
    response = render(request, "order_live.html" if is_fragment(request) else "order.html", said)
    response["ETag"] = seen
    return response


@only("GET", "HEAD")
def within(request: HttpRequest, slug: str) -> HttpResponse:
    """What can be reached in so many minutes."""
    version, typed, problem, status = machine_at(slug), request.GET.get("minutes", "40"), "", 200
    anatomy = _anatomy(slug, version.text)
    card: WithinCard | None = None
    looking: Looking | None = None
    try:
        minutes = read_number(typed)
        if not 0 < minutes <= MOST_MINUTES:
            raise NotUnderstood(f"“{typed}” is no time from 1 to {MOST_MINUTES} minutes.")
        looking = looked_for(version.text, ("--within", f"{minutes:g}", "--as-found"))
        card = within_answered(anatomy, looking.answer) if looking.answer else None
    except NotUnderstood as wrong:
        problem, status = str(wrong), 422
    said = {
        "slug": slug,
        "name": anatomy.machine.name,
        "card": card,
        "problem": problem,
        "minutes": typed[:10],
        "looking": looking,
        "seen": f'"within-{looking.heard if looking else 0}"',
        "address": request.get_full_path(),
    }
    template = "within_live.html" if is_fragment(request) else "within.html"
    return render(request, template, said, status=status)


@only("GET", "HEAD")
def own(request: HttpRequest, slug: str) -> HttpResponse:
    """An order of one's own: what is dropped where it cannot go springs back and says why."""
    anatomy = _anatomy(slug, machine_at(slug).text)
    numbers = [int(number) for number in re.findall(r"\d{1,5}", request.GET.get("o", "")[:4000])]
    move, to = request.GET.get("move", ""), request.GET.get("to", "")
    card = dragged_card(anatomy, numbers, (move, int(to)) if move and re.fullmatch(r"\d{1,5}", to) else None)
    if card is None:
        raise Http404(slug)
    if request.headers.get("Accept") == "application/json":
        return JsonResponse({"cost_min": card.cost_min, "refused": card.refused})
    return render(
        request,
        "own_order.html",
        {"slug": slug, "name": anatomy.machine.name, "card": card, "numbers": ".".join(map(str, card.numbers))},
    )


@only("GET", "HEAD")
def layout(request: HttpRequest, slug: str) -> HttpResponse:
    """What lies on the bench before anybody begins."""
    version = machine_at(slug)
    anatomy, asked = _anatomy(slug, version.text), _asked(request, version.text)
    card = layout_of(anatomy, asked.to)
    if isinstance(card, NoOrderCard):
        return refused(request, 422, "There is nothing to lay out", card.because)
    return render(request, "layout.html", {**_about(slug, anatomy, asked), "card": card})


@only("GET", "HEAD")
def layout_sheet(request: HttpRequest, slug: str) -> HttpResponse:
    """The same as PDF."""
    version = machine_at(slug)
    anatomy, asked = _anatomy(slug, version.text), _asked(request, version.text)
    card = layout_of(anatomy, asked.to)
    try:
        if not isinstance(card, LayoutCard):
            raise CannotPrint(card.because)
        pdf = layout_pdf(card)
    except CannotPrint as wrong:
        return refused(request, 422, "There is nothing to lay out", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{slug}-layout.pdf"'
    return response


def _anatomy(slug: str, text: str) -> Anatomy:
    anatomy = read(text).anatomy
    if anatomy is None:
        raise Http404(slug)
    return anatomy


def _asked(request: HttpRequest, text: str) -> Asked:
    """The question in the address. Raises Http404 for a part the machine does not have."""
    anatomy, form = _anatomy("", text), request.GET
    to, first = (tuple(dict.fromkeys(form.getlist(name)))[:MOST_TARGETS] for name in ("to", "first"))
    if any(part not in anatomy.part_by_id for part in (*to, *first)):
        raise Http404("no such part")
    if to:
        return Asked(to=to)
    return Asked("rebuild") if form.get("way") == "rebuild" else Asked(first=first)


def _arguments(asked: Asked) -> tuple[str, ...]:
    """The same question as the command understands it."""
    named = [("--to", part) for part in asked.to] + [("--first", part) for part in asked.first]
    rebuild = ("--rebuild",) if asked.way == "rebuild" else ()
    return (*(word for pair in named for word in pair), *rebuild, "--as-found")


def _usual(anatomy: Anatomy, asked: Asked) -> OrderCard | NoOrderCard | None:
    """What is known at once, before the search has said anything."""
    if asked.first or len(asked.to) > 1:
        return None
    return order_card(anatomy, asked.way, asked.to[0] if asked.to else None)


def _about(slug: str, anatomy: Anatomy, asked: Asked) -> dict[str, object]:
    query = urlencode([("to", part) for part in asked.to])
    return {
        "slug": slug,
        "name": anatomy.machine.name,
        "asked": asked,
        "query": f"?{query}" if query else "",
        "parts": [(part.id, part.title) for part in anatomy.parts if not part.stays],
    }
