"""What the captions of a film propose besides what stands, and which moves are against the machine's file."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

from fingertight.anatomy.model import Anatomy
from fingertight.ledger.plan import listed
from fingertight.lesson.film.captions.found import OR_SAY, Found, Proposal, found
from fingertight.lesson.film.captions.solve import InTurn
from fingertight.lesson.film.captions.words import Cue
from fingertight.lesson.film.chapters import Kind
from fingertight.lesson.film.clock import film_words
from fingertight.lesson.film.seen import film_moves
from fingertight.lesson.record.recording import Recording

MOST_NAMED, LONG_S = 3, 6.0


def proposed(anatomy: Anatomy, recording: Recording) -> Found:
    """What else do the captions seem to speak of? What stands in the recording, or is said not to be seen, is settled;
    the rest is searched around it."""
    of = recording.filmed
    if not of.cues:
        return Found((), (), ())
    movable = {part.id for part in anatomy.parts if not part.stays}
    moves = film_moves(anatomy, recording)[0]
    puts: dict[tuple[str, Kind], float | None] = {(part, way): None for part, way in of.unseen if part in movable}
    puts |= {(one.part, one.way): max(one.at_s, 0.0) for one in moves}
    search = _found(_Same(anatomy), of.cues, tuple(sorted(puts.items(), key=lambda one: one[0])))
    new = tuple(one for one in search.proposals if (one.part, one.kind) not in puts)
    return Found(new, search.missing, tuple(said.replace(OR_SAY, "") for said in search.says))


def against_the_file(anatomy: Anatomy, moves: Iterable[tuple[str, Kind, float]]) -> Mapping[tuple[str, Kind], str]:
    """Which of these moves (part, way, at [s of the film]) come too early by the machine's file? A sentence for each.

    Only what the film itself shows later is held against a move: what it does not show may have been off before.
    """
    told = sorted(moves, key=lambda one: one[2])
    return {**_too_early(anatomy, told, "off"), **_too_early(anatomy, told[::-1], "on")}


def _too_early(anatomy: Anatomy, told: list[tuple[str, Kind, float]], kind: Kind) -> dict[tuple[str, Kind], str]:
    """For moves that go on, read backwards: going on is coming off turned round."""
    turn = InTurn(anatomy, kind)
    mine = [(part, at_s) for part, way, at_s in told if way == kind and part in turn.number]
    times, titles = dict(mine), {part.id: part.title for part in anatomy.parts}
    moved = sum(1 << number for part, number in turn.number.items() if part not in times)
    said: dict[tuple[str, Kind], str] = {}
    for part, at_s in mine:
        later = [one for one in turn.in_the_way(turn.number[part], moved) if times[one] != at_s]
        if later:
            named = listed(f"{titles[one]} ({film_words(times[one])})" for one in later[:MOST_NAMED])
            one_only = len(later) == 1
            order = f"{'comes' if one_only else 'come'} off before it, and here only after it"
            if kind == "on":
                order = f"{'goes' if one_only else 'go'} on after it, and here before"
            said[part, kind] = f"By the machine’s file {named} {order}. Which of the times is right?"
        moved |= 1 << turn.number[part]
    return said


class _Same:
    """An anatomy told apart by being the same object, so that a search is remembered and not hashed part by part."""

    __slots__ = ("anatomy",)

    def __init__(self, anatomy: Anatomy) -> None:
        self.anatomy = anatomy

    def __hash__(self) -> int:
        return id(self.anatomy)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.anatomy is self.anatomy


@lru_cache(maxsize=16)
def _found(same: _Same, cues: tuple[Cue, ...], puts: tuple[tuple[tuple[str, Kind], float | None], ...]) -> Found:
    return found(same.anatomy, cues, dict(puts))


def nearest_words(cues: Iterable[Cue], proposal: Proposal) -> str:
    """The captions a move was found in, as they were said."""
    until_s = min(max(proposal.said_s, proposal.at_s), proposal.said_s + LONG_S)
    near = [cue.text for cue in cues if cue.ends_s >= proposal.said_s and cue.starts_s <= until_s]
    return " ".join(near[:2]) or proposal.words
