"""Who names a part, size or instrument; and the edits that take it out of the machine and out of everybody's lists."""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any, NamedTuple

from fingertight.anatomy.change.edits import AppendTo, Edit, RemoveEntry, RemoveKey, RemoveTable, do
from fingertight.anatomy.rules.said import by_id, tables, text, texts

_LISTS = {"part": ("behind", "fit_after"), "check": ("bare",), "setting": ("after", "before"), "sign": ("before",)}


class Names(NamedTuple):
    """One table that names another: its kind and id, under which key; goes: it has no sense without the other."""

    kind: str
    id: str
    key: str
    goes: bool


def names(said: Mapping[str, Any], kind: str, name: str) -> tuple[Names, ...]:
    """Who names the part (check, instrument) of this id? A sign-off goes with the last part that waited for it, a size
    with the part it is measured on, a gap with one of its two sizes.

    >>> names({"part": [{"id": "lid", "behind": ["nut"]}, {"id": "nut"}]}, "part", "nut")
    (Names(kind='part', id='lid', key='behind', goes=False),)
    """
    return tuple(_names(dict(said), kind, name))


def _names(said: dict[str, Any], kind: str, name: str) -> Iterator[Names]:
    for owner in ("part", "check", "setting", "sign"):
        for _, table in tables(said, owner):
            whose = text(table, "id") or ""
            if (owner, whose) == (kind, name):
                continue
            if kind == "part":
                yield from _of_a_part(owner, whose, table, name)
            elif kind == "instrument" and table.get("instrument") == name:
                yield Names(owner, whose, "instrument", False)
            elif kind == "check" and isinstance(table.get("gap"), dict) and name in table["gap"].values():
                yield Names(owner, whose, "gap", True)


def _of_a_part(owner: str, whose: str, table: dict[str, Any], name: str) -> Iterator[Names]:
    for key in _LISTS[owner]:
        listed = [one for _, one in texts(table, key)]
        if name in listed:
            yield Names(owner, whose, key, owner == "sign" and set(listed) == {name})
    if owner == "part" and any(isinstance(way, list) and name in way for way in table.get("ways", [])):
        yield Names(owner, whose, "ways", False)
    if owner == "check" and table.get("part") == name:
        yield Names(owner, whose, "part", True)


def taken_out(said: Mapping[str, Any], kind: str, name: str) -> tuple[Edit, ...]:
    """The edits that take a table out, and its name out of every list; what has no sense without it goes too.

    >>> taken_out({"part": [{"id": "lid", "behind": ["nut"]}, {"id": "nut"}]}, "part", "nut")
    (RemoveEntry(kind='part', id='lid', key='behind', at=0, inside=()), RemoveTable(kind='part', id='nut'))
    """
    left = deepcopy(dict(said))
    edits: list[Edit] = []
    _take_out(left, kind, name, edits)
    return tuple(edits)


def _take_out(left: dict[str, Any], kind: str, name: str, edits: list[Edit]) -> None:
    for one in names(left, kind, name):
        if one.goes:
            if one.id in by_id(left, one.kind):
                _take_out(left, one.kind, one.id, edits)
            continue
        for edit in _unnamed(by_id(left, one.kind)[one.id], one, name):
            do(left, edit)
            edits.append(edit)
    if name in by_id(left, kind):
        do(left, RemoveTable(kind, name))
        edits.append(RemoveTable(kind, name))


def _unnamed(table: dict[str, Any], one: Names, name: str) -> Iterator[Edit]:
    if one.key == "instrument":
        yield RemoveKey(one.kind, one.id, "instrument")
    elif one.key == "ways":
        ways = table["ways"]
        if any(way == [name] for way in ways):  # that way is free for ever: no way is needed
            yield RemoveKey(one.kind, one.id, "ways")
            return
        for place in [place for place, way in enumerate(ways) if name in way]:
            without = [other for other in ways[place] if other != name]
            yield from (
                AppendTo(one.kind, one.id, "ways", without, place),
                RemoveEntry(one.kind, one.id, "ways", place + 1),
            )
    else:
        yield RemoveEntry(one.kind, one.id, one.key, table[one.key].index(name))
