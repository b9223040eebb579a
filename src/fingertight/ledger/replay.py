"""The one way from a log to a state: sort by corrected time, leave out what is struck through, fold the rest."""

import bisect
from collections.abc import Callable, Iterable
from typing import Final

from fingertight.ledger.entry import Entry, NotAnEntry, read_entry
from fingertight.ledger.folds import counted, fitted, judged, moved, tightened, told
from fingertight.ledger.plan import Plan
from fingertight.ledger.state import State

Fold = Callable[[State, Entry], None]


def _nothing(state: State, entry: Entry) -> None:
    """`undo` acts on the list of entries, not on the state."""


FOLDS: Final[dict[str, Fold]] = {
    "absent": moved.absent,
    "off": moved.off,
    "on": moved.on,
    "tighten": tightened.tighten,
    "reading": judged.reading,
    "decide": judged.decide,
    "set": fitted.set_,
    "sign": fitted.sign,
    "renew": counted.renew,
    "lost": counted.lost,
    "found": counted.found,
    "count": counted.count,
    "tool": counted.tool,
    "note": told.note,
    "help": told.help_,
    "undo": _nothing,
    "aside": told.aside,
    "aim": told.aim,
    "finish": told.finish,
}


def fold(state: State, entry: Entry) -> None:
    """state + entry → state: the only step there is."""
    state.clock += 1
    FOLDS[entry.kind](state, entry)


class Ledger:
    """What follows from an anatomy and the entries so far. Entries may come twice, late and in any order.

    >>> from fingertight.anatomy.model import Anatomy
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> ledger = Ledger(Plan(box))
    >>> ledger.hear({"id": "1", "kind": "off", "at": "2026-03-05T09:00:00Z", "by": "s-07", "part": "lid", "bag": "1"})
    True
    >>> ledger.state.moves.may_go_on(), len(ledger.state.flags)
    (['lid'], 0)
    """

    def __init__(self, plan: Plan, entries: Iterable[Entry] = ()) -> None:
        """Fold these entries at once."""
        self.plan = plan
        self._by_id: dict[str, Entry] = {}
        self._undos: dict[str, list[Entry]] = {}
        self._sorted: list[Entry] = []
        for entry in entries:
            if entry.id not in self._by_id:
                self._keep(entry)
                self._sorted.append(entry)
        self._sorted.sort(key=_when)
        self.state = self._replayed()

    def hear(self, said: object) -> bool:
        """One more entry, as it was sent. False when its id is known: then nothing changes.

        Raises NotAnEntry when it is none of this machine's; then nothing changes either.
        """
        return self.add(read_entry(said, self.plan))

    def add(self, entry: Entry) -> bool:
        """One more entry. One that sorts last is folded on; an earlier one, or an undo, makes a replay."""
        if entry.id in self._by_id:
            return False
        self._keep(entry)
        if not self._sorted or entry.when >= self._sorted[-1].when:
            self._sorted.append(entry)
            if entry.kind != "undo" and entry.id not in self._undos:
                fold(self.state, entry)
                return True
        else:
            bisect.insort_right(self._sorted, entry, key=_when)
        self.state = self._replayed()
        return True

    @property
    def entries(self) -> list[Entry]:
        """All entries in the order they count."""
        return list(self._sorted)

    def is_struck(self, entry_id: str) -> bool:
        """Whether the entry is struck through by an undo that itself stands."""
        return entry_id in self.struck()

    def _keep(self, entry: Entry) -> None:
        self._by_id[entry.id] = entry
        if entry.kind == "undo":
            self._undos.setdefault(entry.said["entry"], []).append(entry)

    def _replayed(self) -> State:
        state = State(self.plan)
        struck = self.struck()
        for entry in self._sorted:
            if entry.id not in struck:
                fold(state, entry)
        return state

    def struck(self) -> set[str]:
        """Every entry that an undo strikes through; an undo that is struck through strikes nothing.

        Undos of undos form chains; from the last in a chain each next one is struck or stands in turn. A circle (two
        undos of each other, which no honest device writes) is opened at its latest entry.
        """
        struck: dict[str, bool] = {}

        def settle(entry_id: str) -> None:
            stack = [(entry_id, iter(self._undos.get(entry_id, ())))]
            struck[entry_id] = False
            while stack:
                target, undos = stack[-1]
                for undo in undos:
                    if undo.id not in struck:
                        struck[undo.id] = False
                        stack.append((undo.id, iter(self._undos.get(undo.id, ()))))
                        break
                    if not struck[undo.id]:
                        struck[target] = True
                else:
                    stack.pop()
                    if stack and not struck[target]:
                        struck[stack[-1][0]] = True

        if self._undos:
            for entry in reversed(self._sorted):
                if entry.id in self._undos and entry.id not in struck:
                    settle(entry.id)
        return {entry_id for entry_id, is_struck in struck.items() if is_struck}


def _when(entry: Entry) -> float:
    return entry.when


def replay(plan: Plan, said: Iterable[object]) -> Ledger:
    """The ledger of a whole log, from its JSON objects in the order they arrived.

    Raises NotAnEntry for the first that is no entry of this machine's log.
    """
    return Ledger(plan, [read_entry(each, plan) for each in said])


__all__ = ["FOLDS", "Ledger", "NotAnEntry", "fold", "replay"]
