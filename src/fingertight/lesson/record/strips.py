"""Strips out of any bench log: what came off, in the log's own order, without what was undone or put back on."""

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from fingertight.order.learn import Strip


def strip_in(entries: Iterable[Mapping[str, Any]], label: str, parts: Collection[str] = ()) -> Strip:
    """What does a bench log teach about the order of removal?

    entries: as they stand in the log, in its order (clocks of tablets differ, so no time is asked). What was undone is
    left out, and so is a part that came off twice or went on again in between: only its first coming off from a
    machine that was still whole above it teaches anything. parts: all that the machine is known to have; those that
    neither came off nor are said to be absent are still on.

    >>> log = [{"id": "1", "kind": "off", "part": "lid"}, {"id": "2", "kind": "off", "part": "nut"},
    ...        {"id": "3", "kind": "undo", "entry": "2"}, {"id": "4", "kind": "off", "part": "cap"}]
    >>> strip_in(log, "bench 4", ("lid", "cap", "nut"))
    Strip(order=('lid', 'cap'), label='bench 4', still_on=('nut',))
    """
    said = [one for one in entries if isinstance(one, Mapping)]
    undone: set[Any] = set()
    for one in reversed(said):  # an undo can itself be undone, by a later one
        if one.get("kind") == "undo" and one.get("id") not in undone:
            undone.add(one.get("entry"))
    order: list[str] = []
    absent: set[Any] = set()
    for one in said:
        if one.get("id") in undone:
            continue
        if one.get("kind") == "on":
            break  # from here on it is built back: what comes off again comes off a machine that is only partly there
        part = one.get("part")
        if one.get("kind") == "absent":
            absent.add(part)
        if one.get("kind") == "off" and isinstance(part, str) and part not in order:
            order.append(part)
    return Strip(tuple(order), label, tuple(part for part in parts if part not in order and part not in absent))
