"""Papers that need no machine: a degree wheel, a timing tape. A form, and the PDF it asks for."""

from collections.abc import Callable
from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.sums.asked import Field, Typed, units_for
from fingertight.cards.sums.setting.timing.printed import TAPE_FIELDS, WHEEL_FIELDS, tape_card, wheel_card
from fingertight.paper.wheel import tape_pdf, wheel_pdf
from fingertight.quantity import NotUnderstood
from fingertight.web.pages.refusals import only, refused

LONGEST = 100


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper that can be asked for: what it is called, what it is for, its fields, and its bytes."""

    title: str
    about: str
    fields: tuple[Field, ...]
    made: Callable[[Typed, str], bytes]


PAPERS = {
    "wheel": Paper(
        "Degree wheel",
        "To cut out and fit on the crank: a mark for each degree, numbered both ways from top dead centre.",
        WHEEL_FIELDS,
        lambda typed, file: wheel_pdf(wheel_card(typed, file)),
    ),
    "tape": Paper(
        "Timing tape",
        "To lay round the rim of a flywheel: as long as it is round, a mark for each degree.",
        TAPE_FIELDS,
        lambda typed, file: tape_pdf(tape_card(typed, file)),
    ),
}


@only("GET", "HEAD")
def paper(request: HttpRequest, name: str) -> HttpResponse:
    """The form of a paper, filled in with what the address says."""
    if name not in PAPERS:
        raise Http404(name)
    said = request.GET.dict()
    boxes = [
        {
            "field": field,
            "typed": said.get(field.name, "")[:LONGEST],
            "units": units_for(field.unit) if field.kind == "size" else (),
            "unit": said.get(f"{field.name}-unit", field.unit),
        }
        for field in PAPERS[name].fields
    ]
    return render(request, "paper.html", {"name": name, "paper": PAPERS[name], "boxes": boxes})


@only("GET", "HEAD")
def printed(request: HttpRequest, name: str) -> HttpResponse:
    """The paper itself, as PDF."""
    if name not in PAPERS:
        raise Http404(name)
    said = {field: text[:LONGEST] for field, text in request.GET.dict().items()}
    try:
        pdf = PAPERS[name].made(Typed(PAPERS[name].fields, said), f"{name}.pdf")
    except NotUnderstood as slip:
        return refused(request, 422, "This cannot be printed", str(slip))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response
