"""The entry kinds and the flag kinds, as two tables: docs and schema are made from them, folds are named after them."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Shape(StrEnum):
    """What a field of an entry may hold."""

    TEXT = "text"
    NUMBER = "number"
    TEMPERATURE = "number, °C"
    COUNT = "whole number, 0 or more"
    PART = "id of a part"
    PARTS = "list of ids of parts"
    PLACE = "one of the part's places"
    CHECK = "id of a check"
    SETTING = "id of a setting"
    SIGN = "id of a sign-off"
    ENTRY = "id of an entry"
    UNIT = "unit"
    COUNTS = "counts by name"
    BAGS = "counts by bag"
    TEXTS = "list of texts"
    VALUES = "list of values"
    COUNT_LIST = "list of whole numbers"
    VERDICT = "good or worn"
    WAY = "out or in"
    HELP = "asked or given"
    FLAG = "kind of flag"


@dataclass(frozen=True, slots=True)
class Field:
    """One field of an entry."""

    name: str
    shape: Shape
    must: bool = True


@dataclass(frozen=True, slots=True)
class EntryKind:
    """One kind of entry: its fields besides id, kind, at and by, and what it says."""

    name: str
    fields: tuple[Field, ...]
    says: str


@dataclass(frozen=True, slots=True)
class FlagKind:
    """One kind of flag: when it is raised, how it is mended, whether it breaks the engine or hurts someone at start-up
    (`stops`), and whether taking the part off again closes it (`closes_off`)."""

    name: str
    raised: str
    mended: str
    stops: bool
    closes_off: bool = False


def _fields(must: dict[str, Shape], may: dict[str, Shape] | None = None) -> tuple[Field, ...]:
    needed = tuple(Field(name, shape) for name, shape in must.items())
    return (*needed, *(Field(name, shape, must=False) for name, shape in (may or {}).items()))


_PIECE: Final = {"place": Shape.PLACE}
_KINDS = (
    EntryKind(
        "absent",
        _fields({"part": Shape.PART}),
        "this machine does not have it: out of the way, never goes on, never missed",
    ),
    EntryKind(
        "off",
        _fields({"part": Shape.PART}, {"bag": Shape.TEXT, **_PIECE, "counts": Shape.COUNTS}),
        "it came off and lies in that bag, with counts where they were counted",
    ),
    EntryKind(
        "on",
        _fields({"part": Shape.PART}, {**_PIECE, "bag": Shape.TEXT, "answers": Shape.TEXTS}),
        "it went on (from that bag), with the answers to its questions, in order",
    ),
    EntryKind(
        "tighten",
        _fields(
            {"part": Shape.PART, "set": Shape.COUNT, "pass": Shape.COUNT, "torque": Shape.NUMBER, "unit": Shape.UNIT},
            {**_PIECE, "order": Shape.COUNT_LIST},
        ),
        "fastener set number `set` (from 0) had pass `pass` (from 0); order: positions as they were done, from 1",
    ),
    EntryKind(
        "reading",
        _fields(
            {"check": Shape.CHECK, "values": Shape.VALUES, "unit": Shape.UNIT},
            {"instrument": Shape.TEXT, "typed": Shape.TEXT, "temperature": Shape.TEMPERATURE},
        ),
        "measured; typed: the text as typed; temperature of part and instrument, °C",
    ),
    EntryKind(
        "decide",
        _fields({"check": Shape.CHECK, "verdict": Shape.VERDICT}),
        "the instructor decides what was too close to call (or overrules)",
    ),
    EntryKind(
        "set",
        _fields({"setting": Shape.SETTING}, {"value": Shape.NUMBER, "unit": Shape.UNIT, "answer": Shape.TEXT}),
        "adjusted to",
    ),
    EntryKind("sign", _fields({"sign": Shape.SIGN}), "signed off; counts only as instructor"),
    EntryKind(
        "renew",
        _fields({"part": Shape.PART}, {"item": Shape.TEXT, "count": Shape.COUNT}),
        "a new one is here (item: one of the part's small things)",
    ),
    EntryKind(
        "lost",
        _fields({"part": Shape.PART}, {"item": Shape.TEXT, "count": Shape.COUNT, "bag": Shape.TEXT}),
        "missing",
    ),
    EntryKind(
        "found",
        _fields({"part": Shape.PART}, {"item": Shape.TEXT, "count": Shape.COUNT, "bag": Shape.TEXT}),
        "turned up",
    ),
    EntryKind(
        "count",
        _fields({}, {"bags": Shape.BAGS, "tools": Shape.COUNTS}),
        "the count at the end of a lesson",
    ),
    EntryKind("tool", _fields({"tool": Shape.TEXT, "way": Shape.WAY}), "borrowed (out) or brought back (in)"),
    EntryKind(
        "note",
        _fields({}, {"text": Shape.TEXT, "photo": Shape.TEXT, "wiring": Shape.TEXT, "part": Shape.PART}),
        "a remark, a picture, a wiring map",
    ),
    EntryKind("help", _fields({"state": Shape.HELP}), "hand up (asked), hand down (given)"),
    EntryKind(
        "undo",
        _fields({"entry": Shape.ENTRY}),
        "that entry was a mistake: it stays in the log, struck through; an undo can itself be undone",
    ),
    EntryKind(
        "aside",
        _fields({"entry": Shape.ENTRY, "flag": Shape.FLAG, "reason": Shape.TEXT}),
        "the instructor lets that flag of that entry stand; counts only as instructor",
    ),
    EntryKind(
        "aim",
        _fields({"parts": Shape.PARTS, "way": Shape.PARTS}),
        "only these parts are wanted, and what comes off for them, in order; empty lists: all of it after all",
    ),
    EntryKind("finish", (), "the job is said to be done"),
)
ENTRY_KINDS: Final[dict[str, EntryKind]] = {kind.name: kind for kind in _KINDS}

_FLAGS = (
    FlagKind(
        "out-of-turn",
        "it came off, or went on, though something in its way was still on",
        "the part where it can lawfully be, or its own `off` again",
        stops=True,
    ),
    FlagKind(
        "shut-in",
        "it went on, and a part that is off could go back before and cannot now, or stands in its `fit_after`",
        "taking off what shuts it in",
        stops=True,
    ),
    FlagKind(
        "short",
        "a count of a bag is less than what came off, or something is `lost`",
        "a right count of that bag, `found`, `renew`, or its `on`",
        stops=True,
    ),
    FlagKind(
        "over",
        "a count of a bag is more than what came off; at `finish`, a part is still off",
        "a right count of that bag, or its `on`",
        stops=True,
    ),
    FlagKind("wrong-way", "a question is answered wrongly or not at all", "`on` again with right answers", True, True),
    FlagKind(
        "wrong-place",
        "it went on out of another bag than the one its place lies in, or at another's place",
        "its `off` again",
        stops=True,
        closes_off=True,
    ),
    FlagKind("spent", "it went on with less new stock than its single-use items need", "its `off` again", True, True),
    FlagKind(
        "worn",
        "a part of its check went on, or the job was finished, with the verdict worn or too close to call",
        "`renew` of the part, better readings, or `decide` good",
        stops=True,
        closes_off=True,
    ),
    FlagKind(
        "loose",
        "a set with a torque has passes to do when it is closed in, or at `finish`",
        "the passes",
        stops=True,
        closes_off=True,
    ),
    FlagKind(
        "wrong-torque",
        "a pass is more than 10 % off its torque, after conversion",
        "that pass again",
        stops=True,
        closes_off=True,
    ),
    FlagKind(
        "wrong-order",
        "a pass whose `order` is given missed a fastener (it does not count), or was less even than its pattern allows",
        "that pass again",
        stops=False,
        closes_off=True,
    ),
    FlagKind(
        "unset",
        "a part of `before` went on, or the job was finished, and it was not set within range since it was disturbed",
        "`set` in range",
        stops=True,
        closes_off=True,
    ),
    FlagKind(
        "unsigned",
        "a part of `before` went on (strip: came off) without the instructor's sign",
        "the sign",
        stops=True,
        closes_off=True,
    ),
    FlagKind(
        "unrecorded",
        "it came off before what must be noted of it was noted",
        "such a note",
        stops=False,
    ),
    FlagKind(
        "odd-reading",
        "a reading cannot be right: far outside the limits or its neighbours, or taken with a part still on",
        "a reading again",
        stops=False,
    ),
    FlagKind(
        "likely-slip",
        "a reading is not plausible and one slip would explain it: digits turned round, a turn of the thimble; or it "
        "is of a place the check does not have. It counts all the same",
        "a reading of that spot again; the same again stands",
        stops=False,
    ),
    FlagKind(
        "clash",
        "an entry contradicts another: off again into another bag, a bag with two pieces, a part in a bag tightened",
        "`undo` of the wrong one",
        stops=False,
    ),
    FlagKind(
        "tool-out",
        "a tool that was lent out is missing at the count, or still out at `finish`",
        "its `in`, or a count that has it",
        stops=False,
    ),
)
FLAG_KINDS: Final[dict[str, FlagKind]] = {kind.name: kind for kind in _FLAGS}
