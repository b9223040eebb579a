"""A machine: its picture, its parts, its text with the mistakes, its labels, its tightening sheet."""

import re
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils.text import slugify

from fingertight.anatomy.change.edits import CannotEdit
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import Reading, read
from fingertight.cards.labels import labels_in_order
from fingertight.cards.order.whole import NoOrderCard, order_card
from fingertight.cards.tighten.sheet import tightening_sheet
from fingertight.cards.workshop.machine import MachineCard, machine_card, text_mended
from fingertight.paper.labels import label_pdf, ruler_pdf
from fingertight.paper.lists.tightening import tightening_pdf
from fingertight.paper.sheets import SHEETS, CannotPrint, Nudge, sheet_named
from fingertight.quantity import NotUnderstood, plain, read_number
from fingertight.store.kept import keep_line, keep_machine, keep_printer
from fingertight.store.models import LabelPrinter, MachineVersion
from fingertight.web.jobs.warned import lines_changed, lines_of
from fingertight.web.jobs.workshop import machine_at, the_workshop
from fingertight.web.pages.refusals import only, refused, see
from fingertight.web.pages.workshop.change.versions import undo_of
from fingertight.web.people.who import who_of

NEW = "new"
LONGEST_NAME = 60
LONGEST_LINE = 200
FIGURES = (
    ("x", "Nudge right, mm", "0"),
    ("y", "Nudge down, mm", "0"),
    ("across", "Scale across", "1"),
    ("down", "Scale down", "1"),
)


@only("GET", "HEAD", "POST")
def machine(request: HttpRequest, slug: str) -> HttpResponse:
    """A machine of the workshop, or at `new` one to be read in."""
    version = None if slug == NEW else machine_at(slug)
    if request.method == "POST":
        return _sent(request, slug, version)
    return _at(request, slug, version)


def _at(request: HttpRequest, slug: str, version: MachineVersion | None, unkept: str = "") -> HttpResponse:
    """The page of a machine as it is kept; `unkept`: why a printer was not."""
    if version is None:
        return _shown(request, {"slug": "", "name": "Read in a machine", "text": "", "parts": ()})
    card = machine_card(slug, version.name, version.text, read(version.text), version.number)
    return _shown(request, card, status=422 if unkept else 200, unkept=unkept)


def _sent(request: HttpRequest, slug: str, version: MachineVersion | None) -> HttpResponse:
    """The text that was sent, checked; kept as a new version when that was asked and nothing is wrong with it."""
    text, reading = _text_of(request)
    if request.POST.get("mend"):
        return _mended(request, slug, version, text, reading)
    keeping = request.POST.get("act") == "keep"
    name = version.name if version else "Read in a machine"
    card = machine_card("" if version is None else slug, name, text, reading)
    if card.mistakes or reading.anatomy is None or not keeping:
        problem = "Nothing was kept: mend the mistakes, then press again." if keeping else ""
        return _shown(request, card, problem, 422 if card.mistakes else 200)
    kept_at = slug if version else free_slug(reading.anatomy.machine.name, text)
    keep_machine(the_workshop(), kept_at, reading.anatomy.machine.name, text, datetime.now(UTC), by=who_of(request).id)
    return see(f"/machine/{kept_at}")


def _mended(
    request: HttpRequest, slug: str, version: MachineVersion | None, text: str, reading: Reading
) -> HttpResponse:
    """The text of the box with one mistake mended; nothing is kept by that."""
    problem = ""
    try:
        text = text_mended(text, reading, request.POST.get("mend", ""))
    except CannotEdit as refused:
        problem = str(refused)
    name = version.name if version else "Read in a machine"
    card = machine_card("" if version is None else slug, name, text, read(text))
    return _shown(request, card, problem, 422 if problem else 200)


def _shown(request: HttpRequest, card: Any, problem: str = "", status: int = 200, unkept: str = "") -> HttpResponse:
    typed = request.POST if unkept else {}
    kept = isinstance(card, MachineCard) and card.slug and who_of(request).teaches
    newest, undo = undo_of(request, card.slug) if kept else (0, "")
    said = {
        "card": card,
        "problem": problem,
        "told": request.GET.get("said", "")[:1500],
        "newest": newest,
        "undo": undo,
        "unkept": unkept,
        "sheets": list(SHEETS.items()),
        "printers": _printers(),
        "chosen": request.GET.get("printer", ""),
        "name": typed.get("name", ""),
        "lines": _lines(card),
        "figures": [(name, label, typed.get(name, usual)) for name, label, usual in FIGURES],
    }
    return render(request, "machine.html", said, status=status)


def _lines(card: Any) -> list[tuple[str, str, str, str]]:
    """What the teacher wrote beside moves of this machine: way, part, its title, the text."""
    if not isinstance(card, MachineCard) or not card.slug:
        return []
    titles = {one.part: one.title for one in card.parts}
    said = lines_of(the_workshop(), card.slug)
    return [(way, part, titles[part], text[0]) for (way, part), text in said.items() if part in titles]


