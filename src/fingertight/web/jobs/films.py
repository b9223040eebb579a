"""Which film shows a machine's moves, remembered: a bench asks at every look, and neither database nor disk at most."""

import time
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings

from fingertight.cards.bench.moves import FilmWords
from fingertight.cards.film.seen import film_words_for
from fingertight.lesson.film.chapters import Chapters
from fingertight.lesson.film.seen import seen_done
from fingertight.lesson.record.recording import recording_of
from fingertight.store.films.folder import Film, film_named
from fingertight.store.models import Workshop
from fingertight.store.school.recordings import entries_of, recordings_of
from fingertight.store.versions import newest_of
from fingertight.web.jobs.ledgers import database, plan_of

FRESH_S = 60.0
"""So long a film that somebody took out of the folder by hand is still believed to be there."""


@dataclass(frozen=True)
class SeenFilm:
    """The film of a machine with its chapters; what the cards of its moves say of it."""

    film: Film
    chapters: Chapters
    words: FilmWords


_remembered: dict[tuple[str, str], tuple[float, SeenFilm | None]] = {}


def films_folder() -> Path:
    """Where the workshop's films lie."""
    return Path(settings.HOME) / "films"


def films_changed() -> None:
    """A film, a mark or a move was kept: every bench hears of it at its next look."""
    _remembered.clear()


def film_words(workshop: Workshop, machine: str) -> FilmWords:
    """By way and part, what a move's card calls its place in the film; nothing where there is none."""
    seen = seen_film(workshop, machine)
    return seen.words if seen else {}


def seen_film(workshop: Workshop, machine: str) -> SeenFilm | None:
    """The newest film of this machine that has a file here, and chapters; None where there is none."""
    key = (str(database()), machine)
    at, seen = _remembered.get(key, (0.0, None))
    if not at or time.monotonic() - at > FRESH_S:
        seen = _looked_for(workshop, machine)
        _remembered[key] = (time.monotonic(), seen)
    return seen


def _looked_for(workshop: Workshop, machine: str) -> SeenFilm | None:
    for one in recordings_of(workshop, machine):
        recording = recording_of(entries_of(one))
        film = film_named(films_folder(), recording.filmed.file)
        if film is None or recording.film is None:
            continue
        version = newest_of(workshop, machine)
        if version is None:
            return None
        chapters = seen_done(plan_of(version.sha256, version.text)[0].anatomy, recording)
        if chapters.chapters:
            return SeenFilm(film, chapters, film_words_for(chapters))
    return None
