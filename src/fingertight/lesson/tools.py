"""Tools that several benches share: where they are out, since when, how many are free, who waits and in which order."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fingertight.ledger.entry import Entry
from fingertight.ledger.replay import Ledger
from fingertight.lesson.diary import Waiting


@dataclass(frozen=True, slots=True)
class AtBench:
    """A tool at a bench, or a bench that waits for it, since then [s since 1970]."""

    bench: str
    since: float
    by: str = ""


@dataclass(frozen=True, slots=True)
class ToolNow:
    """One shared tool: how many there are (0: nobody said), where they are out, who waits, the longest first."""

    name: str
    many: int
    out: tuple[AtBench, ...]
    waits: tuple[AtBench, ...]

    @property
    def free(self) -> int:
        """How many are in their place; where nobody said how many there are, none is known to be."""
        return max(self.many - len(self.out), 0)


def tools_of(
    stock: Mapping[str, int],
    borrowed: Iterable[tuple[str, AtBench]],
    waiting: Sequence[Waiting],
    taken: Iterable[tuple[str, AtBench]] = (),
) -> tuple[ToolNow, ...]:
    """Every shared tool as it is now: those of the list in its order, then those only a bench has named.

    stock: how many there are. borrowed: what is out, as `lent` says it of each bench. taken: when each bench last took
    one, as `taken_last` says it: a bench that has had it since it asked waits no more, brought back or not.

    >>> waits = [Waiting("bore gauge", "Bench 7", 60.0, "p-1")]
    >>> [tool] = tools_of({"bore gauge": 2}, [("Bore gauge", AtBench("Bench 3", 0.0))], waits)
    >>> tool.free, tool.out[0].bench, tool.waits[0].bench
    (1, 'Bench 3', 'Bench 7')
    >>> tools_of({"bore gauge": 1}, [], waits, [("bore gauge", AtBench("Bench 7", 90.0))])[0].waits
    ()
    """
    out: dict[str, list[AtBench]] = {name: [] for name in stock}
    took: dict[tuple[str, str], float] = {}
    spelt = {name.casefold(): name for name in stock}
    for name, at in borrowed:
        named = spelt.setdefault(name.casefold(), name)
        out.setdefault(named, []).append(at)
    for name, at in taken:
        named = spelt.setdefault(name.casefold(), name)
        took[named, at.bench] = max(at.since, took.get((named, at.bench), at.since))
    waits: dict[str, list[AtBench]] = {}
    for one in waiting:
        named = spelt.setdefault(one.tool.casefold(), one.tool)
        out.setdefault(named, [])
        if took.get((named, one.bench), float("-inf")) < one.since:
            waits.setdefault(named, []).append(AtBench(one.bench, one.since, one.by))
    return tuple(
        ToolNow(
            name,
            stock.get(name, 0),
            tuple(sorted(at, key=lambda each: each.since)),
            tuple(sorted(waits.get(name, []), key=lambda each: each.since)),
        )
        for name, at in out.items()
    )


def lent(ledger: Ledger) -> list[tuple[str, AtBench]]:
    """What a job has borrowed and not brought back, a tool as often as it is out, with when and by whom it went out."""
    return [
        (name, AtBench("", entry.when, entry.by))
        for name, box in ledger.state.tools.items()
        for entry in _taken(ledger, name)[: max(box.out, 0)]
    ]


def taken_last(ledger: Ledger) -> list[tuple[str, AtBench]]:
    """Every tool a job ever borrowed, with when and by whom it went out last, brought back or not."""
    return [
        (name, AtBench("", entry.when, entry.by)) for name in ledger.state.tools for entry in _taken(ledger, name)[:1]
    ]


def _taken(ledger: Ledger, tool: str) -> list[Entry]:
    """The entries by which a job borrowed a tool, the last first."""
    return [
        entry
        for entry in reversed(ledger.entries)
        if entry.kind == "tool"
        and entry.said["tool"] == tool
        and entry.said["way"] == "out"
        and not ledger.is_struck(entry.id)
    ]
