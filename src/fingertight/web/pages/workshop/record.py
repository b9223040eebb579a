"""A machine is recorded by doing: a name, a strip said part by part, a few questions, and the machine is there."""

import time
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.anatomy.read import read
from fingertight.cards.film.chapters import ChaptersCard
from fingertight.cards.record.asking import asking_card
from fingertight.cards.record.film import recording_chapters
from fingertight.cards.record.names import COMMON_NAMES
from fingertight.cards.record.recording import ROWS, names_left, record_card
from fingertight.lesson.record.asked import learned_from
from fingertight.lesson.record.drawn import KINDS, drawn, is_thread
from fingertight.lesson.record.recording import NotRecorded, Recording, fold, recording_of
from fingertight.order.learn import Learned, next_question
from fingertight.paper.film.written import ffmetadata, webvtt
from fingertight.quantity import NotUnderstood, converted, read_number, read_quantity
from fingertight.store.kept import keep_machine
from fingertight.store.school.recordings import (
    became,
    begin_recording,
    entries_of,
    record,
    recording_at,
    recordings,
)
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.guards import POLICY
from fingertight.web.jobs.taps import AN_ID
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see
from fingertight.web.pages.workshop.machine import free_slug
from fingertight.web.people.names import names_for
from fingertight.web.people.who import who_of

