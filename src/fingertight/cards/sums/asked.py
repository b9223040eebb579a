"""What a sum asks for, as data, and what was typed, as numbers in house units; a slip is a sentence with its field."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from fingertight.cards.sums.answer import SumCard
from fingertight.quantity import (
    UNITS,
    NotUnderstood,
    converted,
    in_house,
    one_of,
    plain,
    read_number,
    read_quantity,
    unit_named,
)

Kind = Literal["text", "size", "number", "whole", "choice", "unit", "tick", "lines"]


@dataclass(frozen=True)
class Field:
    """One thing a sum asks for. On the command line `--name`, or by its place where `first`; on a page a box.

    unit: what a size is in when none is typed, or a sign that may stand behind a number (%). above, least, most: the
    range, in that unit, 0 itself not above 0.
    lines: several lines of text; on the command line a file, or - for standard input.
    example: what a person might type. Without `must` it may be left empty, and is then `usual`.
    """

    name: str
    label: str
    kind: Kind = "text"
    about: str = ""
    example: str = ""
    usual: str = ""
    must: bool = False
    first: bool = False
    unit: str = ""
    above: float | None = None
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()


class Typed:
    """What was typed into the fields of a sum. Every method raises NotUnderstood with the field's label."""

    def __init__(self, fields: Sequence[Field], said: Mapping[str, str]) -> None:
        self._fields = {field.name: field for field in fields}
        self._said = said

    def text(self, name: str) -> str:
        """The text, without spaces around it; what is usual when nothing was typed."""
        field = self._fields[name]
        typed = self._said.get(name, "").strip() or field.usual
        if field.must and not typed:
            raise NotUnderstood(f"{field.label}: nothing was typed; write for example {field.example}.")
        return typed

    def has(self, name: str) -> bool:
        """Whether there is anything, typed or usual."""
        return bool(self._said.get(name, "").strip() or self._fields[name].usual)

    def tick(self, name: str) -> bool:
        """Whether it is ticked."""
        return self._said.get(name, "").strip().lower() in {"yes", "on", "true", "1"}

    def choice(self, name: str) -> str:
        """One of the choices, however it is capitalised; "" when it may be left empty and was."""
        field, typed = self._fields[name], self.text(name)
        found = next((one for one in field.choices if one.casefold() == " ".join(typed.split()).casefold()), None)
        if typed and found is None:
            raise NotUnderstood(f"{field.label}: there is no “{typed}” here; choose {one_of(field.choices)}.")
        return found or ""

    def unit(self, name: str) -> str:
        """One of the units to choose from, however it is spelt; "" when it may be left empty and was."""
        field, typed = self._fields[name], self.text(name)
        if not typed:
            return ""
        try:
            found = unit_named(typed).name
        except NotUnderstood:
            found = ""
        if found not in field.choices:
            raise NotUnderstood(f"{field.label}: there is no “{typed}” here; choose {one_of(field.choices)}.")
        return found

    def number(self, name: str) -> float | None:
        """A plain number, or None when it may be left empty and was."""
        field, typed = self._fields[name], self.text(name)
        if not typed:
            return None
        try:
            value = read_number(typed.removesuffix(field.unit))
        except NotUnderstood as slip:
            raise NotUnderstood(f"{field.label}: {slip}") from None
        return self._within(field, value, value, typed)

    def whole(self, name: str) -> int | None:
        """A whole number, or None when it may be left empty and was."""
        value = self.number(name)
        if value is not None and value != int(value):
            raise NotUnderstood(f"{self._fields[name].label}: “{self.text(name)}” is not a whole number.")
        return None if value is None else int(value)

    def size(self, name: str) -> float | None:
        """A size in the house unit of its kind, or None when it may be left empty and was."""
        read = self.as_typed(name)
        return None if read is None else in_house(*read)

    def as_typed(self, name: str) -> tuple[float, str] | None:
        """A size as it was typed: its number and the name of its unit; None when it may be left empty and was."""
        field, typed = self._fields[name], self.text(name)
        if not typed:
            return None
        try:
            chosen = self._said.get(f"{name}-unit", "").strip() or field.unit
            converted(1.0, chosen, field.unit)  # what is chosen beside the box may be of another kind too
            value, unit = read_quantity(typed, chosen)
        except NotUnderstood as slip:
            raise NotUnderstood(f"{field.label}: {slip}") from None
        self._within(field, value * UNITS[unit].in_house / unit_named(field.unit).in_house, value, typed)
        return value, unit

    def must(self, name: str) -> float:
        """A size in the house unit that has to be there."""
        value = self.size(name)
        if value is None:
            field = self._fields[name]
            raise NotUnderstood(f"{field.label}: nothing was typed; write for example {field.example}.")
        return value

    def _within(self, field: Field, value: float, returned: float, typed: str) -> float:
        unit = f" {field.unit}" if field.unit else ""
        wrong, doubt = "", "that is worked out here; is the unit right?"
        if not math.isfinite(value):
            wrong = "is no size"
        elif field.above is not None and value <= field.above:
            wrong = f"must be more than {plain(field.above)}{unit if field.above else ''}"
        elif field.least and value < field.least:
            wrong = f"is less than {plain(field.least)}{unit}, the least {doubt}"
        elif field.least is not None and value < field.least:
            wrong = f"must be {plain(field.least)}{unit} or more"
        elif field.most is not None and value > field.most:
            wrong = f"is more than {plain(field.most)}{unit}, the most {doubt}"
        if wrong:
            end = "" if wrong.endswith("?") else f"; write for example {field.example}." if field.example else "."
            raise NotUnderstood(f"{field.label}: “{typed}” {wrong}{end}")
        return returned


@dataclass(frozen=True)
class Sum:
    """A question that can be asked: its name on the command line and in the address, its fields, and its answer.

    card: the kinds of card it answers with. example: what stands after the command's name in its help. more: shown
    under the one line of `question`.
    """

    name: str
    title: str
    question: str
    fields: tuple[Field, ...]
    compute: Callable[[Typed], SumCard]
    card: Any
    example: str
    more: str = ""

    def ask(self, said: Mapping[str, str]) -> SumCard:
        """The answer to what was typed, texts by field name.

        Raises NotUnderstood with a sentence that says which field, what is wrong and how to mend it.
        """
        return self.compute(Typed(self.fields, said))


def units_for(unit: str) -> tuple[str, ...]:
    """The units a size may be typed in, the usual one first.

    >>> units_for("N·m")
    ('N·m', 'lb·ft', 'lb·in', 'kgf·m', 'kgf·cm')
    """
    measures = UNITS[unit].measures
    names = [one.name for one in UNITS.values() if one.measures == measures]
    return (unit, *(name for name in names if name != unit))
