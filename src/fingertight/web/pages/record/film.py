"""The film of a recording beside its chapters, and the chapters as files."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.film.chapters import ChaptersCard
from fingertight.cards.record.film import recording_chapters
from fingertight.lesson.record.recording import recording_of
from fingertight.paper.film.written import ffmetadata, webvtt
from fingertight.store.school.recordings import entries_of
from fingertight.web.guards import POLICY
from fingertight.web.pages.record.kept import found
from fingertight.web.pages.refusals import only

CHAPTER_FILES: dict[str, tuple[str, Callable[[ChaptersCard], str]]] = {
    "chapters.vtt": ("text/vtt", webvtt),
    "chapters.txt": ("text/plain", ffmetadata),
}


@only("GET", "HEAD")
def film(request: HttpRequest, slug: str) -> HttpResponse:
    """The film beside its chapters: the file is chosen here, is played by the browser, and never leaves it."""
    of = found(slug)
    said = {"slug": of.slug, "name": of.name, "card": recording_chapters(of.name, recording_of(entries_of(of)))}
    response = render(request, "record_film.html", said)
    response["Content-Security-Policy"] = f"{POLICY}; media-src 'self' blob:"
    return response


@only("GET", "HEAD")
def chapters(request: HttpRequest, slug: str, name: str) -> HttpResponse:
    """The chapters as a file: for a browser, or for ffmpeg."""
    of = found(slug)
    card, (kind, text) = recording_chapters(of.name, recording_of(entries_of(of))), CHAPTER_FILES[name]
    response = HttpResponse(text(card), content_type=f"{kind}; charset=utf-8")
    response["Content-Disposition"] = f'inline; filename="{of.slug}-{name}"'
    return response
