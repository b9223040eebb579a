"""The film of a machine: which file it is, and where each move is done in it, found in captions, dragged right."""

from dataclasses import replace

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.anatomy.model import Anatomy
from fingertight.cards.film.folder import films_card
from fingertight.cards.film.moves import FilmMovesCard, film_moves_card
from fingertight.lesson.record.recording import Recording, recording_of
from fingertight.store.films import folder
from fingertight.store.models import MachineVersion
from fingertight.store.school.recordings import entries_of, recordings_of
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.guards import POLICY
from fingertight.web.jobs.films import films_changed, films_folder
from fingertight.web.jobs.ledgers import plan_of
from fingertight.web.jobs.workshop import machine_at
from fingertight.web.pages.film.told import Mistyped, Said, begun, captions_told, keep, mark_told, moves_told
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of

PLAYS = f"{POLICY}; media-src 'self' blob:"


@only("GET", "HEAD", "POST")
def moves(request: HttpRequest, slug: str) -> HttpResponse:
    """The moves of the newest film of this machine, or of the one that `of` names."""
    version = machine_at(slug)
    logs = recordings_of(version.workshop, slug)
    of = next((one for one in logs if one.slug == request.GET.get("of")), logs[0] if logs else None)
    if request.method != "POST":
        return _shown(request, version, logs, of, None)
    try:
        recording = recording_of(entries_of(of)) if of else Recording()
        said = _told(request, recording, plan_of(version.sha256, version.text)[0].anatomy)
        who = who_of(request).id
        of = begun(version, who) if of is None or request.POST.get("act") == "another" else of
        keep(of, who, request.POST.get("id", ""), said)
    except Mistyped as wrong:
        return _shown(request, version, logs, of, wrong)
    films_changed()
    return see(f"/machine/{slug}/film?of={of.slug}#moves")


def _told(request: HttpRequest, recording: Recording, anatomy: Anatomy) -> list[Said]:
    """What the form says, as entries. Raises Mistyped."""
    form = request.POST
    act = form.get("act", "")
    if act == "another":
        return []
    if act == "file":
        if folder.film_named(films_folder(), form.get("name", "")) is None:
            raise Mistyped("This film is not in the folder (any more). Load the page again.")
        return [{"kind": "file", "name": form["name"]}]
    if act == "captions":
        return captions_told(request)
    if act == "mark":
        return mark_told(form, recording)
    if act == "keep" or form.get("not"):
        return moves_told(form, anatomy)
    raise Mistyped("This form says nothing known here. Load the page again.")


def _shown(
    request: HttpRequest,
    version: MachineVersion,
    logs: list[RecordedMachine],
    of: RecordedMachine | None,
    wrong: Mistyped | None,
) -> HttpResponse:
    recording = recording_of(entries_of(of)) if of else Recording()
    card = film_moves_card(plan_of(version.sha256, version.text)[0].anatomy, recording)
    film = folder.film_named(films_folder(), recording.filmed.file)
    said = {
        "machine": version.slug,
        "name": version.name,
        "card": _as_typed(card, request.POST, wrong) if wrong else card,
        "wrong": wrong,
        "typed": request.POST if wrong else {},
        "of": of,
        "others": [one for one in logs if of and one.slug != of.slug],
        "filmed": recording.filmed,
        "film": film,
        "is_gone": bool(recording.filmed.file and film is None),
        "is_marked": recording.film is not None,
        "came_off": [(part.id, part.name) for part in recording.off],
        "films": films_card(folder.films(films_folder()), max(folder.free_bytes(films_folder()), 0)),
        "sent": request.GET.get("film", ""),
        "folder": films_folder(),
        "address": f"/machine/{version.slug}/film" + (f"?of={of.slug}" if of else ""),
    }
    response = render(request, "film_moves.html", said, status=422 if wrong else 200)
    response["Content-Security-Policy"] = PLAYS
    return response


def _as_typed(card: FilmMovesCard, form: QueryDict, wrong: Mistyped) -> FilmMovesCard:
    """The rows as somebody typed them, each with why it was not taken."""
    if form.get("act") != "keep" and not form.get("not"):
        return card
    taken = set(form.getlist("take"))
    rows = (
        replace(
            row,
            at=form.get(f"at-{row.key}", row.at),
            ticked=row.key in taken,
            problem=wrong.fields.get(row.key, ""),
        )
        for row in card.rows
    )
    return replace(card, rows=tuple(rows))
