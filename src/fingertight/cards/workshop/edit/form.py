"""A form as it is shown: its groups of boxes with what the file says, or with what was typed and not taken."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.cards.workshop.edit.attempt import Trouble
from fingertight.cards.workshop.edit.fields import Field, Typed, listed_by_the_model, texts, usual
from fingertight.cards.workshop.edit.sheets import Sheet
from fingertight.quantity import UNITS, plain
from fingertight.tighten.spanners.heads import HEADS

Offered = Mapping[str, Sequence[tuple[str, str]]]
"""What can be chosen, by key: the word in the file, and what a person calls it."""

_MODES = {"number": "decimal", "pair": "decimal", "whole": "numeric"}
_MANY = 9
_LONG = {"name", "care", "fit", "how", "of", "note", "about", "source", "torque_source", "question", "tools", "spare"}
_LONGEST = 60


@dataclass(frozen=True)
class Choice(Card):
    """One thing to choose or to tick."""

    value: str
    label: str
    is_chosen: bool


@dataclass(frozen=True)
class Input(Card):
    """One input of a box: its name, what it is called besides the label ("" where it is the only one), its text."""

    name: str
    end: str
    text: str


@dataclass(frozen=True)
class Box(Card):
    """One key: how it is filled in, what it says, and what is wrong with it. mode: which keys a tablet shows."""

    key: str
    kind: str
    label: str
    about: str
    mode: str
    must: bool
    inputs: tuple[Input, ...]
    is_wide: bool
    choices: tuple[Choice, ...]
    troubles: tuple[Trouble, ...]


@dataclass(frozen=True)
class Boxes(Card):
    """A group of boxes; open where it is the first, or something in it is wrong. says: what it holds, in short."""

    title: str
    says: str
    is_open: bool
    boxes: tuple[Box, ...]


def offered(sheet: Sheet, anatomy: Anatomy, own: str = "") -> Offered:
    """What can be chosen in a form of this machine; nothing (own) is offered to itself."""
    parts = [(one.id, one.title) for one in anatomy.parts if one.id != own]
    whose: dict[str, list[tuple[str, str]]] = {
        "parts": parts,
        "instruments": [(one.id, one.title) for one in anatomy.instruments],
        "checks": [(one.id, one.title) for one in anatomy.checks if one.gap is None and one.id != own],
        "rests": [*((rest, rest) for rest in anatomy.machine.rests), ("any", "any way")],
        "heads": [(head, head) for head in HEADS],
        "units": [(unit, unit) for unit in UNITS],
    }
    return {field.key: whose[field.offers] if field.offers else _of_the_model(sheet, field) for field in sheet.fields}


def _of_the_model(sheet: Sheet, field: Field) -> list[tuple[str, str]]:
    if field.kind not in {"choice", "ticks"}:
        return []
    return [(word, (field.words or {}).get(word, word)) for word in listed_by_the_model(sheet.shape, field.key)]


def words_of(choices: Offered) -> dict[str, tuple[str, ...]]:
    """The same without what people call them.

    >>> words_of({"stage": [("strip", "when it is stripped")]})
    {'stage': ('strip',)}
    """
    return {key: tuple(word for word, _ in listed) for key, listed in choices.items()}


def groups_of(
    sheet: Sheet, said: Mapping[str, Any], choices: Offered, typed: Typed | None, troubles: Sequence[Trouble]
) -> tuple[Boxes, ...]:
    """The boxes of a form, filled in by the file (said), or by what was typed."""
    found = []
    for number, group in enumerate(sheet.groups):
        boxes = tuple(
            _box(sheet, field, said, choices[field.key], typed=typed, troubles=troubles) for field in group.fields
        )
        wrong = any(box.troubles for box in boxes)
        says = "" if number == 0 else _in_short(group.fields, said, choices)
        found.append(Boxes(group.title, says, number == 0 or wrong, boxes))
    return tuple(found)


def _box(
    sheet: Sheet,
    field: Field,
    said: Mapping[str, Any],
    choices: Sequence[tuple[str, str]],
    *,
    typed: Typed | None,
    troubles: Sequence[Trouble],
) -> Box:
    shown = texts(field, said.get(field.key)) if typed is None else _typed(field, typed)
    inputs = tuple(
        Input(name, end, one[0] if one else "") for name, end, one in zip(field.names, field.ends, shown, strict=True)
    )
    ticked = {one for each in shown for one in each}
    wide = list(choices)
    if field.kind in {"choice", "gap"}:
        wide += [(one, one) for one in sorted(ticked) if one and one not in dict(choices)]
    if field.kind == "ticks" and len(wide) > _MANY:
        wide.sort(key=lambda one: one[0] not in ticked)
    return Box(
        key=field.key,
        kind=field.kind,
        label=field.label,
        about=_about(sheet, field, said),
        mode=_MODES.get(field.kind, ""),
        must=field.must,
        inputs=inputs,
        is_wide=field.kind in {"lines", "pairs"} or field.key in _LONG,
        choices=tuple(Choice(word, label, word in ticked) for word, label in wide),
        troubles=tuple(one for one in troubles if one.key == field.key),
    )


def _typed(field: Field, typed: Typed) -> tuple[tuple[str, ...], ...]:
    """As it was typed, to the letter."""
    if field.kind in {"tick", "ticks"}:
        return (tuple(typed.get(field.key, ())),)
    return tuple(("".join(list(typed.get(name, ()))[-1:]),) for name in field.names)


def _about(sheet: Sheet, field: Field, said: Mapping[str, Any]) -> str:
    """What else to know of a box; what holds when it is left empty."""
    drawn = said.get("at")
    if field.key == "count" and sheet.one == "set of fasteners" and isinstance(drawn, list) and drawn:
        return f"their places are drawn: {len(drawn)}, so there are {len(drawn)}"
    if field.kind in {"number", "whole"} and (default := usual(sheet.shape, field.key)):
        empty = f"{plain(default)} where nothing is typed"
        return f"{field.about}; {empty}" if field.about else empty
    return field.about


def _in_short(fields: Sequence[Field], said: Mapping[str, Any], choices: Offered) -> str:
    """What a closed group holds, so that nobody has to open it to see that."""
    found = []
    for field in fields:
        if field.key not in said or field.kind == "tick":
            found += [field.label] if said.get(field.key) else []
            continue
        called = dict(choices[field.key])
        shown = [called.get(one, one) for each in texts(field, said[field.key]) for one in each]
        said_so = (" to " if field.kind == "pair" else ", ").join(shown).replace("\n", ", ")
        found.append(f"{field.label}: {said_so}" if field.kind == "choice" else said_so)
    text = " · ".join(found) or "empty"
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
