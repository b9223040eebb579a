"""What a form says of one table becomes the few edits of the text that are needed; all else stays as it is written."""

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from typing import Any, TypeGuard

from fingertight.anatomy.change.edits import AppendTo, Edit, RemoveEntry, RemoveKey, SetKey, Value
from fingertight.anatomy.mistakes import Path

_LONGEST_ID = 60


def edits_of(
    kind: str, name: str | None, before: Mapping[str, Any], changed: Mapping[str, Value | None], inside: Path = ()
) -> tuple[Edit, ...]:
    """Which edits make a table that says `before` say what was changed, key by key? None stands for no longer said.

    A list is changed entry by entry, so that remarks between its entries stay.

    >>> edits_of("part", "fan", {"behind": ["lid", "nut"]}, {"behind": ["nut", "guard"], "minutes": 2.0})[:2]
    (AppendTo(kind='part', id='fan', key='behind', value='guard', at=2, inside=()), \
RemoveEntry(kind='part', id='fan', key='behind', at=0, inside=()))
    """
    found: list[Edit] = []
    for key, value in changed.items():
        old = before.get(key)
        if value is None:
            found += [RemoveKey(kind, name, key, inside)] if key in before else []
        elif old == value:
            continue
        elif _is_texts(old) and _is_texts(value) and (steps := _steps(old, value)) is not None:
            for place, entry in steps:
                gone = RemoveEntry(kind, name, key, place, inside)
                found.append(gone if entry is None else AppendTo(kind, name, key, entry, place, inside))
        else:
            found.append(SetKey(kind, name, key, value, inside))
    return tuple(found)


def _is_texts(listed: object) -> TypeGuard[list[str]]:
    return isinstance(listed, list) and all(isinstance(one, str) for one in listed)


def _steps(old: Sequence[str], new: Sequence[str]) -> Iterator[tuple[int, str | None]] | None:
    """How one list becomes the other, entry by entry: at which place what comes in, or (None) what is there goes.

    From the back, so that the places before are still where they were. None where the two have nothing in common.
    """
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    if not any(step[0] == "equal" for step in steps):
        return None
    return (one for step in reversed(steps) if step[0] != "equal" for one in _step(new, *step[1:]))


def _step(new: Sequence[str], start: int, end: int, first: int, last: int) -> Iterator[tuple[int, str | None]]:
    yield from ((place, None) for place in range(end - 1, start - 1, -1))
    yield from ((start + place - first, new[place]) for place in range(first, last))


def free_id(title: str, kind: str, taken: Collection[str]) -> str:
    """A short name for files from a name for people, that no other table of the kind has.

    >>> free_id("Zündkerze, lang", "part", ()), free_id("Fan!", "part", {"fan"}), free_id("泵", "part", ())
    ('zundkerze-lang', 'fan-2', 'part')
    """
    plain = unicodedata.normalize("NFKD", title.lower()).encode("ascii", "ignore").decode()
    base = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_LONGEST_ID].strip("-") or kind
    number, found = 1, base
    while found in taken:
        number += 1
        found = f"{base}-{number}"
    return found
