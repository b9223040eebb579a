"""The moves of a film along a line: what stands, what its captions propose, what is against the machine's file."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.moves import Way
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.film.found import how_sure
from fingertight.lesson.film.looked import against_the_file, nearest_words, proposed
from fingertight.lesson.film.seen import film_moves
from fingertight.lesson.record.recording import Recording

HOW = {"sure": "sure", "likely": "likely", "look": "unsure: look at it", "by hand": "kept"}
ROOM = 1.03
"""The line is so much longer than what stands on it, while nobody has measured the film."""


@dataclass(frozen=True)
class FilmRow(Card):
    """One move: when it is done (at_s [s], and as it is typed), how it is known, the words it was found in.

    stands: it is in the recording, else proposed; ticked: sure enough to be taken with the others; against: what
    speaks against it in the machine's file; problem: why what was typed was not taken; was: what stood in its field.
    """

    key: str
    part: str
    way: Way
    title: str
    at_s: float
    at: str
    was: str
    how: str
    why: str
    words: str
    stands: bool
    ticked: bool
    against: str
    problem: str = ""


@dataclass(frozen=True)
class FilmMovesCard(Card):
    """All of them, in the order of the film. ends_s: where the line ends [s]; until_s: where the last move or caption
    stands [s]; unseen: moves that somebody said the film does not show; missing: parts without a move, by title."""

    rows: tuple[FilmRow, ...]
    stand: int
    proposed: int
    ends_s: float
    until_s: float
    unseen: tuple[str, ...]
    missing: tuple[str, ...]
    says: tuple[str, ...]
    sentence: str
    parts: tuple[tuple[str, str], ...]


def film_moves_card(anatomy: Anatomy, recording: Recording) -> FilmMovesCard:
    """Where is which move done in the film of this recording, and what do its captions propose besides?"""
    moves, gone = film_moves(anatomy, recording)
    found = proposed(anatomy, recording)
    titles = {part.id: part.title for part in anatomy.parts}
    rows = [
        _row(one.part, one.way, one.title, one.at_s)
        if one.by_hand
        else replace(_row(one.part, one.way, one.title, one.at_s), how="pressed while it was recorded")
        for one in moves
    ]
    for proposal in found.proposals:
        how = how_sure(proposal.confidence)
        rows.append(
            replace(
                _row(proposal.part, proposal.kind, titles[proposal.part], proposal.at_s),
                how=HOW[how],
                why="" if how == "sure" else " ".join(proposal.reasons),
                words=nearest_words(recording.filmed.cues, proposal),
                stands=False,
                ticked=how != "look",
            )
        )
    against = against_the_file(anatomy, [(row.part, row.way, row.at_s) for row in rows])
    rows = [replace(row, against=against.get((row.part, row.way), "")) for row in rows]
    rows.sort(key=lambda row: (row.at_s, row.key))
    until_s = max([row.at_s for row in rows] + [cue.ends_s for cue in recording.filmed.cues], default=0.0)
    there = {row.part for row in rows}
    says = [*found.says, *([f"No longer in the machine’s file: {', '.join(gone)}."] if gone else [])]
    return FilmMovesCard(
        rows=tuple(rows),
        stand=len(moves),
        proposed=len(found.proposals),
        ends_s=round(max(until_s * ROOM, 10.0), 1),
        until_s=until_s,
        unseen=tuple(f"{titles[part]} {way}" for part, way in sorted(recording.filmed.unseen) if part in titles),
        missing=tuple(part.title for part in anatomy.parts if not part.stays and part.id not in there) if rows else (),
        says=tuple(says),
        sentence=_sentence(len(moves), found.proposals),
        parts=tuple((part.id, part.title) for part in anatomy.parts if not part.stays),
    )


def _row(part: str, way: Way, title: str, at_s: float) -> FilmRow:
    at = film_field(at_s)
    return FilmRow(
        key=f"{way}-{part}",
        part=part,
        way=way,
        title=f"{title} {way}",
        at_s=at_s,
        at=at,
        was=at,
        how=HOW["by hand"],
        why="",
        words="",
        stands=True,
        ticked=False,
        against="",
    )


def _sentence(stand: int, proposals: Sequence[object]) -> str:
    said = f"{counted(stand, 'move')} in the film’s log" if stand else "No move is in the film’s log yet"
    if not proposals:
        return f"{said}."
    many = f"{len(proposals)} more" if stand else str(len(proposals))
    return f"{said}; the captions propose {many}. Look at them in the film, then keep what is right."


def film_field(at_s: float) -> str:
    """A moment of the film as it is typed, to the tenth of a second.

    >>> film_field(65.5), film_field(3723.04), film_field(0.0), film_field(59.98)
    ('1:05.5', '1:02:03', '0:00', '1:00')
    """
    tenths = round(max(at_s, 0.0) * 10)
    minutes, left = divmod(tenths, 600)
    seconds = f"{left // 10:02}" + (f".{left % 10}" if left % 10 else "")
    return f"{minutes // 60}:{minutes % 60:02}:{seconds}" if minutes >= 60 else f"{minutes}:{seconds}"
