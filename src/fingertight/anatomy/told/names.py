"""Ids of a machine file: which keys name what, a file with other ids, and what is known again under another id."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from fingertight.anatomy.model import Anatomy

Ids = Mapping[str, Mapping[str, str]]
"""For each kind of table, the new id under the old one."""

NAMES: dict[str, dict[str, str]] = {
    "part": {"behind": "part", "ways": "part", "fit_after": "part"},
    "check": {"part": "part", "bare": "part", "instrument": "instrument", "gap": "check"},
    "setting": {"after": "part", "before": "part", "instrument": "instrument"},
    "sign": {"before": "part"},
    "instrument": {},
}
"""Which keys of a table name which kind of table."""
FIELDS = {"instrument": "instruments", "part": "parts", "check": "checks", "setting": "settings", "sign": "signs"}
ENOUGH = 2
"""So many keys besides id and name make a table known again under another name."""


def with_ids(said: Mapping[str, Any], ids: Ids) -> dict[str, Any]:
    """The values of a machine file, each table under its new id, and named so wherever it is named.

    >>> with_ids({"part": [{"id": "nut"}, {"id": "lid", "behind": ["nut"]}]}, {"part": {"nut": "wing-nut"}})["part"]
    [{'id': 'wing-nut'}, {'id': 'lid', 'behind': ['wing-nut']}]
    """
    changed = dict(said)
    for kind, keys in NAMES.items():
        if kind in changed:
            changed[kind] = [_table(one, kind, keys, ids) for one in changed[kind]]
    return changed


def _table(one: Mapping[str, Any], kind: str, keys: Mapping[str, str], ids: Ids) -> dict[str, Any]:
    whole = dict(one) | {"id": ids.get(kind, {}).get(one["id"], one["id"])}
    for key, names in keys.items():
        if whole.get(key) is not None:
            whole[key] = _named(whole[key], ids.get(names, {}))
    return whole


def _named(value: Any, ids: Mapping[str, str]) -> Any:
    if isinstance(value, str):
        return ids.get(value, value)
    if isinstance(value, Mapping):
        return {key: _named(one, ids) for key, one in value.items()}
    return [_named(one, ids) for one in value]


def known_again(old: Anatomy, new: Anatomy) -> dict[str, dict[str, str]]:
    """Which tables stand under another id in the new file? For each kind, if any, the new id under the old one.

    They are one that is gone and one that is new, of one name for people or with all the rest alike.

    >>> def box(**lid): return Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [lid]})
    >>> known_again(box(id="lid"), box(id="cover", name="Lid"))
    {'part': {'lid': 'cover'}}
    """
    found: dict[str, dict[str, str]] = {}
    for kind, many in FIELDS.items():
        before, after = ({one.id: one for one in getattr(anatomy, many)} for anatomy in (old, new))
        gone = {name: one for name, one in before.items() if name not in after}
        come = {name: one for name, one in after.items() if name not in before}
        ids = _matched(gone, come)
        if ids:
            found[kind] = ids
    return found


def _matched(gone: Mapping[str, Any], come: Mapping[str, Any]) -> dict[str, str]:
    ids: dict[str, str] = {}
    for alike in (lambda one: one.title, _rest):
        left = {name: alike(one) for name, one in gone.items() if name not in ids}
        right = {alike(one): name for name, one in come.items() if name not in ids.values()}
        once, many = Counter(left.values()), Counter(map(alike, (come[name] for name in right.values())))
        for name, mark in left.items():
            if mark and mark in right and once[mark] == many[mark] == 1:
                ids[name] = right[mark]
    return ids


def _rest(one: BaseModel) -> str:
    """All that a table says besides id and name; "" where that is too little to be known by."""
    said = {key: value for key, value in one.model_dump(exclude_defaults=True).items() if key not in {"id", "name"}}
    return repr(sorted(said.items())) if len(said) >= ENOUGH else ""
