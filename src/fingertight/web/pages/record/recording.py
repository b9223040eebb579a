"""A machine is recorded by doing: a name, then part by part what came off, with its photo, as fast as it is said."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.cards.record.names import COMMON_NAMES
from fingertight.cards.record.recording import ROWS, FastenerRow, names_left, record_card
from fingertight.lesson.record.drawn import KINDS, is_thread
from fingertight.lesson.record.pictures import NotAPhoto
from fingertight.lesson.record.recording import NotRecorded, recording_of
from fingertight.lesson.record.sketched import NotPlaced, places
from fingertight.quantity import NotUnderstood, converted, read_number, read_quantity
from fingertight.store.school.photos import still_there
from fingertight.store.school.recordings import begin_recording, entries_of, recordings
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.record.kept import enter, found
from fingertight.web.pages.record.photos import photos_sent
from fingertight.web.pages.refusals import only, see

LONGEST_NAME, LONGEST_SKETCH = 80, 2000
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
    of, problem, photos = found(slug), "", list[str]()
    if request.method == "POST":
        try:
            photos = still_there(of.workshop, request.POST.getlist("photos"))
            photos = [*photos, *photos_sent(request)]  # kept first: what is wrong beside them does not lose them
            _written(request, of, photos)
            return see(f"{request.path}#now")
        except (NotRecorded, NotUnderstood, NotAPhoto) as wrong:
            problem = str(wrong)
    recording = recording_of(entries_of(of))
    every = [photo for part in recording.parts for photo in part.details.photos]
    said = {
        "card": record_card(of.slug, of.name, recording, of.machine, photos=still_there(of.workshop, every)),
        "problem": problem,
        "typed": {**_as_typed(request.POST if problem else QueryDict()), "photos": photos if problem else []},
        "names": names_left(recording, COMMON_NAMES),
        "fasteners": (*THREADS, *KINDS),
        "address": request.path,
    }
    return render(request, "record.html", said, status=422 if problem else 200)


def _written(request: HttpRequest, of: RecordedMachine, photos: list[str]) -> None:
    form, name = request.POST, request.POST.get("name", "")
    acts: dict[str, Callable[[], dict[str, Any]]] = {
        "off": lambda: {"name": name or _name_later(of, photos), **_details(form), "photos": photos},
        "stays": lambda: {"name": name},
        "amend": lambda: {"entry": form.get("entry", ""), "name": name, **_details(form), "photos": photos},
        "back": lambda: {"entry": form.get("entry", "")},
        "film": lambda: {"second": _second(form.get("second", "0"))},
    }
    act = form.get("act", "")
    if act not in acts:
        raise NotRecorded("This form says nothing known here. Load the page again.")
    enter(request, of, act, **acts[act]())


def _name_later(of: RecordedMachine, photos: list[str]) -> str:
    """What a part is called that has a photo and no name yet."""
    return f"Part {len(recording_of(entries_of(of)).parts) + 1}, see its photo" if photos else ""


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
        sketched = form.get(f"sketch-{row}", "")[:LONGEST_SKETCH]
        if not (what or length or many or sketched):
            continue
        if what and what not in KINDS and not is_thread(what):
            kinds = ", ".join(KINDS)
            raise NotUnderstood(f"“{what}” is no thread and none of {kinds}. Write it as M6 or 1/4-20 UNC.")
        one: dict[str, Any] = {"kind" if what in KINDS else "thread": what} if what else {"kind": "clip"}
        if length:
            one["length"] = converted(*read_quantity(length, "mm"), "mm")
        one |= _sketched(sketched, form.get(f"apart-{row}", "").strip()[:40], many)
        sets.append(one)
    small = [_small(piece) for piece in form.get("small", "")[:300].split(",") if piece.strip()]
    tools = [piece.strip()[:60] for piece in form.get("tools", "")[:300].split(",") if piece.strip()]
    texts = {name: " ".join(form.get(name, "").split())[:300] for name in ("care", "caution", "rests")}
    return {"held_by": sets, "with": small, "tools": tools, **texts}


def _sketched(sketch: str, apart: str, many: str) -> dict[str, Any]:
    """How many there are, and where, if tapped on a sketch whose first two are so far apart. Raises NotUnderstood."""
    try:
        dots = [(float(x), float(y)) for x, y in (dot.split(",") for dot in sketch.split(";") if dot)]
    except ValueError:
        raise NotUnderstood("The sketch was not understood. Clear it and tap the fasteners again.") from None
    count = _whole(many or str(len(dots) or 1))
    if dots and count != len(dots):
        raise NotUnderstood(f"{len(dots)} fasteners were tapped on the sketch, and {count} typed. Make them agree.")
    if len(dots) < 2 or not apart:
        return {"count": count}
    try:
        at = places(dots, converted(*read_quantity(apart, "mm"), "mm"))
    except NotPlaced as wrong:
        raise NotUnderstood(f"“{apart}”: {wrong}") from None
    return {"count": count, "at": [list(place) for place in at]}


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
    fields = ("what", "length", "count", "sketch", "apart")
    rows = [FastenerRow(*(form.get(f"{name}-{row}", "") for name in fields)) for row in range(ROWS)]
    texts = ("name", "small", "tools", "care", "caution", "rests")
    return {"rows": rows, **{name: form.get(name, "") for name in texts}}
