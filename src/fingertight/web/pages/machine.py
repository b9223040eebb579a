"""A machine: its picture, its parts, its text with the mistakes, its labels."""

import re
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import Reading, read
from fingertight.cards.labels import labels_in_order
from fingertight.cards.order import NoOrderCard, order_card
from fingertight.cards.workshop.machine import machine_card
from fingertight.paper.labels import label_pdf, ruler_pdf
from fingertight.paper.sheets import SHEETS, CannotPrint, Nudge, sheet_named
from fingertight.quantity import NotUnderstood, read_number
from fingertight.store.kept import keep_machine
from fingertight.store.models import MachineVersion
from fingertight.web.jobs.workshop import machine_at, the_workshop
from fingertight.web.pages.refusals import only, refused, see

NEW = "new"


@only("GET", "HEAD", "POST")
def machine(request: HttpRequest, slug: str) -> HttpResponse:
    """A machine of the workshop, or at `new` one to be read in."""
    version = None if slug == NEW else machine_at(slug)
    if request.method == "POST":
        return _sent(request, slug, version)
    text = version.text if version else ""
    if version is None:
        return _shown(request, {"slug": "", "name": "Read in a machine", "text": "", "parts": ()})
    return _shown(request, machine_card(slug, version.name, text, read(text), version.version))


def _sent(request: HttpRequest, slug: str, version: MachineVersion | None) -> HttpResponse:
    """The text that was sent, checked; kept as a new version when that was asked and nothing is wrong with it."""
    text, reading = _text_of(request)
    keeping = request.POST.get("act") == "keep"
    name = version.name if version else "Read in a machine"
    card = machine_card("" if version is None else slug, name, text, reading)
    if card.mistakes or reading.anatomy is None or not keeping:
        problem = "Nothing was kept: mend the mistakes, then press again." if keeping else ""
        return _shown(request, card, problem, 422 if card.mistakes else 200)
    kept_at = slug if version else _free_slug(reading.anatomy.machine.name, text)
    keep_machine(the_workshop(), kept_at, reading.anatomy.machine.name, text, datetime.now(UTC))
    return see(f"/machine/{kept_at}")


def _shown(request: HttpRequest, card: Any, problem: str = "", status: int = 200) -> HttpResponse:
    sheets = [(name, sheet) for name, sheet in SHEETS.items()]
    return render(request, "machine.html", {"card": card, "problem": problem, "sheets": sheets}, status=status)


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


def _free_slug(name: str, text: str) -> str:
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
    figures = [
        read_number(asked.get(name) or usual)
        for name, usual in (("x", "0"), ("y", "0"), ("across", "1"), ("down", "1"))
    ]
    sheet, nudge = sheet_named(asked.get("sheet") or "a4-3x7"), Nudge(*figures)
    if asked.get("page") == "ruler":
        return ruler_pdf(sheet, nudge)
    order = order_card(anatomy)
    if isinstance(order, NoOrderCard):
        raise CannotPrint(order.because)
    start = asked.get("start") or "1"
    if not re.fullmatch(r"[0-9]{1,3}", start):
        raise CannotPrint(f"“{start}” is no label of a sheet; write 1 for the first.")
    return label_pdf(labels_in_order(anatomy, order.order, asked.get("bench", "")[:60]), sheet, nudge, int(start))
