"""A chapter for each move of a demonstration log.

Chapters hang on parts, not on times of the film: cut the film anew, set one new mark, and all of them follow.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, cast

from fingertight.ledger.entry import Entry
from fingertight.ledger.replay import Ledger
from fingertight.lesson.film.clock import Clock, film_words

Kind = Literal["off", "on"]
Move = tuple[str, str | None, Kind]
"""A part, its place, and whether it came off or went on."""


@dataclass(frozen=True, slots=True)
class Chapter:
    """The work on one move in the film [s from its start]. Times are whole milliseconds."""

    part: str
    place: str | None
    kind: Kind
    starts_s: float
    ends_s: float
    title: str

    @property
    def move(self) -> Move:
        """What is done in it."""
        return self.part, self.place, self.kind


@dataclass(frozen=True, slots=True)
class Chapters:
    """All chapters of a film, in their order, and a sentence for whatever has none."""

    chapters: tuple[Chapter, ...]
    says: tuple[str, ...]

    def of(self, part: str, kind: Kind, place: str | None = None) -> Chapter | None:
        """Where this move is seen done; without a place, the first piece of the part."""
        for chapter in self.chapters:
            if (chapter.part, chapter.kind) == (part, kind) and place in (None, chapter.place):
                return chapter
        return None


def chapters_of(ledger: Ledger, clock: Clock, length_s: float | None = None) -> Chapters:
    """Which chapters does the film of this demonstration have?

    A chapter begins when work on its move began, which is when the move before was done, and ends at its own entry.
    Entries that are struck through say nothing. An entry of which the instructor has set a flag aside is no example
    to follow and gets no chapter, nor does a move that was done again later: the last counts. They still end the work
    before them. Moves of the same moment share its time equally.

    >>> from fingertight.anatomy.model import Anatomy
    >>> from fingertight.ledger.plan import Plan
    >>> from fingertight.lesson.film.clock import Mark
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> ledger = Ledger(Plan(box))
    >>> _ = ledger.hear({"id": "1", "kind": "off", "at": "2026-03-05T08:00:42Z", "by": "t", "part": "lid"})
    >>> chapters_of(ledger, Clock(Mark(0.0, 1_772_697_600.0))).chapters
    (Chapter(part='lid', place=None, kind='off', starts_s=0.0, ends_s=42.0, title='Lid off'),)

    length_s: how long the film is [s], where that is known. What happened before the film or after it is left out, and
    said. The chapters do not overlap, none is shorter than a millisecond, and they follow each other in time.
    """
    done = _done(ledger)
    shown = _shown(ledger, done)
    chapters: list[Chapter] = []
    without = {"before": 0, "after": 0, "crowded": 0}
    last_ms = 0
    for ends_ms, together in groupby(done, key=lambda entry: round(clock.film_s(entry.when) * 1000)):
        kept = [entry for entry in together if entry.id in shown]
        if ends_ms <= 0:
            without["before"] += len(kept)
        elif length_s is not None and ends_ms > length_s * 1000:
            without["after"] += len(kept)
        elif ends_ms - last_ms < len(kept):
            without["crowded"] += len(kept)
        else:
            chapters += _shared(ledger, kept, last_ms, ends_ms)
        last_ms = max(last_ms, ends_ms)
    says = [clock.says] if clock.says else []
    says += [] if done else ["The log has no moves: nothing came off and nothing went on."]
    return Chapters(tuple(chapters), (*says, *_without(length_s, **without)))


def _done(ledger: Ledger) -> list[Entry]:
    """The moves that stand, in the order they count."""
    struck = ledger.struck()
    return [entry for entry in ledger.entries if entry.kind in ("off", "on") and entry.id not in struck]


def _shown(ledger: Ledger, done: Iterable[Entry]) -> set[str]:
    """The entries that get a chapter: of each move the last, and none of which a flag was set aside."""
    struck = ledger.struck()
    aside = {
        entry.said["entry"]
        for entry in ledger.entries
        if entry.kind == "aside" and entry.by_instructor and entry.id not in struck
    }
    return set({_move(entry): entry.id for entry in done if entry.id not in aside}.values())


def _move(entry: Entry) -> Move:
    return entry.said["part"], entry.said.get("place"), cast(Kind, entry.kind)


def _shared(ledger: Ledger, entries: list[Entry], from_ms: int, to_ms: int) -> Iterable[Chapter]:
    """A chapter each, of equal length; one entry has it all."""
    edges = [from_ms + (to_ms - from_ms) * number // max(len(entries), 1) for number in range(len(entries) + 1)]
    for entry, starts_ms, ends_ms in zip(entries, edges, edges[1:], strict=False):
        part, place, kind = _move(entry)
        title = f"{ledger.plan.parts[part].piece_name(place)} {kind}"
        yield Chapter(part, place, kind, starts_ms / 1000, ends_ms / 1000, title)


def _without(length_s: float | None, *, before: int, after: int, crowded: int) -> Iterable[str]:
    """A sentence for the moves that have no chapter, by why."""
    if before:
        yield f"The film begins after its log: {_moves(before)} before its start."
    if after:
        yield f"The film is shorter than its log: {_moves(after)} after its end at {film_words(length_s or 0)}."
    if crowded:
        yield f"{_moves(crowded)} within a thousandth of a second of the one before and so without a chapter."


def _moves(count: int) -> str:
    return "1 move comes" if count == 1 else f"{count} moves come"
