"""The moves that captions seem to speak of, to be looked through by a person."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.lesson.film.captions.found import Found
from fingertight.lesson.film.chapters import Kind
from fingertight.lesson.film.clock import film_words

SURE, LIKELY = 0.75, 0.5


@dataclass(frozen=True)
class ProposalCard(Card):
    """One proposal. `at_s`: done at [s of the film]; `said_s`: spoken of at; `confidence`: 0 to 1, no probability."""

    part: str
    kind: Kind
    title: str
    at_s: float
    said_s: float
    confidence: float
    reasons: tuple[str, ...]
    words: str
    at: Annotated[str, Field(exclude=True)]
    how: Annotated[str, Field(exclude=True)]


@dataclass(frozen=True)
class FoundCard(Card):
    """All proposals in the order of the film; parts without any, by id; what to know of the whole; the log written."""

    proposals: tuple[ProposalCard, ...]
    missing: tuple[str, ...]
    says: tuple[str, ...]
    file: str | None
    machine: Annotated[str, Field(exclude=True)]
    titles: Annotated[dict[str, str], Field(exclude=True)]


def found_card(anatomy: Anatomy, found: Found, says: Sequence[str] = (), file: str | None = None) -> FoundCard:
    """What was found. `says`: what was said of the caption file, before what is said of the finding."""
    titles = {part.id: part.title for part in anatomy.parts}
    return FoundCard(
        proposals=tuple(
            ProposalCard(
                part=one.part,
                kind=one.kind,
                title=f"{titles[one.part]} {one.kind}",
                at_s=one.at_s,
                said_s=round(one.said_s, 3),
                confidence=one.confidence,
                reasons=one.reasons,
                words=one.words,
                at=film_words(one.at_s),
                how=how_sure(one.confidence),
            )
            for one in found.proposals
        ),
        missing=found.missing,
        says=(*says, *found.says),
        file=file,
        machine=anatomy.machine.name,
        titles=titles,
    )


def how_sure(confidence: float) -> str:
    """The confidence as a word.

    >>> how_sure(1), how_sure(0.8), how_sure(0.5), how_sure(0.3)
    ('by hand', 'sure', 'likely', 'look')
    """
    if confidence == 1:
        return "by hand"
    return "sure" if confidence >= SURE else "likely" if confidence >= LIKELY else "look"
