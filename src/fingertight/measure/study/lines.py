"""How a line of a table is parted into its fields, and what the words of a header mean."""

import re
from dataclasses import dataclass
from typing import Literal

from fingertight.quantity import NotUnderstood, unit_named

Line = tuple[int, list[str]]
"""Its number, counted from 1, and its fields."""

Column = Literal["part", "person", "trial", "reading"]

INSTRUMENT = frozenset({"instrument", "gauge", "gage", "tool"})
PERSON = frozenset({"person", "people", "name", "who", "hands", "student", "operator", "appraiser"}) | INSTRUMENT
PART = frozenset({"part", "parts", "piece", "journal", "sample"})
TRIAL = frozenset({"trial", "repeat", "round", "time", "trials"})
_READING = re.compile(r"(?:readings?|sizes?|values?|measure(?:d|ments?)?|r)?[ _-]?[0-9]*\Z|…|\.\.\.")
_NUMERIC = re.compile(r"[+\-−]?[.,]?[0-9]")
_POINTED = re.compile(r"[0-9]\.[0-9]|(?<![0-9A-Za-z])\.[0-9]")
_COMMAS = re.compile(r"[+\-−]?[0-9]+,[0-9]+\Z")

AMBIGUOUS = (
    "commas stand between the fields and may stand within the numbers too; put ; between the fields, or write numbers "
    "with a point."
)


@dataclass(frozen=True, slots=True)
class Header:
    """What stands in each column; rest_are_readings: a line may hold more readings than there are columns."""

    columns: tuple[Column, ...]
    instruments: bool
    rest_are_readings: bool


def is_numeric(field: str) -> bool:
    """Whether a field begins as a number does.

    >>> is_numeric("-0,56"), is_numeric("68.o1"), is_numeric("Ann")
    (True, True, False)
    """
    return _NUMERIC.match(field) is not None


def parted(text: str) -> list[Line]:
    """The lines that say something, each with its fields; what separates them is read from the text itself.

    >>> parted("3; Ann; 68,02\\n# a note\\n3; Ben; 68,03")
    [(1, ['3', 'Ann', '68,02']), (3, ['3', 'Ben', '68,03'])]
    >>> parted("3 Ann 68.02 68.03 mm")
    [(1, ['3', 'Ann', '68.02', '68.03 mm'])]

    Raises NotUnderstood where a comma could be either.
    """
    lines = [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1)]
    lines = [(number, line) for number, line in lines if line and not line.startswith("#")]
    texts = [line for _, line in lines]
    if not lines:
        return []
    mark = next((mark for mark in ";\t" if any(mark in line for line in texts)), "")
    if not mark and any("," in line for line in texts):
        pointed = any(map(_POINTED.search, texts))
        header = header_of([_bare(field) for field in texts[0].split(",")])
        if pointed or (header and not header.rest_are_readings):
            mark = ","
        elif header or not all(len(line.split()) > 1 for line in texts):
            raise NotUnderstood(f"Readings, line {lines[0][0]}: {AMBIGUOUS}")
    by_header = header_of([_bare(field) for field in texts[0].split(mark or None)]) is not None
    return [(number, _fields(line, mark, whole=by_header)) for number, line in lines]


def header_of(fields: list[str]) -> Header | None:
    """What the columns are, if these fields are a header: one of its words says who read. None where they are none.

    >>> header_of(["person", "trial", "part", "reading"]).columns
    ('person', 'trial', 'part', 'reading')

    Raises NotUnderstood for a column that means nothing here.
    """
    words = [" ".join(field.casefold().split()) for field in fields]
    if not PERSON & set(words) or any(re.search(r"[0-9][.,][0-9]", word) for word in words):
        return None
    columns: list[Column] = []
    for place, word in enumerate(words):
        kinds: tuple[tuple[Column, bool], ...] = (
            ("person", word in PERSON),
            ("part", word in PART),
            ("trial", word in TRIAL),
            ("reading", _READING.match(word) is not None),
        )
        kind = next((kind for kind, fits in kinds if fits), None)
        if kind is None or (kind in ("person", "part") and kind in columns):
            why = "twice" if kind else "not known here"
            raise NotUnderstood(
                f"Readings, header: the column “{fields[place]}” is {why}; call the columns part, person, trial, "
                "reading."
            )
        columns.append(kind)
    if "reading" not in columns:
        raise NotUnderstood("Readings, header: no column is called reading; write for example part,person,reading.")
    return Header(tuple(columns), bool(INSTRUMENT & set(words)), words[-1] in {"readings", "…", "..."})


def _fields(line: str, mark: str, *, whole: bool) -> list[str]:
    """The fields of one line. whole: a field with spaces is one, where a header says how many there are."""
    if not mark or mark not in line:
        pieces = [piece for token in line.split() for piece in _without_comma(token)]
    else:
        pieces = [_bare(piece) for piece in line.split(mark)]
        if not whole:
            pieces = [part for piece in pieces for part in _apart(piece)]
    joined: list[str] = []
    for piece in pieces:
        if (
            len(joined) > 1
            and is_numeric(joined[-1])
            and " " not in joined[-1]
            and not is_numeric(piece)
            and _is_unit(piece)
        ):
            joined[-1] = f"{joined[-1]} {piece}"
        else:
            joined.append(piece)
    return joined


def _without_comma(token: str) -> list[str]:
    """A token without the comma behind it; one that holds several things apart."""
    bare = token.rstrip(",")
    return [bare] if _COMMAS.match(bare) or "," not in bare else [piece for piece in bare.split(",") if piece]


def _apart(piece: str) -> list[str]:
    """A piece with spaces and a number in it is several fields; a name of two words is one."""
    tokens = piece.split()
    return tokens if len(tokens) > 1 and any(map(is_numeric, tokens)) else [piece]


def _is_unit(word: str) -> bool:
    """Whether a word behind a number is its unit: short, so that no name is taken for one."""
    if len(word) < 2 and word not in {'"', "°"}:
        return False
    try:
        unit_named(word)
    except NotUnderstood:
        return False
    return True


def _bare(field: str) -> str:
    return field.strip().strip('"').strip()
