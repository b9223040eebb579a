"""What a form is about: a part, an entry of one of its lists, another table of the machine, or one that is to be."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from fingertight.anatomy.change.edits import (
    AddTable,
    AppendTo,
    Edit,
    RemoveEntry,
    Value,
)
from fingertight.anatomy.change.table import edits_of, free_id
from fingertight.anatomy.mistakes import Path
from fingertight.anatomy.model import title_of
from fingertight.anatomy.rules.said import by_id, ids
from fingertight.cards.workshop.edit.fields import Wrongly, usual
from fingertight.cards.workshop.edit.sheets import (
    ALONE,
    IN_A_PART,
    MORE,
    OF_A_MACHINE,
    PART,
    Sheet,
)


class Place(NamedTuple):
    """Where in a machine file a form belongs. id: None for the machine itself and for what is to be added; key and
    entry: which list of a part, and which of its entries, None for one to be added."""

    sheet: Sheet
    kind: str
    id: str | None = None
    key: str = ""
    entry: int | None = None

    @property
    def is_new(self) -> bool:
        """Whether it is to be added."""
        return (self.entry is None) if self.key else self.id is None and self.kind not in ALONE


def part_place(said: Mapping[str, Any], part: str, *, more: bool = False) -> Place | None:
    """The form of a part, or (more) the rest of it; None where there is no such part.

    >>> part_place({"part": [{"id": "lid"}]}, "lid").sheet.one, part_place({}, "lid")
    ('part', None)
    """
    return Place(MORE if more else PART, "part", part) if part in ids(dict(said), "part") else None


def entry_place(said: Mapping[str, Any], part: str, listed: str, entry: str) -> Place | None:
    """The form of one entry of a list of a part, by its number from 1, or of a new one ("add").

    >>> entry_place({"part": [{"id": "lid", "ways": [["nut"]]}]}, "lid", "ways", "1").entry
    0
    """
    table = by_id(dict(said), "part").get(part)
    if table is None or listed not in IN_A_PART:
        return None
    key, sheet = IN_A_PART[listed]
    if entry == "add":
        return Place(sheet, "part", part, key)
    number = int(entry) if entry.isascii() and entry.isdigit() and len(entry) < 6 else 0
    return Place(sheet, "part", part, key, number - 1) if 1 <= number <= len(table.get(key, [])) else None


def table_place(said: Mapping[str, Any], kind: str, name: str) -> Place | None:
    """The form of a size, setting, sign-off or instrument, or of the machine or the engine as a whole.

    >>> table_place({"check": [{"id": "bore"}]}, "check", "bore").sheet.one
    'size'
    """
    if kind in ALONE:
        return Place(ALONE[kind], kind) if name == kind and kind in said else None
    return Place(OF_A_MACHINE[kind], kind, name) if kind in OF_A_MACHINE and name in ids(dict(said), kind) else None


def new_place(kind: str) -> Place | None:
    """The form of a part, size, setting, sign-off or instrument that is to be added.

    >>> new_place("sign").is_new, new_place("bolt")
    (True, None)
    """
    sheet = PART if kind == "part" else OF_A_MACHINE.get(kind)
    return Place(sheet, kind) if sheet else None


def said_at(said: Mapping[str, Any], place: Place) -> dict[str, Any]:
    """What the file says there; nothing of what is to be added.

    >>> said_at({"part": [{"id": "lid", "ways": [["nut"]]}]}, Place(IN_A_PART["ways"][1], "part", "lid", "ways", 0))
    {'way': ['nut']}
    """
    if place.is_new:
        return {}
    if place.kind in ALONE:
        return dict(said[place.kind])
    table = by_id(dict(said), place.kind)[str(place.id)]
    if not place.key or place.entry is None:
        return dict(table)
    entry = table[place.key][place.entry]
    return {"way": entry} if place.key == "ways" else dict(entry)


def shown_at(said: Mapping[str, Any], place: Place) -> dict[str, Any]:
    """What a form shows: what the file says, a name made from the id where there is none, and the usual choices.

    >>> shown_at({"instrument": [{"id": "rule"}]}, table_place({"instrument": [{"id": "rule"}]}, "instrument", "rule"))
    {'unit': 'mm', 'material': 'steel', 'name': 'Rule', 'id': 'rule'}
    """
    choices = {field.key: usual(place.sheet.shape, field.key) for field in place.sheet.fields if field.kind == "choice"}
    named = {"name": title_of(place.id)} if place.id and not place.key else {}
    return {**{key: one for key, one in choices.items() if one is not None}, **named, **said_at(said, place)}


def path_at(said: Mapping[str, Any], place: Place) -> Path:
    """The path of what the form is about, in the text as it will be.

    >>> path_at({"sign": []}, new_place("sign"))
    ('sign', 0)
    """
    if place.kind in ALONE:
        return (place.kind,)
    listed = ids(dict(said), place.kind)
    if place.id is None:
        return (place.kind, len(listed))
    table: Path = (place.kind, listed.index(place.id))
    if not place.key:
        return table
    there = len(by_id(dict(said), place.kind)[place.id].get(place.key, []))
    return (*table, place.key, there if place.entry is None else place.entry)


def edits_at(said: Mapping[str, Any], place: Place, changed: Mapping[str, Value | None]) -> tuple[Edit, ...]:
    """The edits that make the file say what the form changed.

    >>> edits_at({"part": [{"id": "lid"}]}, Place(PART, "part"), {"name": "Lid!", "stays": True})
    (AddTable(kind='part', keys={'id': 'lid-2', 'name': 'Lid!', 'stays': True}, at=None),)
    """
    kept = {key: value for key, value in changed.items() if value is not None}
    if place.id is None and place.is_new:
        name = free_id(str(kept.get("name", "")), place.kind, ids(dict(said), place.kind))
        return (AddTable(place.kind, {"id": name, **kept}),)
    if place.is_new:
        entry: Value = kept["way"] if place.key == "ways" else dict(kept)
        return (AppendTo(place.kind, place.id, place.key, entry),)
    if place.key == "ways" and place.entry is not None:
        if "way" not in kept:
            return ()
        return (
            AppendTo(place.kind, place.id, "ways", kept["way"], place.entry),
            RemoveEntry(place.kind, place.id, "ways", place.entry + 1),
        )
    inside: Path = () if place.entry is None else (place.key, place.entry)
    return edits_of(place.kind, place.id, said_at(said, place), changed, inside)


def entry_out(place: Place) -> tuple[Edit, ...]:
    """The edit that takes an entry of a list of a part out.

    >>> entry_out(Place(PART, "part", "lid", "held_by", 1))
    (RemoveEntry(kind='part', id='lid', key='held_by', at=1, inside=()),)
    """
    return (RemoveEntry(place.kind, place.id, place.key, place.entry),) if place.entry is not None else ()


def left_open(said: Mapping[str, Any], place: Place, changed: Mapping[str, Value | None]) -> tuple[Wrongly, ...]:
    """What a new one still wants: what must be filled in, and a name that no other has.

    >>> left_open({"part": [{"id": "lid"}]}, Place(PART, "part"), {"name": "Lid"})[0].sentence
    'There is a part called Lid already. Give this one another name, for example Lid, left.'
    """
    if not place.is_new:
        return ()
    wrong = [
        Wrongly(field.key, f"“{field.label}” is empty. Fill it in.")
        for field in place.sheet.fields
        if field.must and changed.get(field.key) is None
    ]
    name = changed.get("name")
    if place.id is None and name in {_title(one) for one in by_id(dict(said), place.kind).values()}:
        mend = f"Give this one another name, for example {name}, left."
        wrong.append(Wrongly("name", f"There is a {place.sheet.one} called {name} already. {mend}"))
    return tuple(wrong)


def _title(table: Mapping[str, Any]) -> str:
    return title_of(str(table["id"]), str(table.get("name", "")))
