"""One box of a form, as data: which key it fills, how a value is shown in it, and how what was typed is read."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from fingertight.anatomy.change.edits import Value
from fingertight.quantity import NotUnderstood, plain, read_number

Kind = Literal[
    "line", "lines", "commas", "number", "whole", "numbers", "wholes", "percents", "pair", "pairs", "choice", "tick",
    "ticks", "gap",
]  # fmt: skip
Typed = Mapping[str, Sequence[str]]
"""What a form sent: under each name of a box all that was typed or ticked there."""

LONGEST, MOST_LINES = 300, 60
ENDS = {"pair": ("from", "to"), "gap": ("outer", "inner")}
_WORDS = {"from": "from", "to": "to", "outer": "outer size", "inner": "inner size"}


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a table as a box of a form.

    label: what a teacher calls it, with its unit. about: one line more, where the label alone may be read wrongly.
    offers: whose names are to choose from (parts, instruments, checks, rests, heads, units), or "" for what the model
    lists; most: the largest number that makes sense; words: what a choice is called where its own word is no sentence.
    """

    key: str
    label: str
    kind: Kind = "line"
    about: str = ""
    offers: str = ""
    must: bool = False
    most: float | None = None
    words: Mapping[str, str] | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its inputs: one, or two for what has two ends.

        >>> Field("range", "Smallest and largest", "pair").names
        ('range-from', 'range-to')
        """
        return tuple(f"{self.key}-{end}" for end in ENDS.get(self.kind, ())) or (self.key,)

    @property
    def ends(self) -> tuple[str, ...]:
        """What each input is called besides the label; "" where there is one."""
        return tuple((self.words or _WORDS)[end] for end in ENDS.get(self.kind, ())) or ("",)


@dataclass(frozen=True, slots=True)
class Wrongly:
    """What was typed into a box and cannot be read: the key, and the sentence that stands beside it."""

    key: str
    sentence: str


def texts(field: Field, value: Any) -> tuple[tuple[str, ...], ...]:
    """What stands in the inputs of a box for this value; None stands for nothing said.

    >>> texts(Field("passes", "Rounds", "percents"), [0.4, 1.0]), texts(Field("new", "New", "pair"), [68, 68.015])
    ((('40 100',),), (('68',), ('68.015',)))
    """
    if field.kind == "tick":
        return (("yes",) if value else (),)
    if field.kind == "ticks":
        return (tuple(value or ()),)
    if field.kind == "gap":
        return tuple(((value or {}).get(end, ""),) for end in ENDS["gap"])
    if field.kind == "pair":
        return tuple((plain(one),) for one in value) if value else (("",), ("",))
    return ((_text(field.kind, value),),)


def _text(kind: Kind, value: Any) -> str:
    if value is None or value == []:
        return ""
    if kind in {"lines", "commas"}:
        return ("\n" if kind == "lines" else ", ").join(value)
    if kind in {"numbers", "wholes", "percents"}:
        return " ".join(plain(round(one * 100, 6) if kind == "percents" else one) for one in value)
    if kind == "pairs":
        return "\n".join(f"{plain(one)} {plain(other)}" for one, other in value)
    return plain(value) if isinstance(value, int | float) else str(value)


def sent(field: Field, typed: Typed) -> tuple[tuple[str, ...], ...]:
    """What was typed into the inputs of a box, as `texts` gives what is in the file; spaces do not count.

    >>> sent(Field("care", "Kept"), {"care": [" on a  cloth "]})
    (('on a cloth',),)
    """
    if field.kind in {"tick", "ticks"}:
        return (tuple(typed.get(field.key, ())),)
    return tuple((_even("".join(list(typed.get(name, ()))[-1:])),) for name in field.names)


def _even(text: str) -> str:
    lines = (" ".join(line.split()) for line in text.replace("\r\n", "\n").split("\n"))
    return "\n".join(line for line in lines if line)


def read_typed(field: Field, typed: Typed, before: Any = None, offered: Sequence[str] = ()) -> Value | None:
    """The value of a key by what was typed, or None for nothing; ticks keep the order they had before.

    >>> read_typed(Field("torque", "Torque", "number"), {"torque": ["10,5"]})
    10.5

    Raises NotUnderstood, with what is wrong and how to mend it.
    """
    said = sent(field, typed)
    if field.kind == "tick":
        return True if said[0] else None
    if field.kind == "ticks":
        known = [one for one in said[0] if one in offered]
        kept = [one for one in before or () if one in known]
        return [*kept, *(one for one in offered if one in known and one not in kept)] or None
    if field.kind in ENDS:
        return _two(field, [one[0] for one in said])
    text = said[0][0]
    return _one(field, text, offered) if text else None


def _two(field: Field, ends: Sequence[str]) -> Value | None:
    if not any(ends):
        return None
    if not all(ends):
        empty = _WORDS[ENDS[field.kind][0 if not ends[0] else 1]]
        raise NotUnderstood(f"“{empty}” is empty. Fill in both, or neither.")
    if field.kind == "gap":
        return dict(zip(ENDS["gap"], ends, strict=True))
    return [read_number(one) for one in ends]


def _one(field: Field, text: str, offered: Sequence[str]) -> Value | None:
    if field.kind == "choice":
        if text not in offered:
            raise NotUnderstood(f"There is no “{text[:60]}” here. Choose one of the list.")
        return int(text) if text.isdigit() and not field.offers else text
    if field.kind == "line":
        return _short(text)
    if field.kind in {"lines", "commas"}:
        pieces = [piece.strip() for piece in re.split("\n" if field.kind == "lines" else "[,\n]", text)]
        return [_short(piece) for piece in _few([piece for piece in pieces if piece])] or None
    if field.kind == "pairs":
        rows = [_numbers(line) for line in _few(text.split("\n"))]
        if any(len(row) != 2 for row in rows):
            raise NotUnderstood("Write two numbers on each line, for example 18 36.")
        return [[_whole(one) for one in row] for row in rows]
    if field.kind in {"number", "whole"}:
        number = read_number(text)
        if field.most is not None and number > field.most:
            raise NotUnderstood(f"{plain(number)} is more than {plain(field.most)}. Type {plain(field.most)} or less.")
        return number if field.kind == "number" else _whole(number)
    found = _numbers(text)
    if field.kind == "wholes":
        return [_whole(one) for one in found]
    return [round(one / 100, 8) for one in found] if field.kind == "percents" else list(found)


def _numbers(text: str) -> list[float]:
    return [read_number(one.strip(";,%")) for one in _few(re.split(r"[\s;]+", text.strip())) if one.strip(";,%")]


def _whole(number: float) -> int:
    if not number.is_integer() or abs(number) > 1e6:
        raise NotUnderstood(f"{plain(number)} is no whole number. Write for example 6.")
    return int(number)


def _short(text: str) -> str:
    if len(text) > LONGEST:
        raise NotUnderstood(f"That is {len(text)} letters long. Say it in {LONGEST} or less.")
    return text


def _few(pieces: Sequence[str]) -> Sequence[str]:
    if len(pieces) > MOST_LINES:
        raise NotUnderstood(f"That is more than {MOST_LINES}. Leave some out.")
    return pieces


def values(
    fields: Iterable[Field], before: Mapping[str, Any], typed: Typed, offered: Mapping[str, Sequence[str]]
) -> tuple[dict[str, Value | None], tuple[Wrongly, ...]]:
    """What a form changes: key by key the new value, None for what is no longer said; and what cannot be read.

    >>> fields = (Field("name", "Name"), Field("count", "How many", "whole"))
    >>> values(fields, {"name": "Fan"}, {"name": ["Fan"], "count": ["two"]}, {})[1][0].key
    'count'
    """
    changed: dict[str, Value | None] = {}
    wrong: list[Wrongly] = []
    for field in fields:
        old = before.get(field.key)
        if sent(field, typed) == _evened(texts(field, old)):
            continue
        try:
            new = read_typed(field, typed, old, offered.get(field.key, ()))
        except NotUnderstood as not_read:
            wrong.append(Wrongly(field.key, str(not_read)))
            continue
        if new is None and field.must:
            wrong.append(Wrongly(field.key, f"“{field.label}” is empty. Fill it in."))
        elif new != old:
            changed[field.key] = new
    return changed, tuple(wrong)


def _evened(shown: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(_even(one) for one in each) for each in shown)


@cache
def listed_by_the_model(shape: type[BaseModel], key: str) -> tuple[str, ...]:
    """The words a key may have, where the model lists them.

    >>> from fingertight.anatomy import model
    >>> listed_by_the_model(model.Sign, "stage"), listed_by_the_model(model.Part, "record")
    (('strip', 'rebuild'), ('photo', 'wiring'))
    """
    field = next((one for name, one in shape.model_fields.items() if (one.alias or name) == key), None)
    return tuple(str(one) for one in _literals(field.annotation)) if field else ()


def _literals(annotation: Any) -> tuple[Any, ...]:
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    return tuple(one for inner in get_args(annotation) for one in _literals(inner))


def usual(shape: type[BaseModel], key: str) -> Any:
    """What holds when a key is left out, where that is a word, a number or a truth; None where nothing does.

    >>> from fingertight.anatomy import model
    >>> usual(model.Check, "unit"), usual(model.Part, "count"), usual(model.Part, "care")
    ('mm', 1, None)
    """
    field = next((one for name, one in shape.model_fields.items() if (one.alias or name) == key), None)
    if field is None or field.is_required():
        return None
    return field.default if isinstance(field.default, str | int | float) and field.default != "" else None
