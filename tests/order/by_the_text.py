"""The rules of `docs/` and the design said once more, word by word and slowly: what the quick moves are held against.

Nothing here knows of counters, ranks or numbers; a machine is a dict of `Stands`, a state two sets of ids.
"""

from collections.abc import Collection, Iterator, Mapping
from itertools import chain, combinations

from fingertight.order import Stands

Machine = Mapping[str, Stands]
NOBODY: frozenset[str] = frozenset()


def clear(part: str, gone: Collection[str], machine: Machine) -> bool:
    """All of `behind` and one whole set of `ways` are gone."""
    said = machine[part]
    return all(other in gone for other in said.behind) and (
        not said.ways or any(all(other in gone for other in way) for way in said.ways)
    )


def reach(off: Collection[str], absent: Collection[str], machine: Machine) -> set[str]:
    """The largest part of `off` that one greedy sweep can strip, waiting for those that have a part in `fit_after`."""
    reached: set[str] = set()
    while True:
        gone = reached | set(absent)
        more = {
            part
            for part in off
            if part not in reached
            and clear(part, gone, machine)
            and all(other in reached for other in off if part in machine[other].fit_after)
        }
        if not more:
            return reached
        reached |= more


def may_come_off(off: Collection[str], absent: Collection[str], machine: Machine) -> list[str]:
    """Parts still on with nothing in their way."""
    gone = {*off, *absent}
    return [part for part in machine if part not in gone and not machine[part].stays and clear(part, gone, machine)]


def may_go_on(off: Collection[str], absent: Collection[str], machine: Machine) -> list[str]:
    """Parts that are off for which the three conditions hold."""
    return [part for part in machine if part in off and _goes_on(part, set(off), set(absent), machine)]


def _goes_on(part: str, off: set[str], absent: set[str], machine: Machine) -> bool:
    without = off - {part}
    return (
        not any(first in off for first in machine[part].fit_after)
        and clear(part, without | absent, machine)
        and reach(without, absent, machine) >= reach(off, absent, machine) - {part}
    )


def subsets(parts: Collection[str]) -> Iterator[frozenset[str]]:
    """Every subset, the empty one first."""
    return map(frozenset, chain.from_iterable(combinations(parts, size) for size in range(len(parts) + 1)))


def reachable_sets(machine: Machine) -> set[frozenset[str]]:
    """Of all subsets, those that one greedy sweep strips whole: behind and ways only, because nothing goes on."""
    bare = {part: said._replace(fit_after=()) for part, said in machine.items()}
    movable = [part for part in machine if not machine[part].stays]
    return {chosen for chosen in subsets(movable) if reach(chosen, NOBODY, bare) == chosen}
