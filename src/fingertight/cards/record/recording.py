"""The parts recorded so far, each with what held it and how to amend it; and what comes next."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import dist

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.lesson.record.recording import Fasteners, Recorded, Recording
from fingertight.quantity import plain

ROWS = 4
"""So many kinds of fastener are asked for at a part."""


@dataclass(frozen=True)
class FastenerRow(Card):
    """One row of the form, as it was typed or is to be typed. sketch: where they sit, "x,y;x,y", y up; apart: how far
    the first two are from each other [mm]."""

    what: str = ""
    length: str = ""
    count: str = ""
    sketch: str = ""
    apart: str = ""


@dataclass(frozen=True)
class RecordedPart(Card):
    """One part. number: in the order of removal, 0 for what stays; sentence: what was said of it; film: where in the
    film it came off, "" where no mark was made."""

    entry: str
    name: str
    number: int
    sentence: str
    film: str
    stays: bool
    rows: tuple[FastenerRow, ...]
    small: str
    tools: str
    care: str
    caution: str
    rests: str
    photos: tuple[str, ...]


@dataclass(frozen=True)
class RecordCard(Card):
    """A recording. next: what comes next, in a sentence; marked: whether the film was lined up; machine: the address of
    the machine that was made from it, "" before."""

    slug: str
    name: str
    next: str
    parts: tuple[RecordedPart, ...]
    staying: tuple[RecordedPart, ...]
    taken_back: tuple[str, ...]
    marked: str
    rests: tuple[str, ...]
    empty_rows: tuple[FastenerRow, ...]
    machine: str


def record_card(
    slug: str, name: str, recording: Recording, machine: str = "", *, photos: Collection[str] = ()
) -> RecordCard:
    """How far is this recording, and what comes next? photos: those that were not taken away since."""
    off = recording.off
    return RecordCard(
        slug=slug,
        name=name,
        next=_next(recording),
        parts=tuple(_part(recording, part, number, photos) for number, part in enumerate(off, 1)),
        staying=tuple(_part(recording, part, 0, photos) for part in recording.staying),
        taken_back=tuple(part.name for part in recording.taken_back),
        marked=f"The film shows {_clock(recording.film[0])} where the mark was made." if recording.film else "",
        rests=tuple(dict.fromkeys(part.details.rests for part in recording.parts if part.details.rests)),
        empty_rows=(FastenerRow(),) * ROWS,
        machine=machine,
    )


def _next(recording: Recording) -> str:
    if not recording.parts:
        return "Start the camera if there is one and make the mark. Then take the first part off, and say what it is."
    said = f"{counted(len(recording.off), 'part')} off."
    if not recording.staying:
        return f"{said} Go on; at the end say what never came off, such as the crankcase or the frame."
    return f"{said} Go on, or tick what was in the way of each: then the machine is there."


def _part(recording: Recording, part: Recorded, number: int, photos: Collection[str]) -> RecordedPart:
    details = part.details
    held = [_held(one) for one in details.held_by]
    small = [f"{count} × {name}" for name, count in details.with_]
    said = [*held, *small, *details.tools, *([details.rests] if details.rests else [])]
    film = ""
    if recording.film is not None and part.when >= recording.film[1]:
        film = _clock(recording.film[0] + part.when - recording.film[1])
    rows = [_row(one) for one in details.held_by]
    return RecordedPart(
        entry=part.entry,
        name=part.name,
        number=number,
        sentence=", ".join(said) or "nothing said of it yet",
        film=film,
        stays=part.stays,
        rows=tuple([*rows, *[FastenerRow()] * ROWS][: max(ROWS, len(rows))]),
        small=", ".join(f"{count} {name}" for name, count in details.with_),
        tools=", ".join(details.tools),
        care=details.care,
        caution=details.caution,
        rests=details.rests,
        photos=tuple(photo for photo in details.photos if photo in photos),
    )


def _row(one: Fasteners) -> FastenerRow:
    length = plain(one.length_mm) if one.length_mm else ""
    sketch = ";".join(f"{plain(x)},{plain(y)}" for x, y in one.at)
    apart = plain(round(dist(*one.at[:2]), 1)) if len(one.at) > 1 else ""
    return FastenerRow(one.thread or one.kind, length, str(one.count), sketch, apart)


def _held(one: Fasteners) -> str:
    named = f"{one.thread}x{plain(one.length_mm)}" if one.thread and one.length_mm else one.thread or one.kind
    return f"{one.count} × {named}" if named else counted(one.count, "fastener")


def _clock(second: float) -> str:
    """A place in a film: minutes and seconds.

    >>> _clock(75.4), _clock(3675)
    ('1:15', '1:01:15')
    """
    whole = int(second)
    hours, minutes, seconds = whole // 3600, whole % 3600 // 60, whole % 60
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"


def names_left(recording: Recording, names: Sequence[str]) -> tuple[str, ...]:
    """The usual names that no part has yet."""
    taken = {part.name.casefold() for part in recording.parts}
    return tuple(name for name in names if name.casefold() not in taken)
