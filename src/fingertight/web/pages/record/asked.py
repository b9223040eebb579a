"""What blocks what: one part at a time with ticks, or a question at a time; then the machine is made."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.record.asking import asking_card, ticks_card
from fingertight.lesson.record.recording import NotRecorded, Recording, recording_of
from fingertight.order.learn import AtOnce, next_at_once, next_question
from fingertight.store.school.photos import still_there
from fingertight.store.school.recordings import entries_of
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.pages.record.kept import enter, found, learned, made
from fingertight.web.pages.refusals import only, see


@only("GET", "HEAD", "POST")
def questions(request: HttpRequest, slug: str) -> HttpResponse:
    """A few questions loosen the chain; at any time the machine can be made of what is known."""
    of, problem = found(slug), ""
    if request.method == "POST":
        try:
            if request.POST.get("act") == "make":
                return see(f"/machine/{made(request, of)}")
            _answered(request, of)
            return see(request.get_full_path())
        except NotRecorded as wrong:
            problem = str(wrong)
    recording = recording_of(entries_of(of))
    known, ways = learned(request, of, recording), request.GET.get("ways") == "1"
    question = next_question(known, ways=ways) if recording.off else None
    said = {
        "slug": of.slug,
        "name": of.name,
        "card": asking_card(known, question, _photos(of, recording)),
        "problem": problem,
        "parts": len(recording.off),
        "ways": ways,
        "address": request.get_full_path(),
    }
    return render(request, "record_questions.html", said, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def ticks(request: HttpRequest, slug: str) -> HttpResponse:
    """Everything in the way of one part is ticked at once, or else another set; then the next part."""
    of, problem, or_else = found(slug), "", request.POST.get("said") == "or"
    if request.method == "POST" and not or_else:
        try:
            _ticked(request, of)
            return see(request.path)
        except NotRecorded as wrong:
            problem = str(wrong)
    recording = recording_of(entries_of(of))
    known = learned(request, of, recording)
    names = {part.id: part.name for part in recording.off}
    done = [names[one.part] for one in recording.ticks if one.part in names]
    part, sets = request.POST.get("part", ""), _sets(request) if or_else else []
    if or_else and part in known.parts:
        asked: AtOnce | None = AtOnce(part, tuple(name for name in known.parts if name != part))
    else:
        asked, sets = next_at_once(known, done) if recording.off else None, []
    said = {
        "slug": of.slug,
        "name": of.name,
        "card": ticks_card(known, asked, _photos(of, recording), sets),
        "problem": problem,
        "parts": len(recording.off),
        "address": request.path,
    }
    return render(request, "record_ticks.html", said, status=422 if problem else 200)


def _photos(of: RecordedMachine, recording: Recording) -> dict[str, str]:
    """The first photo of each part, by name."""
    every = [photo for part in recording.off for photo in part.details.photos]
    there = set(still_there(of.workshop, every))
    first = {part.name: [photo for photo in part.details.photos if photo in there][:1] for part in recording.off}
    return {name: photos[0] for name, photos in first.items() if photos}


def _answered(request: HttpRequest, of: RecordedMachine) -> None:
    """The answer to the question that the form shows. Raises NotRecorded."""
    form = request.POST
    ids = {part.name: part.id for part in recording_of(entries_of(of)).off}
    part, on = form.get("part", ""), form.getlist("on")
    if part not in ids or any(other not in ids for other in on):
        raise NotRecorded("A part of this question has another name now. Load the page again.")
    enter(request, of, "answer", part=ids[part], on=[ids[other] for other in on], said=form.get("said", ""))


def _sets(request: HttpRequest) -> list[tuple[str, ...]]:
    """The sets told before, and what is ticked now; names are told apart by a line each."""
    before = [tuple(one.splitlines()) for one in request.POST.getlist("set")]
    return [*before, tuple(request.POST.getlist("ticked"))]


def _ticked(request: HttpRequest, of: RecordedMachine) -> None:
    """What was ticked of the part that the form shows. Raises NotRecorded."""
    form = request.POST
    ids = {part.name: part.id for part in recording_of(entries_of(of)).off}
    part, sets = form.get("part", ""), [one for one in _sets(request) if one] or [()]
    if part not in ids or any(name not in ids for one in sets for name in one):
        raise NotRecorded("A part on this page has another name now. Load the page again.")
    enter(
        request,
        of,
        "ticked",
        part=ids[part],
        sets=[[ids[name] for name in one] for one in sets],
        only=form.get("said") == "only",
    )
