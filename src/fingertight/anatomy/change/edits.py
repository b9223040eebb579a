"""The small named edits of a machine file: what each does to the values, and which edit takes it back."""

import tomllib
from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

from fingertight.anatomy.change.fresh import KINDS
from fingertight.anatomy.mistakes import Path

Value = str | bool | int | float | list[Any] | dict[str, Any]


class CannotEdit(ValueError):
    """The text cannot be changed so; the message is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class SetKey:
    """Give a key of one table this value, whether it is there or not. The machine table has no id.

    `inside` leads to a table within that one: ("held_by", 0) to the first fastener set of a part.
    """

    kind: str
    id: str | None
    key: str
    value: Value = field(hash=False)
    inside: Path = ()


@dataclass(frozen=True, slots=True)
class RemoveKey:
    """Take a key out of one table, or of a table inside it."""

    kind: str
    id: str | None
    key: str
    inside: Path = ()


@dataclass(frozen=True, slots=True)
class AppendTo:
    """Add one entry to a list of one table, at the end or before entry `at`; the list is made where there is none."""

    kind: str
    id: str | None
    key: str
    value: Value = field(hash=False)
    at: int | None = None
    inside: Path = ()


@dataclass(frozen=True, slots=True)
class RemoveEntry:
    """Take entry `at` out of a list of one table; with its last entry the list goes."""

    kind: str
    id: str | None
    key: str
    at: int
    inside: Path = ()


@dataclass(frozen=True, slots=True)
class AddTable:
    """Add a part (or check, instrument, setting, sign-off) after the others of its kind, or before number `at`."""

    kind: str
    keys: Mapping[str, Value] = field(hash=False)
    at: int | None = None


@dataclass(frozen=True, slots=True)
class RemoveTable:
    """Take out a part (or check, instrument, setting, sign-off) with all it says."""

    kind: str
    id: str


Edit = SetKey | RemoveKey | AppendTo | RemoveEntry | AddTable | RemoveTable


def inverse(text: str, edit: Edit) -> Edit:
    """Which edit, done after this one, makes the file say again what `text` says?

    >>> inverse('[[part]]\\nid = "lid"\\nminutes = 6\\n', SetKey("part", "lid", "minutes", 7))
    SetKey(kind='part', id='lid', key='minutes', value=6, inside=())

    Raises CannotEdit where the text is not TOML, or has no such table.
    """
    return _inverse(loaded(text), edit)


def inverses(text: str, edits: Iterable[Edit]) -> tuple[Edit, ...]:
    """The edits that take all of these back, the last one first. Raises CannotEdit as `inverse` does.

    >>> inverses('[[part]]\\nid = "lid"\\n', [SetKey("part", "lid", "id", "cap"), SetKey("part", "cap", "count", 2)])[0]
    RemoveKey(kind='part', id='cap', key='count', inside=())
    """
    said, back = loaded(text), []
    for edit in edits:
        back.append(_inverse(said, edit))
        do(said, edit)
    return tuple(reversed(back))


def loaded(text: str) -> dict[str, Any]:
    """The values of a text as they stand. Raises CannotEdit where it is not TOML.

    >>> loaded("format = 1")
    {'format': 1}
    """
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except ValueError as error:
        raise CannotEdit(f"The file has mistakes of its own; mend them first. ({error})") from None


def path_of(said: Mapping[str, Any], edit: Edit) -> Path:
    """The path of the table an edit is about; for a new one, of its kind.

    >>> path_of({"part": [{"id": "fan"}, {"id": "lid"}]}, RemoveTable("part", "lid"))
    ('part', 1)

    Raises CannotEdit where there is none.
    """
    if isinstance(edit, AddTable):
        return (edit.kind,)
    tables, inside = said.get(edit.kind), () if isinstance(edit, RemoveTable) else edit.inside
    if isinstance(tables, dict) and edit.id is None:
        return (edit.kind, *inside)
    for index, table in enumerate(tables if isinstance(tables, list) else []):
        if isinstance(table, dict) and table.get("id") == edit.id:
            return (edit.kind, index, *inside)
    raise CannotEdit(f"The file has no {edit.kind} {_quoted(edit.id)}to change.")


def at(said: Any, path: Path) -> Any:
    """What stands at a path of the values, or of a document of tomlkit. Raises CannotEdit where nothing does.

    >>> at({"part": [{"id": "lid"}]}, ("part", 0, "id"))
    'lid'
    """
    for step in path:
        try:
            said = said[step]
        except (KeyError, IndexError, TypeError):
            raise CannotEdit(f"The file has no “{'.'.join(str(one) for one in path)}” to change.") from None
    return said


def do(said: Any, edit: Edit) -> None:
    """Do one edit on the values (or on a document of tomlkit), in place. Raises CannotEdit where it cannot be done.

    >>> said = {"part": [{"id": "lid", "tools": ["mallet"]}]}
    >>> do(said, AppendTo("part", "lid", "tools", "drift", at=0)); said["part"][0]["tools"]
    ['drift', 'mallet']
    """
    path = path_of(said, edit)
    if isinstance(edit, AddTable):
        _add(said, edit)
    elif isinstance(edit, RemoveTable):
        del said[edit.kind][int(path[1])]
        if not said[edit.kind]:
            del said[edit.kind]
    else:
        on_table(at(said, path), edit)


def on_table(table: Any, edit: SetKey | RemoveKey | AppendTo | RemoveEntry) -> None:
    """Do one edit on the table it is about, in place. Raises CannotEdit.

    >>> lid = {"id": "lid"}
    >>> on_table(lid, SetKey("part", "lid", "minutes", 2)); lid
    {'id': 'lid', 'minutes': 2}
    """
    whose = f"the {edit.kind} {_quoted(edit.id)}".strip()
    if isinstance(edit, SetKey):
        table[edit.key] = deepcopy(edit.value)
    elif edit.key not in table:
        if not isinstance(edit, AppendTo):
            raise CannotEdit(f"The {whose[4:]} has no “{edit.key}” to take out.")
        table[edit.key] = [deepcopy(edit.value)]
    elif isinstance(edit, RemoveKey):
        del table[edit.key]
    elif not isinstance(table[edit.key], list):
        raise CannotEdit(f"“{edit.key}” of {whose} is no list, nothing can be added.")
    elif isinstance(edit, AppendTo):
        place = len(table[edit.key]) if edit.at is None else min(edit.at, len(table[edit.key]))
        table[edit.key].insert(place, deepcopy(edit.value))
    elif not 0 <= edit.at < len(table[edit.key]):
        raise CannotEdit(f"“{edit.key}” of {whose} has no entry {edit.at + 1} to take out.")
    elif len(table[edit.key]) == 1:
        del table[edit.key]
    else:
        del table[edit.key][edit.at]


def _add(said: Any, edit: AddTable) -> None:
    if edit.kind not in KINDS:
        raise CannotEdit(f"There is no [[{edit.kind}]] in a machine file; write one of {', '.join(KINDS)}.")
    tables = said.setdefault(edit.kind, [])
    if any(isinstance(one, dict) and one.get("id") == edit.keys.get("id") for one in tables):
        raise CannotEdit(
            f"There is a {edit.kind} {_quoted(str(edit.keys.get('id')))}already; give this one another id."
        )
    tables.insert(len(tables) if edit.at is None else edit.at, deepcopy(dict(edit.keys)))


def _inverse(said: Mapping[str, Any], edit: Edit) -> Edit:
    path = path_of(said, edit)
    if isinstance(edit, AddTable):
        return RemoveTable(edit.kind, str(edit.keys["id"]))
    if isinstance(edit, RemoveTable):
        return AddTable(edit.kind, deepcopy(at(said, path)), int(path[1]))
    table = at(said, path)
    old = deepcopy(table.get(edit.key))
    if isinstance(edit, SetKey):
        name = str(edit.value) if edit.key == "id" and not edit.inside else edit.id
        if edit.key not in table:
            return RemoveKey(edit.kind, name, edit.key, edit.inside)
        return SetKey(edit.kind, name, edit.key, old, edit.inside)
    if isinstance(edit, RemoveKey):
        return SetKey(edit.kind, edit.id, edit.key, old, edit.inside)
    if isinstance(edit, RemoveEntry):
        return AppendTo(edit.kind, edit.id, edit.key, old[edit.at], edit.at, edit.inside)
    if old == []:
        return SetKey(edit.kind, edit.id, edit.key, [], edit.inside)
    end = len(old or [])
    return RemoveEntry(edit.kind, edit.id, edit.key, end if edit.at is None else min(edit.at, end), edit.inside)


def _quoted(name: str | None) -> str:
    return f"“{name}” " if name else ""
