"""The chapters of a film: each move with its place in it."""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.cards.card import Card
from fingertight.ledger.replay import Ledger
from fingertight.lesson.film.chapters import Kind, chapters_of
from fingertight.lesson.film.clock import Clock, film_words


@dataclass(frozen=True)
class ChapterCard(Card):
    """One move and where its work is seen [s from the start of the film]."""

    part: str
    place: str | None
    kind: Kind
    title: str
    starts_s: float
    ends_s: float
    starts: Annotated[str, Field(exclude=True)]
    ends: Annotated[str, Field(exclude=True)]


@dataclass(frozen=True)
class ChaptersCard(Card):
    """All chapters in the order of the film. `says`: what has none, and what to know of the marks. `file`: written."""

    chapters: tuple[ChapterCard, ...]
    says: tuple[str, ...]
    file: str | None
    machine: Annotated[str, Field(exclude=True)]


def chapters_card(ledger: Ledger, clock: Clock, length_s: float | None = None, file: str | None = None) -> ChaptersCard:
    """The chapters of the film of this demonstration."""
    found = chapters_of(ledger, clock, length_s)
    return ChaptersCard(
        chapters=tuple(
            ChapterCard(
                one.part,
                one.place,
                one.kind,
                one.title,
                one.starts_s,
                one.ends_s,
                film_words(one.starts_s),
                film_words(one.ends_s),
            )
            for one in found.chapters
        ),
        says=found.says,
        file=file,
        machine=ledger.plan.anatomy.machine.name,
    )
