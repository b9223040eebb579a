"""Sums without any machine: what a mechanic asks at the bench, on whatever lies at hand."""

from collections.abc import Mapping

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from fingertight.cards.measure.linked import FILLED
from fingertight.cards.sums.answer import SumCard
from fingertight.cards.sums.asked import Sum, units_for
from fingertight.cards.sums.every import WHERE, by_family, sum_named
from fingertight.quantity import NotUnderstood
from fingertight.web.pages.refusals import is_program, only, refused

LONGEST, LONGEST_LINES = 2000, 20_000


@only("GET", "HEAD")
def sums(request: HttpRequest) -> HttpResponse:
    """Every sum there is, by its question."""
    return render(request, "sums.html", {"families": by_family()})


@only("GET", "HEAD", "POST")
def one(request: HttpRequest, sum_name: str) -> HttpResponse:
    """One sum: its fields, and the answer once it was asked. The address holds the question; a sum that takes whole
    tables is sent instead, since an address is short, and is kept by browsers with the names in it."""
    if sum_name not in WHERE:
        raise Http404(sum_name)
    asked, problem = sum_named(sum_name), ""
    lines = {field.name for field in asked.fields if field.kind == "lines"}
    said = {name: text[: LONGEST_LINES if name in lines else LONGEST] for name, text in _asked(request).items()}
    card: SumCard | None = None
    if any(said.get(field.name, "").strip() for field in asked.fields):
        try:
            card = asked.ask(said)
        except NotUnderstood as slip:
            problem = "" if FILLED in said else str(slip)
    if is_program(request):
        return _for_programs(request, card, problem)
    shown = {
        "sum": asked,
        "boxes": _boxes(asked, said),
        "answer": card.answer if card else None,
        "is_sent": bool(lines),
        "is_no": card.is_no if card else False,
        "problem": problem,
    }
    return render(request, "sum.html", shown, status=422 if problem else 200)


def _asked(request: HttpRequest) -> dict[str, str]:
    sent = request.POST if request.method == "POST" else request.GET
    return {name: str(text) for name, text in sent.dict().items()}


def _for_programs(request: HttpRequest, card: SumCard | None, problem: str) -> HttpResponse:
    if card is None:
        return refused(request, 422, "Nothing was worked out", problem or "Ask for something: name a field.")
    return JsonResponse(card.as_json())


def _boxes(asked: Sum, said: Mapping[str, str]) -> list[dict[str, object]]:
    """Each field with what was typed, and the units it may be in."""
    return [
        {
            "field": field,
            "typed": said.get(field.name, ""),
            "units": units_for(field.unit) if field.kind == "size" else (),
            "unit": said.get(f"{field.name}-unit", field.unit),
        }
        for field in asked.fields
    ]
