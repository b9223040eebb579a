"""What changed from one anatomy to the next, in sentences a teacher reads; every key of the model is told."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from fingertight.anatomy.model import Anatomy

TOLD_AS = {
    "behind": "must come off before it",
    "fit_after": "must be on before it goes on",
    "cautions": "stands among its cautions",
    "tools": "is among its tools",
}
KINDS = {"parts": "part", "checks": "size", "settings": "setting", "signs": "sign-off", "instruments": "instrument"}
LONGEST = 60


def difference(old: Anatomy, new: Anatomy) -> tuple[str, ...]:
    """What does the new file say that the old one did not, and the other way round? Empty where they are equal.

    >>> def box(**lid): return Anatomy.model_validate({"format": 1, "machine": {"name": "Box"},
    ...     "part": [{"id": "nut"}, {"id": "lid", **lid}]})
    >>> difference(box(), box(behind=["nut"], minutes=2))
    ('Lid: Nut must come off before it now.', 'Lid: minutes 2.0, was not said.')
    """
    titles = {part.id: part.title for one in (old, new) for part in one.parts}
    said = [*_keys("The machine", _said(old.machine), _said(new.machine), titles)]
    engines = [_said(one.engine) for one in (old, new)]
    said += _keys("The engine", engines[0], engines[1], titles)
    for kind, word in KINDS.items():
        before, after = ({one.id: one for one in getattr(anatomy, kind)} for anatomy in (old, new))
        said += [f"{before[name].title}: this {word} is gone." for name in before if name not in after]
        said += [f"{after[name].title}: a new {word}." for name in after if name not in before]
        for name in after:
            if name in before:
                whose = after[name].title
                said += _keys(whose, _said(before[name]), _said(after[name]), titles)
        both = [name for name in before if name in after]
        if both != [name for name in after if name in before]:
            said.append(f"The {word}s stand in another order.")
    return tuple(said)


def _said(table: BaseModel | None) -> dict[str, Any]:
    """What a table says, key by key."""
    return {key: getattr(table, key) for key in type(table).model_fields} if table is not None else {}


def _keys(whose: str, old: Mapping[str, Any], new: Mapping[str, Any], titles: Mapping[str, str]) -> Iterator[str]:
    for key in dict.fromkeys((*old, *new)):
        before, after = old.get(key), new.get(key)
        if before == after:
            continue
        if key in TOLD_AS and _plain(before) and _plain(after):
            yield from _listed(whose, key, before or (), after or (), titles)
        else:
            yield f"{whose}: {key.strip('_').replace('_', ' ')} {_value(after)}, was {_value(before)}."


def _listed(
    whose: str, key: str, before: Sequence[str], after: Sequence[str], titles: Mapping[str, str]
) -> Iterator[str]:
    for one in after:
        if one not in before:
            yield f"{whose}: {titles.get(one, one)} {TOLD_AS[key]} now."
    for one in before:
        if one not in after:
            yield f"{whose}: {titles.get(one, one)} {TOLD_AS[key]} no more."
    if sorted(before) == sorted(after):
        yield f"{whose}: {key.replace('_', ' ')} in another order."


def _plain(value: object) -> bool:
    return value is None or (isinstance(value, list | tuple) and all(isinstance(one, str) for one in value))


def _value(value: object) -> str:
    if value in (None, "", (), [], {}):
        return "not said"
    if isinstance(value, BaseModel):
        said = " ".join(_value(one) for one in _said(value).values() if one not in (None, "", (), False))
    else:
        said = ", ".join(_value(one) for one in value) if isinstance(value, list | tuple) else str(value)
    return said if len(said) <= LONGEST else f"{said[: LONGEST - 1]}…"
