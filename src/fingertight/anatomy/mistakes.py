"""What can be wrong in a machine file: each mistake says where, what and how to mend it; the codes are a table."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

Path = tuple[str | int, ...]

CODES: dict[str, str] = {
    "not-utf8": "the file is not UTF-8 text",
    "too-big": "the file is too large, or says more than any machine has",
    "too-deep": "brackets or dotted keys are nested deeper than any machine needs",
    "syntax": "the text is not TOML",
    "single-brackets": "[part] where [[part]] is meant: one of several",
    "unknown-key": "a key the format does not have",
    "missing-key": "a key that must be there is not",
    "wrong-type": "a text where a number is wanted, and the like",
    "wrong-value": "the right type, but not a value this key may have",
    "same-key": "the same key or table stands twice",
    "same-id": "two parts, checks, instruments, settings or sign-offs of one id",
    "unknown-part": "a part is named that the file does not have",
    "unknown-check": "a check is named that the file does not have",
    "unknown-instrument": "an instrument is named that the file does not have",
    "unknown-rest": "a part rests in a way the machine does not have",
    "said-twice": "a list names the same thing twice",
    "own-way": "a part stands in its own way",
    "no-such-unit": "a unit that is not known",
    "wrong-unit": "a unit that measures another kind of thing",
    "no-such-thread": "a thread that is in no table",
    "no-such-head": "a head that is not known",
    "no-spanner": "no spanner follows from thread and head",
    "thread-and-kind": "a fastener set has both a thread and a kind, or neither",
    "count-positions": "as many fasteners as positions are wanted",
    "count-places": "count and places both say how many pieces there are",
    "order-positions": "the order is not each position once, or stands without pattern given",
    "same-position": "two fasteners stand at one position",
    "too-long": "a bolt is longer than what it clamps and its hole: it bottoms before it clamps",
    "too-short": "a bolt is too short to hold in its hole",
    "pass-share": "a pass is more than the whole torque or less than the pass before it, or the last is not the whole",
    "range-reversed": "the smaller number must stand first",
    "new-is-worn": "a new one would count as worn out",
    "out-of-reach": "an instrument cannot show the sizes it is to measure",
    "no-such-crank": "a rod no longer than the throw of its crank",
    "no-such-events": "valve events that no camshaft can make",
    "cam-teeth": "the camshaft of a four-stroke has not twice the teeth of its crank",
    "gap-and-readings": "a gap follows from two checks and has no readings of its own",
    "gap-of-gap": "a gap needs two different checks that are measured",
    "never-bare": "a part must be off that never comes off",
    "nothing-to-set": "a setting has neither a range nor a question, or both",
    "question-answers": "a question wants two answers or more and the right one",
    "answer-not-listed": "the right answer is not among the answers",
    "after-and-before": "a setting wants the same part on and not yet on",
    "too-many": "more mistakes than are worth listing",
}


class Mend(NamedTuple):
    """One thing that mends a mistake by itself, for a program to do.

    put: what stands at the path becomes this value; out: it is taken out; key: the key gets this name; brackets: the
    header on this row, from 0, gets two brackets. Lists are tuples.
    """

    path: Path
    what: Literal["put", "out", "key", "brackets"]
    value: Any = None


Mends = tuple[tuple[Mend, ...], ...]
"""The ways to mend one mistake; what stands in one way belongs together."""


def put(path: Path, value: Any) -> Mends:
    """One way to mend: this value.

    >>> put(("check", 0, "max"), 2.0)
    ((Mend(path=('check', 0, 'max'), what='put', value=2.0),),)
    """
    return ((Mend(path, "put", value),),)


def out(*paths: Path) -> Mends:
    """The ways to mend: one of these is taken out.

    >>> len(out(("part", 0, "count"), ("part", 0, "places")))
    2
    """
    return tuple((Mend(path, "out"),) for path in paths)


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing wrong in a machine file: where it stands, what it is and how to mend it (`fingertight check`).

    path and mends: for a program that shows it beside the field that caused it, or mends it.
    """

    line: int
    column: int
    where: str
    code: str
    text: str
    mend: str
    path: Path = field(default=(), compare=False, repr=False)
    mends: Mends = field(default=(), compare=False, repr=False)


class Wrong(NamedTuple):
    """A mistake by its path of keys; the reader turns the path into line and column."""

    path: Path
    code: str
    text: str
    mend: str
    mends: Mends = ()


def where(path: Path, said: Mapping[str, Any]) -> str:
    """How a person calls the table a path leads into.

    >>> where(("part", 0, "behind"), {"part": [{"id": "cover"}]}), where(("format",), {})
    ("part 'cover'", 'file')
    """
    if len(path) < 2 or not isinstance(path[1], int):
        return str(path[0]) if path[:1] in {("machine",), ("engine",)} else "file"
    kind, index = str(path[0]), path[1]
    tables = said.get(kind)
    table = tables[index] if isinstance(tables, list) and index < len(tables) else None
    name = table.get("id") if isinstance(table, dict) else None
    return f"{kind} '{name}'" if isinstance(name, str) and name else f"{kind} {index + 1}"
