"""What changed from one anatomy to the next, in sentences a teacher reads; every key of the model is told."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from fingertight.anatomy.model import Anatomy, FastenerSet, Question, SmallThing
from fingertight.anatomy.told import lists
from fingertight.anatomy.told.names import FIELDS, known_again, with_ids
from fingertight.quantity import plain

TOLD_AS = {
    "behind": "must come off before it",
    "fit_after": "must be on before it goes on",
    "cautions": "stands among its cautions",
    "tools": "is among its tools",
    "bare": "must be off before it is measured",
    "after": "must be on before it is set",
    "before": "waits for it",
}
WORDS = {"part": "part", "check": "size", "setting": "setting", "sign": "sign-off", "instrument": "instrument"}
UNITS = {"torque": "N·m", "length": "mm", "grip": "mm", "depth": "mm"}
LISTS: dict[str, tuple[type[BaseModel], Callable[..., Iterator[str]]]] = {
    "held_by": (FastenerSet, lists.fasteners),
    "with_": (SmallThing, lists.small_things),
    "ask": (Question, lists.questions),
}
LONGEST = 60


@dataclass(frozen=True, slots=True)
class Told:
    """One change: of which table (kind: machine, engine, instrument, part, check, setting, sign; id: "" for a kind as a
    whole), what that is called, and the sentence."""

    kind: str
    id: str
    title: str
    sentence: str


def difference(old: Anatomy, new: Anatomy) -> tuple[str, ...]:
    """What does the new file say that the old one did not, and the other way round? Empty where they are equal.

    >>> def box(**lid): return Anatomy.model_validate({"format": 1, "machine": {"name": "Box"},
    ...     "part": [{"id": "nut"}, {"id": "lid", **lid}]})
    >>> difference(box(), box(behind=["nut"], minutes=2))
    ('Lid: Nut must come off before it now.', 'Lid: minutes 2, was not said.')
    """
    return tuple(one.sentence for one in told(old, new))


def told(old: Anatomy, new: Anatomy) -> tuple[Told, ...]:
    """The sentences of `difference`, each with the table it is about. What has another id and is else the same is said
    to be so, once, and not wherever it is named."""
    said = list(_told_of_ids(old, new))
    ids = known_again(old, new)
    if ids:
        whole = old.model_dump(by_alias=True, exclude_defaults=True)
        old = Anatomy.model_validate(with_ids(whole, ids), by_alias=True, by_name=False)
    titles = {part.id: part.title for one in (old, new) for part in one.parts}
    for kind, whose in (("machine", "The machine"), ("engine", "The engine")):
        pair = [_said(getattr(one, kind)) for one in (old, new)]
        said += [Told(kind, "", whose, sentence) for sentence in _keys(whose, pair[0], pair[1], titles)]
    for kind, many in FIELDS.items():
        said += _of_kind(kind, getattr(old, many), getattr(new, many), titles)
    return tuple(said)


def _told_of_ids(old: Anatomy, new: Anatomy) -> Iterator[Told]:
    for kind, ids in known_again(old, new).items():
        titles = {one.id: one.title for one in getattr(new, FIELDS[kind])}
        for before, after in ids.items():
            yield Told(kind, after, titles[after], f"{titles[after]}: its id is {after} now, was {before}.")


def _of_kind(kind: str, old: Sequence[Any], new: Sequence[Any], titles: Mapping[str, str]) -> Iterator[Told]:
    before, after = ({one.id: one for one in tables} for tables in (old, new))
    word = WORDS[kind]
    for name, one in before.items():
        if name not in after:
            yield Told(kind, name, one.title, f"{one.title}: this {word} is gone.")
    for name, one in after.items():
        if name not in before:
            yield Told(kind, name, one.title, f"{one.title}: a new {word}.")
        else:
            for sentence in _keys(one.title, _said(before[name]), _said(one), titles):
                yield Told(kind, name, one.title, sentence)
    if [name for name in before if name in after] != [name for name in after if name in before]:
        yield Told(kind, "", f"The {word}s", f"The {word}s stand in another order.")


def _said(table: BaseModel | None) -> dict[str, Any]:
    """What a table says, key by key."""
    return {key: getattr(table, key) for key in type(table).model_fields} if table is not None else {}


def _keys(whose: str, old: Mapping[str, Any], new: Mapping[str, Any], titles: Mapping[str, str]) -> Iterator[str]:
    def plain_keys(whose: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
        return _keys(whose, old, new, titles)

    for key in dict.fromkeys((*old, *new)):
        before, after = old.get(key), new.get(key)
        if before == after:
            continue
        entries = LISTS.get(key)
        if key in TOLD_AS and _plain(before) and _plain(after):
            yield from _listed(whose, key, before or (), after or (), titles)
        elif entries and _all_of(entries[0], before) and _all_of(entries[0], after):
            yield from entries[1](whose, before, after, plain_keys)
        elif key == "ways" and isinstance(after, list | tuple):
            yield from lists.ways(whose, before or (), after, titles)
        else:
            named = key.strip("_").replace("_", " ")
            yield f"{whose}: {named} {_value(after, before, key)}, was {_value(before, after, key)}."


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


def _all_of(table: type[BaseModel], value: object) -> bool:
    return isinstance(value, list | tuple) and all(isinstance(one, table) for one in value)


def _value(value: object, beside: object, key: str) -> str:
    """A value in words; of a long one the place where it differs from the one beside it."""
    said = _in_words(value)
    quoted = "“{}”" if isinstance(value, str) and value else "{}"
    if len(said) <= LONGEST:
        unit = f" {UNITS[key]}" if key in UNITS and isinstance(value, float) else ""
        return quoted.format(said) + unit
    other = _in_words(beside)
    same = next((nth for nth, letter in enumerate(said) if other[nth : nth + 1] != letter), 0)
    start = max(same - LONGEST // 3, 0) if same >= LONGEST - 10 else 0
    piece = said[start : start + LONGEST - 1]
    return quoted.format(f"{'…' if start else ''}{piece}{'…' if start + LONGEST - 1 < len(said) else ''}")


def _in_words(value: object) -> str:
    if value in (None, "", (), [], {}):
        return "not said"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return plain(value)
    if isinstance(value, BaseModel):
        return " ".join(_in_words(one) for one in _said(value).values() if one not in (None, "", (), False))
    return ", ".join(_in_words(one) for one in value) if isinstance(value, list | tuple) else str(value)
