"""A machine is changed in forms: no file is seen, and the file keeps its comments."""

from datetime import UTC, datetime
from typing import Any, NamedTuple
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.anatomy.change.named import taken_out
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.cards.workshop.edit.attempt import Outcome, Trouble, attempt
from fingertight.cards.workshop.edit.fields import Typed, values
from fingertight.cards.workshop.edit.form import offered, words_of
from fingertight.cards.workshop.edit.lists import lists_card, out_card
from fingertight.cards.workshop.edit.page import back_of, edit_card
from fingertight.cards.workshop.edit.place import (
    Place,
    edits_at,
    entry_out,
    entry_place,
    left_open,
    new_place,
    part_place,
    path_at,
    shown_at,
    table_place,
)
from fingertight.cards.workshop.edit.sheets import OF_A_MACHINE, PART
from fingertight.store.kept import keep_machine
from fingertight.store.models import MachineVersion
from fingertight.web.jobs.workshop import machine_at, the_workshop
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of

NOTHING = "Nothing was changed."
LONGEST_TOLD = 1500


@only("GET", "HEAD", "POST")
def edit(request: HttpRequest, slug: str, part_id: str) -> HttpResponse:
    """A part: what is before it, what it is; and what it lists, a press for each."""
    machine = _machine(slug)
    return _form(request, machine, part_place(machine.said, part_id))


@only("GET", "HEAD", "POST")
def more(request: HttpRequest, slug: str, part_id: str) -> HttpResponse:
    """The rest of a part: how it lies, how many there are, what is renewed."""
    machine = _machine(slug)
    return _form(request, machine, part_place(machine.said, part_id, more=True))


@only("GET", "HEAD", "POST")
def entry(request: HttpRequest, slug: str, part_id: str, listed: str, entry: str) -> HttpResponse:
    """One set of fasteners, small thing, question or way out of a part: changed, added, taken out."""
    machine = _machine(slug)
    place = entry_place(machine.said, part_id, listed, entry)
    if place is not None and request.method == "POST" and request.POST.get("act") == "out":
        outcome = attempt(machine.version.text, entry_out(place))
        return _kept(request, machine.version, outcome, back_of(slug, place)) or _form(request, machine, place, outcome)
    return _form(request, machine, place)


@only("GET", "HEAD", "POST")
def table(request: HttpRequest, slug: str, kind: str, name: str) -> HttpResponse:
    """One size, setting, sign-off or instrument; or the machine, or its engine, as a whole."""
    machine = _machine(slug)
    return _form(request, machine, table_place(machine.said, kind, name))


@only("GET", "HEAD", "POST")
def add(request: HttpRequest, slug: str, kind: str) -> HttpResponse:
    """A new part, size, setting, sign-off or instrument."""
    return _form(request, _machine(slug), new_place(kind))


@only("GET", "HEAD")
def lists(request: HttpRequest, slug: str) -> HttpResponse:
    """Sizes, settings, sign-offs and instruments of a machine, a press for each."""
    version, anatomy, _ = _machine(slug)
    shown = {"card": lists_card(slug, anatomy), "told": _told(request), "version": version.number}
    return render(request, "change.html", shown)


@only("GET", "HEAD", "POST")
def out(request: HttpRequest, slug: str, kind: str, name: str) -> HttpResponse:
    """Who names what is to be taken out; and out of the machine and of their lists with one press."""
    version, anatomy, said = _machine(slug)
    if not (part_place(said, name) if kind == "part" else kind in OF_A_MACHINE and table_place(said, kind, name)):
        raise Http404(name)
    troubles: tuple[Trouble, ...] = ()
    if request.method == "POST":
        outcome = attempt(version.text, taken_out(said, kind, name))
        kept = _kept(request, version, outcome, f"/machine/{slug}/change")
        if kept:
            return kept
        troubles = outcome.troubles
    shown = {"card": out_card(slug, anatomy, said, kind, name), "troubles": troubles}
    return render(request, "edit_out.html", shown, status=422 if troubles else 200)


class Machine(NamedTuple):
    """A machine as it is kept: its newest version, what that says, and the same as plain values."""

    version: MachineVersion
    anatomy: Anatomy
    said: dict[str, Any]


def _machine(slug: str) -> Machine:
    """The machine as it is kept, read. A text with mistakes has no forms: it is mended on the machine's page."""
    version = machine_at(slug)
    reading = read(version.text)
    if reading.anatomy is None:
        raise Http404(slug)
    return Machine(version, reading.anatomy, reading.said)


def _form(request: HttpRequest, machine: Machine, place: Place | None, refused: Outcome | None = None) -> HttpResponse:
    """One form. What is sent becomes the machine's next version; or it is said beside its box why not."""
    if place is None:
        raise Http404(request.path)
    version = machine.version
    typed: Typed | None = None
    troubles = refused.troubles if refused else ()
    if request.method == "POST" and refused is None:
        typed = {name: [str(one) for one in listed] for name, listed in request.POST.lists()}
        outcome = _tried(machine, place, typed, request.POST.get("mend", ""))
        answer = _kept(request, version, outcome, _after(request.path, version.slug, place), request.path)
        if answer:
            return answer
        refused, troubles = outcome, outcome.troubles
    filled = refused.filled if refused else None
    card = edit_card(version.slug, machine.anatomy, machine.said, place, typed=typed, filled=filled, troubles=troubles)
    shown = {
        "card": card,
        "told": _told(request),
        "version": version.number,
    }
    page = "edit_part.html" if place.sheet is PART and not place.is_new else "edit_table.html"
    return render(request, page, shown, status=422 if troubles else 200)


def _tried(machine: Machine, place: Place, typed: Typed, chosen: str) -> Outcome:
    text, anatomy, said = machine.version.text, machine.anatomy, machine.said
    choices = words_of(offered(place.sheet, anatomy, str(place.id)))
    changed, wrong = values(place.sheet.fields, shown_at(said, place), typed, choices)
    wrong = (*wrong, *(one for one in left_open(said, place, changed) if one.key not in {other.key for other in wrong}))
    if wrong:
        return Outcome(text, "", (), tuple(Trouble(one.key, one.sentence) for one in wrong))
    edits = edits_at(said, place, changed)
    return attempt(text, edits, place.sheet, path_at(said, place), chosen)


def _kept(
    request: HttpRequest, version: MachineVersion, outcome: Outcome, then: str, unchanged: str = ""
) -> HttpResponse | None:
    """The next version is kept, and the page that follows says what changed; None where there are troubles."""
    if outcome.troubles:
        return None
    if outcome.told:
        keep_machine(the_workshop(), version.slug, outcome.name, outcome.text, datetime.now(UTC), by=who_of(request).id)
    told = " ".join(outcome.told)[:LONGEST_TOLD] or NOTHING
    return see(f"{then if outcome.told else unchanged or then}?{urlencode({'said': told})}")


def _after(path: str, slug: str, place: Place) -> str:
    """Where to go when a form was taken: a part stays open, all else leads back to its list."""
    if place.kind == "part" and place.is_new and not place.key:
        return f"/machine/{slug}/change"
    return path if place.sheet is PART else back_of(slug, place)


def _told(request: HttpRequest) -> str:
    return request.GET.get("said", "")[:LONGEST_TOLD]