def _printers() -> list[tuple[str, str]]:
    """The printers that were measured, each with what it misses by."""
    return [
        (
            one.name,
            f"{plain(one.nudge_x_mm)} mm right, {plain(one.nudge_y_mm)} mm down, "
            f"× {plain(one.scale_x)} across, × {plain(one.scale_y)} down",
        )
        for one in LabelPrinter.objects.filter(workshop=the_workshop()).order_by("name")
    ]


@only("POST")
def printer(request: HttpRequest, slug: str) -> HttpResponse:
    """What a printer misses by is kept under its name, and chosen on the page that follows."""
    version, form = machine_at(slug), request.POST
    name = form.get("name", "").strip()[:LONGEST_NAME]
    try:
        if not name:
            raise CannotPrint("The printer has no name. Type one, for example Office, then press again.")
        nudge = _nudge(form)
    except (CannotPrint, NotUnderstood) as wrong:
        return _at(request, slug, version, str(wrong))
    keep_printer(the_workshop(), name, (nudge.x_mm, nudge.y_mm), (nudge.scale_x, nudge.scale_y))
    return see(f"/machine/{slug}?{urlencode({'printer': name})}#labels")


@only("POST")
def line(request: HttpRequest, slug: str) -> HttpResponse:
    """What the teacher says at a move of this machine, before it happens; an empty line takes it back."""
    version, form = machine_at(slug), request.POST
    reading, way = read(version.text), form.get("way", "")
    part = form.get("part", "")
    if reading.anatomy is None or part not in reading.anatomy.part_by_id or way not in {"off", "on"}:
        return _at(request, slug, version, "This machine has no such move. Choose a part of the list.")
    keep_line(version, (way, part), " ".join(form.get("text", "").split())[:LONGEST_LINE])
    lines_changed()
    return see(f"/machine/{slug}#lines")


def _nudge(asked: QueryDict) -> Nudge:
    """The nudge of a printer that is named, or the one that is typed."""
    name = asked.get("printer")
    if name:
        kept = LabelPrinter.objects.filter(workshop=the_workshop(), name=name).first()
        if kept is None:
            raise CannotPrint(f"There is no printer “{name}” here; choose one of the list, or keep it first.")
        return Nudge(kept.nudge_x_mm, kept.nudge_y_mm, kept.scale_x, kept.scale_y)
    return Nudge(*(read_number(asked.get(field) or usual) for field, _, usual in FIGURES))


def _text_of(request: HttpRequest) -> tuple[str, Reading]:
    """What was typed, or the file that was chosen; bytes that are no text are said to be so."""
    sent = request.FILES.get("upload")
    if sent is None:
        text = request.POST.get("anatomy", "").replace("\r\n", "\n")
        return text, read(text)
    raw = sent.read()
    return raw.decode("utf-8-sig", "replace").replace("\x00", "").replace("\r\n", "\n"), read(
        raw, name=sent.name or "The file"
    )


def free_slug(name: str, text: str) -> str:
    """An address from the machine's name that no other machine has; the same text finds its own again."""
    base = slugify(name)[:60] or "machine"
    slug, number = ("machine" if base == NEW else base), 1
    versions = MachineVersion.objects.filter(workshop=the_workshop())
    while versions.filter(slug=slug).exclude(sha256=sha256(text.encode()).hexdigest()).exists():
        number += 1
        slug = f"{base}-{number}"
    return slug


@only("GET", "HEAD")
def text(request: HttpRequest, slug: str) -> HttpResponse:
    """The machine's file, exactly as it was kept."""
    response = HttpResponse(machine_at(slug).text.encode(), content_type="application/toml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{slug}.toml"'
    return response


@only("GET", "HEAD")
def labels(request: HttpRequest, slug: str) -> HttpResponse:
    """Its bag labels as PDF, or the ruler page of the sheet."""
    version = machine_at(slug)
    anatomy = read(version.text).anatomy
    if anatomy is None:
        raise Http404(slug)
    try:
        pdf = _pdf(request, anatomy)
    except (CannotPrint, NotUnderstood) as wrong:
        return refused(request, 422, "These labels cannot be printed", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{slug}-labels.pdf"'
    return response


def _pdf(request: HttpRequest, anatomy: Anatomy) -> bytes:
    asked = request.GET
    sheet, nudge = sheet_named(asked.get("sheet") or "a4-3x7"), _nudge(asked)
    if asked.get("page") == "ruler":
        return ruler_pdf(sheet, nudge)
    order = order_card(anatomy)
    if isinstance(order, NoOrderCard):
        raise CannotPrint(order.because)
    start = asked.get("start") or "1"
    if not re.fullmatch(r"[0-9]{1,3}", start):
        raise CannotPrint(f"“{start}” is no label of a sheet; write 1 for the first.")
    return label_pdf(labels_in_order(anatomy, order.order, asked.get("bench", "")[:60]), sheet, nudge, int(start))


@only("GET", "HEAD")
def tightening(request: HttpRequest, slug: str) -> HttpResponse:
    """Its tightening sheet as PDF."""
    version = machine_at(slug)
    anatomy = read(version.text).anatomy
    if anatomy is None:
        raise Http404(slug)
    try:
        pdf = tightening_pdf(tightening_sheet(anatomy, version.sha256))
    except CannotPrint as wrong:
        return refused(request, 422, "There is no tightening sheet", str(wrong))
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{slug}-torques.pdf"'
    return response