LONGEST_NAME = 80
CHAPTER_FILES: dict[str, tuple[str, Callable[[ChaptersCard], str]]] = {
    "chapters.vtt": ("text/vtt", webvtt),
    "chapters.txt": ("text/plain", ffmetadata),
}
THREADS = ("M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14x1.25", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC")


@only("GET", "HEAD", "POST")
def begin(request: HttpRequest) -> HttpResponse:
    """The recordings there are; a new machine."""
    problem = ""
    if request.method == "POST":
        name = " ".join(request.POST.get("name", "").split())[:LONGEST_NAME]
        if name:
            return see(f"/record/{begin_recording(the_workshop(), name).slug}")
        problem = "The machine has no name. Type one, for example Hand winch, then press again."
    said = {"recordings": recordings(the_workshop()), "problem": problem}
    return render(request, "record_begin.html", said, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def recorded(request: HttpRequest, slug: str) -> HttpResponse:
    """One recording: what came off so far, and the form for the next part."""
    of, problem = _found(slug), ""
    if request.method == "POST":
        try:
            _written(request, of)
            return see(f"{request.path}#now")
        except (NotRecorded, NotUnderstood) as wrong:
            problem = str(wrong)
    recording = recording_of(entries_of(of))
    said = {
        "card": record_card(of.slug, of.name, recording, of.machine),
        "problem": problem,
        "typed": _as_typed(request.POST if problem else QueryDict()),
        "names": names_left(recording, COMMON_NAMES),
        "fasteners": (*THREADS, *KINDS),
        "address": request.path,
    }
    return render(request, "record.html", said, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def questions(request: HttpRequest, slug: str) -> HttpResponse:
    """A few questions loosen the chain; at any time the machine can be made of what is known."""
    of, problem = _found(slug), ""
    if request.method == "POST":
        try:
            if request.POST.get("act") == "make":
                return see(f"/machine/{_made(request, of)}")
            _answered(request, of)
            return see(request.get_full_path())
        except NotRecorded as wrong:
            problem = str(wrong)
    recording = recording_of(entries_of(of))
    learned, ways = _learned(request, of, recording), request.GET.get("ways") == "1"
    card = asking_card(learned, next_question(learned, ways=ways) if recording.off else None)
    said = {
        "slug": of.slug,
        "name": of.name,
        "card": card,
        "problem": problem,
        "parts": len(recording.off),
        "ways": ways,
        "address": request.get_full_path(),
    }
    return render(request, "record_questions.html", said, status=422 if problem else 200)


@only("GET", "HEAD")
def film(request: HttpRequest, slug: str) -> HttpResponse:
    """The film beside its chapters: the file is chosen here, is played by the browser, and never leaves it."""
    of = _found(slug)
    said = {"slug": of.slug, "name": of.name, "card": recording_chapters(of.name, recording_of(entries_of(of)))}
    response = render(request, "record_film.html", said)
    response["Content-Security-Policy"] = f"{POLICY}; media-src 'self' blob:"
    return response


@only("GET", "HEAD")
def chapters(request: HttpRequest, slug: str, name: str) -> HttpResponse:
    """The chapters as a file: for a browser, or for ffmpeg."""
    of = _found(slug)
    card, (kind, text) = recording_chapters(of.name, recording_of(entries_of(of))), CHAPTER_FILES[name]
    response = HttpResponse(text(card), content_type=f"{kind}; charset=utf-8")
    response["Content-Disposition"] = f'inline; filename="{of.slug}-{name}"'
    return response


def _found(slug: str) -> RecordedMachine:
    of = recording_at(the_workshop(), slug)
    if of is None:
        raise Http404(slug)
    return of


def _learned(request: HttpRequest, of: RecordedMachine, recording: Recording) -> Learned:
    names = names_for(who_of(request), of.workshop)
    return learned_from(recording, f"the recording of {of.begun:%d %B %Y}", names)


def _entry(request: HttpRequest, of: RecordedMachine, kind: str, **said: Any) -> None:
    """Write one entry. Raises NotRecorded; nothing is kept then."""
    given = request.POST.get("id", "")
    whole = {
        "id": given if AN_ID.match(given) else new_id(),
        "kind": kind,
        "at": datetime.now(UTC).astimezone().isoformat(),
        "by": who_of(request).id,
        **said,
    }
    record(of, whole, lambda entries: fold(recording_of(entries), whole))


def _written(request: HttpRequest, of: RecordedMachine) -> None:
    form = request.POST
    acts: dict[str, Callable[[], dict[str, Any]]] = {
        "off": lambda: {"name": form.get("name", ""), **_details(form)},
        "stays": lambda: {"name": form.get("name", "")},
        "amend": lambda: {"entry": form.get("entry", ""), "name": form.get("name", ""), **_details(form)},
        "back": lambda: {"entry": form.get("entry", "")},
        "film": lambda: {"second": _second(form.get("second", "0"))},
    }
    act = form.get("act", "")
    if act not in acts:
        raise NotRecorded("This form says nothing known here. Load the page again.")
    _entry(request, of, act, **acts[act]())


def _second(typed: str) -> float:
    """A place in a film: seconds, minutes:seconds, or hours:minutes:seconds. Raises NotUnderstood."""
    total = 0.0
    for piece in (typed.strip() or "0").split(":"):
        total = 60 * total + read_number(piece)
    if not 0 <= total < 24 * 3600:
        raise NotUnderstood(f"“{typed}” is no place in a film; write minutes and seconds, for example 1:15.")
    return total


def _details(form: QueryDict) -> dict[str, Any]:
    """What was typed about a part. Raises NotUnderstood."""
    sets = []
    for row in range(ROWS):
        what, length, many = (form.get(f"{name}-{row}", "").strip()[:40] for name in ("what", "length", "count"))
        if not (what or length or many):
            continue
        if what and what not in KINDS and not is_thread(what):
            kinds = ", ".join(KINDS)
            raise NotUnderstood(f"“{what}” is no thread and none of {kinds}. Write it as M6 or 1/4-20 UNC.")
        one: dict[str, Any] = {"kind" if what in KINDS else "thread": what} if what else {"kind": "clip"}
        if length:
            one["length"] = converted(*read_quantity(length, "mm"), "mm")
        one["count"] = _whole(many or "1")
        sets.append(one)
    small = [_small(piece) for piece in form.get("small", "")[:300].split(",") if piece.strip()]
    tools = [piece.strip()[:60] for piece in form.get("tools", "")[:300].split(",") if piece.strip()]
    texts = {name: " ".join(form.get(name, "").split())[:300] for name in ("care", "caution", "rests")}
    return {"held_by": sets, "with": small, "tools": tools, **texts}


def _small(typed: str) -> tuple[str, int]:
    """2 dowels, or just a name. Raises NotUnderstood."""
    first, _, rest = typed.strip().partition(" ")
    return (rest.strip()[:60], _whole(first)) if first.isdigit() and rest.strip() else (typed.strip()[:60], 1)


def _whole(typed: str) -> int:
    number = read_number(typed)
    if number != int(number):
        raise NotUnderstood(f"“{typed}” is no number of pieces.")
    return int(number)


def _as_typed(form: QueryDict) -> dict[str, Any]:
    """What was typed and not taken, for the form of the next part."""
    rows = [tuple(form.get(f"{name}-{row}", "") for name in ("what", "length", "count")) for row in range(ROWS)]
    texts = ("name", "small", "tools", "care", "caution", "rests")
    return {"rows": rows, **{name: form.get(name, "") for name in texts}}


def _answered(request: HttpRequest, of: RecordedMachine) -> None:
    """The answer to the question that the form shows. Raises NotRecorded."""
    form = request.POST
    ids = {part.name: part.id for part in recording_of(entries_of(of)).off}
    part, on = form.get("part", ""), form.getlist("on")
    if part not in ids or any(other not in ids for other in on):
        raise NotRecorded("A part of this question has another name now. Load the page again.")
    _entry(request, of, "answer", part=ids[part], on=[ids[other] for other in on], said=form.get("said", ""))


def _made(request: HttpRequest, of: RecordedMachine) -> str:
    """The machine of what is known, kept; its address. Raises NotRecorded."""
    recording = recording_of(entries_of(of))
    if not recording.off:
        raise NotRecorded("Nothing came off yet: there is no machine to make.")
    if len(recording.filmed.added) == len(recording.off):
        raise NotRecorded(
            "This is the log of a film of a machine that has its file. Change the machine on its own page."
        )
    day = time.strftime("%Y-%m-%d", time.localtime(of.begun.timestamp()))
    text = drawn(of.name, recording, _learned(request, of, recording), day)
    reading = read(text)
    if reading.anatomy is None:
        said = "; ".join(f"{one.text} {one.mend}" for one in reading.mistakes[:3])
        raise NotRecorded(f"What was recorded makes no machine file yet: {said} Amend the part it names.")
    slug = of.machine or free_slug(of.name, text)
    keep_machine(of.workshop, slug, of.name, text, datetime.now(UTC))
    became(of, slug)
    return slug
