"""Found moves become a demonstration log, which is a bench log like any other."""

from collections.abc import Iterator, Sequence
from typing import Any

from fingertight.anatomy.model import Anatomy
from fingertight.lesson.film.captions.found import Proposal
from fingertight.lesson.film.chapters import Move
from fingertight.lesson.film.clock import Clock, at_words


def moves_of(anatomy: Anatomy, proposals: Sequence[Proposal]) -> list[Move]:
    """Every move of the log these proposals make: a part with places is one for each of its pieces."""
    return [move for proposal in proposals for move in _pieces(anatomy, proposal)]


def drafted(
    anatomy: Anatomy, proposals: Sequence[Proposal], clock: Clock, ids: Sequence[str], by: str
) -> list[dict[str, Any]]:
    """The demonstration log these proposals make: one entry for each of `moves_of`, with the ids given, in turn.

    Pieces of one part move together, for captions seldom tell them apart. Nobody says in a film which bag: there is
    none in the log. `film_s` [s of the film] and `confidence` are kept with each entry and change nothing.

    Raises ValueError when there is not an id for each move.
    """
    moves = [(proposal, move) for proposal in proposals for move in _pieces(anatomy, proposal)]
    if len(ids) != len(moves):
        raise ValueError(f"{len(moves)} moves need as many ids, not {len(ids)}.")
    return [
        {
            "id": name,
            "kind": kind,
            "at": at_words(clock.log_s(proposal.at_s)),
            "by": by,
            "as": "instructor",
            "part": part,
            **({"place": place} if place else {}),
            "film_s": proposal.at_s,
            "confidence": proposal.confidence,
        }
        for name, (proposal, (part, place, kind)) in zip(ids, moves, strict=True)
    ]


def _pieces(anatomy: Anatomy, proposal: Proposal) -> Iterator[Move]:
    for place in anatomy.part_by_id[proposal.part].places or (None,):
        yield proposal.part, place, proposal.kind
