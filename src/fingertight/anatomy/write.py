"""An anatomy becomes text again: a file is changed with its comments and order kept, or written fresh from the model.

A change is checked: the new text says what the old one said with the edits, nothing else, or it is refused.
"""

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT

from fingertight.anatomy.model import Anatomy

Value = str | bool | int | float | list[Any] | dict[str, Any]
_KINDS = ("instrument", "part", "check", "setting", "sign")
_WIDE = 110


class CannotEdit(ValueError):
    """The text cannot be changed so; the message is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class SetKey:
    """Give a key of one table this value, whether it is there or not. The machine table has no id."""

    kind: str
    id: str | None
    key: str
    value: Value = field(hash=False)


@dataclass(frozen=True, slots=True)
class RemoveKey:
    """Take a key out of one table."""

    kind: str
    id: str | None
    key: str


@dataclass(frozen=True, slots=True)
class AppendTo:
    """Add one entry to a list of one table; the list is made where there is none."""

    kind: str
    id: str | None
    key: str
    value: Value = field(hash=False)


@dataclass(frozen=True, slots=True)
class AddTable:
    """Add a part (or check, instrument, setting, sign-off) after the others of its kind."""

    kind: str
    keys: Mapping[str, Value] = field(hash=False)


Edit = SetKey | RemoveKey | AppendTo | AddTable


def rewritten(text: str, edits: Iterable[Edit]) -> str:
    """The text of a machine file with these edits done, one after the other; comments and order stay the author's.

    >>> rewritten('[[part]] # the lid\\nid = "lid"\\n', [SetKey("part", "lid", "minutes", 6)])
    '[[part]] # the lid\\nid = "lid"\\nminutes = 6\\n'

    Raises CannotEdit when the text is not TOML, has no such table or key, or cannot be changed without loss.
    """
    plain = text.removeprefix("\ufeff")
    try:
        document: Any = tomlkit.parse(plain)
        wanted = tomllib.loads(plain)
    except ValueError as error:
        raise CannotEdit(f"The file has mistakes of its own; mend them first. ({error})") from None
    for edit in edits:
        try:
            _done(document, edit, True)
            _done(wanted, edit, False)
        except TOMLKitError as error:
            raise CannotEdit(f"The file cannot be changed so: {error}.") from None
    changed = tomlkit.dumps(document)
    try:
        says = tomllib.loads(changed)
    except ValueError:
        says = None
    if says != wanted:
        raise CannotEdit("The file is written in a way that this change would spoil; change it by hand.")
    return text[: len(text) - len(plain)] + changed


def _done(said: Any, edit: Edit, kept: bool) -> None:
    """One edit, on plain values or (`kept`) on a document that keeps its comments."""
    if isinstance(edit, AddTable):
        _add(said, edit, kept)
        return
    table = _found(said, edit.kind, edit.id)
    if isinstance(edit, SetKey):
        table[edit.key] = deepcopy(edit.value)
    elif edit.key not in table and isinstance(edit, RemoveKey):
        raise CannotEdit(f"The {edit.kind} {_quoted(edit.id)}has no “{edit.key}” to take out.")
    elif isinstance(edit, RemoveKey):
        del table[edit.key]
    elif edit.key not in table:
        table[edit.key] = [deepcopy(edit.value)]
    elif isinstance(table[edit.key], list):
        table[edit.key].append(_table(edit.value) if isinstance(table[edit.key], AoT) else deepcopy(edit.value))
    else:
        raise CannotEdit(f"“{edit.key}” of the {edit.kind} {_quoted(edit.id)}is no list, nothing can be added.")


def _add(said: Any, edit: AddTable, kept: bool) -> None:
    if edit.kind not in _KINDS:
        raise CannotEdit(f"There is no [[{edit.kind}]] in a machine file; write one of {', '.join(_KINDS)}.")
    keys = deepcopy(dict(edit.keys))
    if edit.kind not in said:
        said[edit.kind] = tomlkit.aot() if kept else []
    said[edit.kind].append(_table(keys) if isinstance(said[edit.kind], AoT) else keys)


def _table(value: Any) -> Any:
    """A table of its own, with a header, where tomlkit would write { … }."""
    table = tomlkit.table()
    for key, one in dict(value).items():
        table.add(key, one)
    # An empty line before the next header, as people write it.
    table.add(tomlkit.nl())
    return table


def _found(said: Any, kind: str, name: str | None) -> Any:
    tables = said.get(kind)
    if isinstance(tables, dict) and name is None:
        return tables
    for table in tables if isinstance(tables, list) else []:
        if isinstance(table, dict) and table.get("id") == name:
            return table
    raise CannotEdit(f"The file has no {kind} {_quoted(name)}to change.")


def _quoted(name: str | None) -> str:
    return f"“{name}” " if name else ""


def written(anatomy: Anatomy) -> str:
    """The anatomy as a fresh file, with what is at its default left out; read again, it is equal.

    >>> from fingertight.anatomy.model import Anatomy
    >>> print(written(Anatomy.model_validate({"format": 1, "machine": {"name": "Vice"}, "part": [{"id": "jaw"}]})))
    format = 1
    <BLANKLINE>
    [machine]
    name = "Vice"
    <BLANKLINE>
    [[part]]
    id = "jaw"
    <BLANKLINE>
    """
    said = anatomy.model_dump(by_alias=True, exclude_defaults=True)
    lines = [f"format = {anatomy.format}", "", "[machine]", *_pairs(said["machine"])]
    if "engine" in said:
        lines += ["", "[engine]", *_pairs(said["engine"])]
    for kind in _KINDS:
        for table in said.get(kind, ()):
            fasteners = table.pop("held_by", ()) if kind == "part" else ()
            lines += ["", f"[[{kind}]]", *_pairs(table)]
            for one in fasteners:
                lines += ["", "  [[part.held_by]]", *(f"  {line}" for line in _pairs(one))]
    return "\n".join(lines) + "\n"


def _pairs(table: Mapping[str, Any]) -> Iterator[str]:
    """The lines of a table; a list that is too wide for one gets a line an entry."""
    for key, value in table.items():
        line = f"{key} = {_toml(value)}"
        if len(line) > _WIDE and isinstance(value, list | tuple):
            line = f"{key} = [\n" + "".join(f"    {_toml(one)},\n" for one in value) + "]"
        yield from line.split("\n")


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        # A JSON text is a TOML text, but for the one control character that JSON lets stand.
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{key} = {_toml(one)}' for key, one in value.items())} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(_toml(one) for one in value)}]"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return repr(value)
