"""The log of a recording becomes its state, entry by entry; like every log it is only ever added to.

Every entry has `id`, `kind`, `at` (RFC 3339, the server's clock) and `by` (a person's id).
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from math import isfinite
from typing import Any, get_args

from fingertight.lesson.record import filmed
from fingertight.lesson.record.filmed import Filmed, NotSeen
from fingertight.order.learn import MOST_COMBINATIONS, Answer, Strip, Ticks, combinations
from fingertight.order.learn.heard import Said

SAID: tuple[str, ...] = get_args(Said)
KINDS: dict[str, dict[str, type]] = {
    "off": {"name": str},
    "stays": {"name": str},
    "amend": {"entry": str, "name": str},
    "back": {"entry": str},
    "film": {"second": float},
    "answer": {"part": str, "on": list, "said": str},
    "ticked": {"part": str, "sets": list, "only": bool},
    "strip": {"label": str, "order": list, "still_on": list},
    "no strip": {"label": str},
    "made": {"machine": str, "version": int},
    **filmed.KINDS,
}
"""What each kind must say besides id, kind, at and by. off and amend say details too (`Details`).

ticked: the part comes off once all of one of `sets` is off, and (`only`) no sooner and whatever else is on.
strip: somebody else stripped one too, in this order, with these still on at the end; no strip: that does not count.
made: the machine was made of what was known, as this version.
"""
LONGEST_NAME, LONGEST_LABEL, MOST_SETS, MOST_PARTS, MOST_PHOTOS = 60, 200, 8, 2_000, 6
A_PHOTO = re.compile(r"[0-9a-f]{64}\Z")
MOST_OF_ONE, LEAST_OF_A_STRIP = 200, 2


class NotRecorded(Exception):
    """This is no entry of a recording, or not one for now; the message says why and how to mend it."""


@dataclass(frozen=True, slots=True)
class Fasteners:
    """Like fasteners that held a part: thread and length [mm], or another kind; how many, and where [mm, y up]."""

    thread: str = ""
    length_mm: float = 0.0
    kind: str = ""
    count: int = 1
    at: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Details:
    """What was said of a part: what held it, what else was in its bag, tools, care, caution, how the machine lay.

    photos: the ids of pictures of it.
    """

    held_by: tuple[Fasteners, ...] = ()
    with_: tuple[tuple[str, int], ...] = ()
    tools: tuple[str, ...] = ()
    care: str = ""
    caution: str = ""
    rests: str = ""
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Recorded:
    """A part that came off, or stays: its id in the file to come, its name, when [s since 1970], by which entry."""

    id: str
    name: str
    when: float
    entry: str
    stays: bool
    details: Details


@dataclass
class Recording:
    """Where a recording stands. film: at which second of the film [s] the clock showed what [s since 1970]."""

    parts: list[Recorded] = field(default_factory=list)
    answers: list[Answer] = field(default_factory=list)
    ticks: list[Ticks] = field(default_factory=list)
    strips: list[Strip] = field(default_factory=list)
    film: tuple[float, float] | None = None
    taken_back: list[Recorded] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)
    filmed: Filmed = field(default_factory=Filmed)

    @property
    def off(self) -> list[Recorded]:
        """The parts that came off, in order."""
        return [part for part in self.parts if not part.stays]

    @property
    def staying(self) -> list[Recorded]:
        """What never came off."""
        return [part for part in self.parts if part.stays]

    def strip(self, label: str) -> Strip:
        """The order in which it was taken apart, for learning from."""
        return Strip(tuple(part.id for part in self.off), label)


def details_of(said: Mapping[str, Any]) -> Details:
    """The details an entry states. Raises NotRecorded."""
    sets = said.get("held_by") or []
    if not isinstance(sets, list) or len(sets) > MOST_SETS:
        raise NotRecorded(f"A part is held by {MOST_SETS} kinds of fastener at most here; say the rest in its file.")
    return Details(
        tuple(_fasteners(one) for one in sets),
        tuple((str(name)[:LONGEST_NAME], _count(count)) for name, count in said.get("with") or []),
        tuple(str(tool)[:LONGEST_NAME] for tool in said.get("tools") or []),
        str(said.get("care") or ""),
        str(said.get("caution") or ""),
        str(said.get("rests") or ""),
        _photos(said.get("photos") or []),
    )


def _photos(said: object) -> tuple[str, ...]:
    ids = tuple(dict.fromkeys(said)) if isinstance(said, list) else ()
    if len(ids) > MOST_PHOTOS:
        raise NotRecorded(f"A part has {MOST_PHOTOS} photos at most. Take one away first.")
    if not all(isinstance(one, str) and A_PHOTO.match(one) for one in ids):
        raise NotRecorded("One of these is no photo that is kept here. Choose it again.")
    return ids


def _fasteners(said: Mapping[str, Any]) -> Fasteners:
    length = said.get("length", 0.0)
    if not isinstance(length, int | float) or isinstance(length, bool) or not 0 <= length <= 1000:
        raise NotRecorded(f"{length!r} is no length under a head; write millimetres, for example 28.")
    count, at = _count(said.get("count", 1)), said.get("at") or []
    if at and (len(at) != count or not all(_is_place(one) for one in at)):
        raise NotRecorded(f"{len(at)} places are no places of {count} fasteners. Tap them on the sketch again.")
    return Fasteners(
        str(said.get("thread") or ""),
        float(length),
        str(said.get("kind") or ""),
        count,
        tuple((float(x), float(y)) for x, y in at),
    )


def _is_place(said: object) -> bool:
    numbers = said if isinstance(said, list | tuple) else ()
    return len(numbers) == 2 and all(type(one) in {int, float} and isfinite(one) for one in numbers)


def _count(many: object) -> int:
    if not isinstance(many, int) or isinstance(many, bool) or not 1 <= many <= MOST_OF_ONE:
        raise NotRecorded(f"{many!r} is no number of pieces from 1 to {MOST_OF_ONE}.")
    return many


def checked(said: Mapping[str, Any]) -> float:
    """When an entry was made [s since 1970], if it is one of a recording.

    >>> checked({"id": "1", "kind": "back", "at": "2026-03-05T09:00:00+00:00", "by": "p", "entry": "0"})
    1772701200.0

    Raises NotRecorded.
    """
    wanted = KINDS.get(str(said.get("kind")))
    if wanted is None:
        raise NotRecorded(f"A recording has no entries of kind {said.get('kind')!r}.")
    for name, kind in {"id": str, "at": str, "by": str, **wanted}.items():
        if not isinstance(said.get(name), kind) or said[name] == "":
            raise NotRecorded(f"An entry of kind {said['kind']} says `{name}` ({kind.__name__}).")
    try:
        when = datetime.fromisoformat(said["at"])
    except ValueError:
        when = None
    if when is None or when.tzinfo is None:
        raise NotRecorded(f"{said['at']!r} is not a time with its offset.")
    return when.timestamp()


def fold(recording: Recording, said: Mapping[str, Any]) -> Recording:
    """The recording after this entry; the same object, changed.

    Raises NotRecorded where it cannot be: a name that another part has, a part that is not there, an answer about
    parts that did not come off.
    """
    when, kind = checked(said), said["kind"]
    if kind in {"off", "stays"}:
        _add(recording, said, when)
    elif kind == "amend":
        _amend(recording, said)
    elif kind == "back":
        part = _entry(recording, said["entry"])
        recording.parts.remove(part)
        recording.taken_back.append(part)
    elif kind == "film":
        recording.film = (said["second"], when)
    elif kind == "ticked":
        _ticked(recording, said)
    elif kind == "strip":
        _strip(recording, said)
    elif kind == "no strip":
        recording.strips = [one for one in recording.strips if one.label != said["label"]]
    elif kind in filmed.KINDS:
        try:
            _seen(recording, said)
        except NotSeen as wrong:
            raise NotRecorded(str(wrong)) from None
    elif kind == "answer":
        _answer(recording, said)
    return recording


def recording_of(entries: Iterable[Mapping[str, Any]]) -> Recording:
    """The state of a recording from its whole log. What cannot be read was refused when it was written."""
    recording = Recording()
    for said in entries:
        fold(recording, said)
    return recording


def _add(recording: Recording, said: Mapping[str, Any], when: float) -> None:
    name = _free_name(recording, said["name"], None)
    if len(recording.parts) >= MOST_PARTS:
        raise NotRecorded(f"A recording has {MOST_PARTS} parts at most.")
    part_id = _free_id(recording, name)
    recording.ids.add(part_id)
    recording.parts.append(Recorded(part_id, name, when, said["id"], said["kind"] == "stays", details_of(said)))


def _amend(recording: Recording, said: Mapping[str, Any]) -> None:
    part = _entry(recording, said["entry"])
    name = _free_name(recording, said["name"], part)
    place = recording.parts.index(part)
    recording.parts[place] = replace(part, name=name, details=details_of(said))


def _answer(recording: Recording, said: Mapping[str, Any]) -> None:
    if said["said"] not in SAID or not said["on"]:
        raise NotRecorded("This is no answer about parts that came off. Load the page again.")
    _all_off(recording, [said["part"], *said["on"]])
    recording.answers.append(Answer(said["part"], tuple(said["on"]), said["said"], said["by"]))


def _ticked(recording: Recording, said: Mapping[str, Any]) -> None:
    sets = said["sets"]
    if not sets or not all(isinstance(some, list) for some in sets) or (len(sets) > 1 and not said["only"]):
        raise NotRecorded("These ticks were not understood. Load the page again.")
    _all_off(recording, [said["part"], *(part for some in sets for part in some)])
    if combinations(sets) > MOST_COMBINATIONS:
        raise NotRecorded("These ways have too many parts to be told from each other. Tick only what it touches.")
    if any(said["part"] in some for some in sets):
        raise NotRecorded("A part is not in its own way. Take that tick out.")
    recording.ticks.append(Ticks(said["part"], tuple(tuple(some) for some in sets), said["only"], said["by"]))


def _strip(recording: Recording, said: Mapping[str, Any]) -> None:
    order, still_on = tuple(said["order"]), tuple(said["still_on"])
    if len(set(order)) != len(order) or len(order) < LEAST_OF_A_STRIP:
        raise NotRecorded("A strip names two parts or more, each once: another order teaches nothing.")
    _all_off(recording, (*order, *still_on))
    if any(one.label == said["label"] for one in recording.strips):
        raise NotRecorded(f"“{said['label']}” was added before; once is enough.")
    recording.strips.append(Strip(order, said["label"][:LONGEST_LABEL], still_on))


def _all_off(recording: Recording, parts: Iterable[object]) -> None:
    there = {part.id for part in recording.off}
    if any(part not in there for part in parts):
        raise NotRecorded("This is no answer about parts that came off. Load the page again.")


def _seen(recording: Recording, said: Mapping[str, Any]) -> None:
    """What is said of the film: its file, its captions, where a move is seen, or that it is not. Raises NotSeen."""
    of = recording.filmed
    if said["kind"] == "file":
        of.file = said["name"]
    elif said["kind"] == "captions":
        of.captions, of.cues = said["name"], filmed.cues_in(said)
        of.captions_say = tuple(str(one) for one in said.get("says") or ())
    elif said["kind"] == "unseen":
        move = said["part"], filmed.way_of(said["way"])
        of.unseen.add(move)
        of.by_hand.discard(move)
        if move[1] == "on":
            of.on.pop(move[0], None)
        elif move[0] in of.added:
            of.added.discard(move[0])
            recording.parts = [part for part in recording.parts if part.id != move[0]]
    else:
        if recording.film is None:
            raise NotSeen("The film has no mark yet. Say first what it shows at a moment you know.")
        for one in filmed.moves_in(said):
            _put(recording, one, recording.film[1] + one.second - recording.film[0], said["id"])
        recording.parts.sort(key=lambda part: (part.stays, part.when))


def _put(recording: Recording, one: filmed.SeenMove, when: float, entry: str) -> None:
    """A move is done at this time [s since 1970], whatever was thought of it before."""
    of = recording.filmed
    of.by_hand.add(one.move)
    of.unseen.discard(one.move)
    if one.way == "on":
        of.on[one.part] = when
        return
    for place, part in enumerate(recording.parts):
        if part.id == one.part:
            if part.stays:
                raise NotSeen(f"{part.name} stays: it never comes off. Leave it out.")
            recording.parts[place] = replace(part, when=when)
            return
    if len(recording.parts) >= MOST_PARTS:
        raise NotSeen(f"A recording has {MOST_PARTS} parts at most.")
    taken = {part.name.casefold() for part in recording.parts}
    name = one.name if one.name.casefold() not in taken else f"{one.name} ({one.part})"
    recording.ids.add(one.part)
    of.added.add(one.part)
    recording.parts.append(Recorded(one.part, name, when, f"{entry}/{one.part}", False, Details()))


def _entry(recording: Recording, entry: str) -> Recorded:
    for part in recording.parts:
        if part.entry == entry:
            return part
    raise NotRecorded("There is no such part in this recording (any more). Load the page again.")


def _free_name(recording: Recording, typed: str, mine: Recorded | None) -> str:
    """The name, if it is one and no other part has it."""
    name = " ".join(typed.split())[:LONGEST_NAME]
    if not name:
        raise NotRecorded("The part has no name. Type one, or choose one of the list.")
    for part in recording.parts:
        if part is not mine and part.name.casefold() == name.casefold():
            raise NotRecorded(f"{part.name} was recorded before. Say which one this is: {name}, left, or {name} 2.")
    return name


def _free_id(recording: Recording, name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    base = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40] or "part"
    base = base if base[0].isalpha() else f"part-{base}"
    found, number = base, 1
    while found in recording.ids:
        number += 1
        found = f"{base}-{number}"
    return found
