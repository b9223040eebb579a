"""A machine is changed in forms, part by part: no file is seen, and the file keeps its comments."""

from datetime import UTC, datetime
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.anatomy.change.part import PartSaid, edits_of
from fingertight.anatomy.change.words import difference
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.anatomy.write import CannotEdit, rewritten
from fingertight.cards.workshop.edit import edit_card
from fingertight.order.knots import knots
from fingertight.order.rules import Rules
from fingertight.quantity import NotUnderstood, read_number
from fingertight.store.kept import keep_machine
from fingertight.web.jobs.workshop import machine_at, the_workshop
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of

LONGEST_TEXT, LONGEST_NAME, MOST_MINUTES = 300, 60, 600


@only("GET", "HEAD", "POST")
def edit(request: HttpRequest, slug: str, part_id: str) -> HttpResponse:
    """One part in a form. What is sent becomes the machine's next version, with its comments; or it is said why not."""
    version = machine_at(slug)
    anatomy = read(version.text).anatomy
    if anatomy is None or part_id not in anatomy.part_by_id:
        raise Http404(part_id)
    problem, typed = "", None
    if request.method == "POST":
        try:
            typed = _said(request.POST, anatomy, part_id)
            told = _kept(slug, version.text, anatomy, part_id, typed, by=who_of(request).id)
            return see(f"{request.path}?{urlencode({'said': told})}")
        except (NotUnderstood, CannotEdit) as wrong:
            problem = str(wrong)
    said = {
        "card": edit_card(slug, anatomy, part_id, typed),
        "problem": problem,
        "told": request.GET.get("said", "")[:1500],
        "version": version.number,
    }
    return render(request, "edit_part.html", said, status=422 if problem else 200)


def _said(form: QueryDict, anatomy: Anatomy, part_id: str) -> PartSaid:
    """What the form says. Raises NotUnderstood."""
    part = anatomy.part_by_id[part_id]
    name = " ".join(form.get("name", "").split())[:LONGEST_NAME]
    if not name:
        raise NotUnderstood("The part has no name. Type one, then press again.")
    ticked = set(form.getlist("behind"))
    kept = [other for other in part.behind if other in ticked]
    added = [other.id for other in anatomy.parts if other.id in ticked and other.id not in kept and other.id != part_id]
    return PartSaid(
        name="" if name == part.title and not part.name else name,
        behind=(*kept, *added),
        stays=form.get("stays") == "yes",
        minutes=_minutes(form.get("minutes", "")),
        tools=_pieces(form.get("tools", ""), ","),
        cautions=_pieces(form.get("cautions", ""), "\n"),
        care=" ".join(form.get("care", "").split())[:LONGEST_TEXT],
        fit=" ".join(form.get("fit", "").split())[:LONGEST_TEXT],
    )


def _minutes(typed: str) -> float | None:
    if not typed.strip():
        return None
    minutes = read_number(typed)
    if not 0 <= minutes <= MOST_MINUTES:
        raise NotUnderstood(f"“{typed.strip()}” is no time from 0 to {MOST_MINUTES} minutes.")
    return minutes


def _pieces(typed: str, at: str) -> tuple[str, ...]:
    return tuple(" ".join(piece.split())[:LONGEST_TEXT] for piece in typed.split(at) if piece.strip())


def _kept(slug: str, text: str, anatomy: Anatomy, part_id: str, said: PartSaid, *, by: str) -> str:
    """The next version of the machine; what changed, in words. Raises CannotEdit where it cannot be."""
    changed = rewritten(text, edits_of(anatomy.part_by_id[part_id], said))
    reading = read(changed)
    if reading.anatomy is None or reading.mistakes:
        raise CannotEdit(" ".join(f"{one.text} {one.mend}" for one in reading.mistakes[:3]))
    found = knots(Rules.of(reading.anatomy))
    if found and not knots(Rules.of(anatomy)):
        titles = {part.id: part.title for part in reading.anatomy.parts}
        raise CannotEdit(f"{found[0].sentence(titles)} Take one of them out of the other’s way.")
    told = difference(anatomy, reading.anatomy)
    if not told:
        return "Nothing was changed."
    keep_machine(the_workshop(), slug, reading.anatomy.machine.name, changed, datetime.now(UTC), by=by)
    return " ".join(told)
