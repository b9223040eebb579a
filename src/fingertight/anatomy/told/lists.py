"""Lists of a part that are told entry by entry: fastener sets, small things, questions, ways out."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from fingertight.anatomy.model import FastenerSet, Question, SmallThing

Keys = Callable[[str, Mapping[str, Any], Mapping[str, Any]], Iterator[str]]
"""Whose, before, after: a sentence for each key that changed."""


def set_name(one: FastenerSet) -> str:
    """How a sentence calls a fastener set.

    >>> set_name(FastenerSet(thread="M6", length=28, count=6)), set_name(FastenerSet(kind="press fit"))
    ('6 × M6x28', 'press fit')
    """
    name = one.counted_as or one.kind or "fastener"
    return f"{one.how_many} × {name}" if one.how_many > 1 else name


def fasteners(whose: str, before: Sequence[FastenerSet], after: Sequence[FastenerSet], keys: Keys) -> Iterator[str]:
    """What changed of what holds a part; sets are numbered in logs, so their order is told too."""
    gone, come = _left_over(before, after)
    if not gone and not come:
        yield f"{whose}: its fasteners stand in another order."
    for same in (lambda one: one.counted_as or one.kind, lambda one: one.thread or one.kind, lambda one: ""):
        for old, new in _pairs(gone, come, same):
            yield from keys(f"{whose}, {set_name(old)}", _said(old), _said(new))
    yield from (f"{whose}: held by {set_name(one)} too now." for one in come)
    yield from (f"{whose}: held by {set_name(one)} no more." for one in gone)


def small_things(whose: str, before: Sequence[SmallThing], after: Sequence[SmallThing], keys: Keys) -> Iterator[str]:
    """What changed of the small things in a part's bag."""
    gone, come = _left_over(before, after)
    if not gone and not come:
        yield f"{whose}: small things in another order."
    for old, new in _pairs(gone, come, lambda one: one.name):
        yield from keys(f"{whose}, {old.name}", _said(old), _said(new))
    yield from (f"{whose}: {one.count} × {one.name} in its bag now." for one in come)
    yield from (f"{whose}: {one.count} × {one.name} in its bag no more." for one in gone)


def questions(whose: str, before: Sequence[Question], after: Sequence[Question], keys: Keys) -> Iterator[str]:
    """What changed of what is asked when a part goes on."""
    gone, come = _left_over(before, after)
    if not gone and not come:
        yield f"{whose}: questions in another order."
    for old, new in _pairs(gone, come, lambda one: one.question):
        yield from keys(f"{whose}, “{old.question}”", _said(old), _said(new))
    yield from (f"{whose}: asks “{one.question}” now." for one in come)
    yield from (f"{whose}: asks “{one.question}” no more." for one in gone)


def _pairs(gone: list[Any], come: list[Any], mark: Callable[[Any], object]) -> list[tuple[Any, Any]]:
    """Before and after of what bears one mark; both are taken out of what is left over."""
    found = []
    for old in list(gone):
        new = next((one for one in come if mark(one) == mark(old)), None)
        if new is not None:
            found.append((old, new))
            gone.remove(old)
            come.remove(new)
    return found


def ways(
    whose: str, before: Sequence[Sequence[str]], after: Sequence[Sequence[str]], titles: Mapping[str, str]
) -> Iterator[str]:
    """What changed of a part's ways out.

    >>> list(ways("Piston", [["head"]], [["head"], ["crank", "rod"]], {"crank": "Crankshaft", "rod": "Rod"}))
    ['Piston: way out by Crankshaft with Rod now.']
    """
    gone, come = _left_over([tuple(sorted(way)) for way in before], [tuple(sorted(way)) for way in after])
    if not gone and not come:
        yield f"{whose}: its ways out stand in another order."
    for way, now in (*((way, "now") for way in come), *((way, "no more") for way in gone)):
        named = " with ".join(titles.get(part, part) for part in way) or "nothing at all"
        yield f"{whose}: way out by {named} {now}."


def _left_over(before: Sequence[Any], after: Sequence[Any]) -> tuple[list[Any], list[Any]]:
    """What stands only before, and only after; twice is twice."""
    gone, come = list(before), []
    for one in after:
        if one in gone:
            gone.remove(one)
        else:
            come.append(one)
    return gone, come


def _said(table: BaseModel) -> dict[str, Any]:
    return {key: getattr(table, key) for key in type(table).model_fields}
