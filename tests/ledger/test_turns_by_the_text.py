"""Whose turn it was, by the text: the fold's flags against the rules said slowly, on machines nobody would build."""

import random
from collections.abc import Iterator

import pytest

from fingertight.ledger import Ledger, Plan
from tests.ledger.bench import at
from tests.order.by_the_text import Machine, clear, may_go_on, reach
from tests.order.machines import as_anatomy, layered, tangled

Standing = set[tuple[str, str]]


class ByTheText:
    """Which parts are off, and which flags of turn stand, as the table of flags says it."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self.off: set[str] = set()
        self.absent: set[str] = set()
        self.standing: Standing = set()

    def took(self, part: str) -> None:
        """Came off: out of turn unless all in its way is off, or it was fitted out of turn and this is the mend."""
        if ("out-of-turn", part) in self.standing:
            self.standing.discard(("out-of-turn", part))
        elif self.machine[part].stays or not clear(part, self.off | self.absent, self.machine):
            self.standing.add(("out-of-turn", part))
        self.standing.discard(("shut-in", part))
        self.off.add(part)
        self._mend()

    def lacks(self, part: str) -> None:
        """Said to be absent while it is on."""
        self.absent.add(part)
        self.standing -= {("out-of-turn", part), ("shut-in", part)}
        self._mend()

    def put(self, part: str) -> set[str]:
        """Went on; who is shut in by it?"""
        without = self.off - {part}
        if ("out-of-turn", part) in self.standing:
            self.standing.discard(("out-of-turn", part))
        elif not clear(part, without | self.absent, self.machine):
            self.standing.add(("out-of-turn", part))
        # Within reach before and not now: two may hold each other's way open, and then each can go back, but not both.
        shut_in = self._reach(self.off) - self._reach(without)
        shut_in |= self._at_once(self.off) - self._at_once(without) - self._reach(without)
        shut_in |= set(self.machine[part].fit_after)
        shut_in &= without
        if shut_in:
            self.standing.add(("shut-in", part))
        self.off = without
        return shut_in

    def _at_once(self, off: set[str]) -> set[str]:
        return set(may_go_on(off, self.absent, self.machine))

    def _reach(self, off: set[str]) -> set[str]:
        return reach(off, self.absent, self.machine)

    def _mend(self) -> None:
        """What lies where it can lawfully be is out of turn no more."""
        for part in self.machine:
            if not self.machine[part].stays and clear(part, self.off | self.absent, self.machine):
                self.standing.discard(("out-of-turn", part))


def machines() -> Iterator[tuple[int, Machine]]:
    for seed in range(150):
        yield seed, tangled(seed, 7)
        yield seed, layered(seed, 8)


@pytest.mark.parametrize("careless", [False, True], ids=["mostly in turn", "anything goes"])
def test_flags_of_turn_are_what_the_text_says_after_every_move(careless: bool) -> None:
    seen = 0
    for seed, machine in machines():
        chance = random.Random(f"{seed} {careless}")
        ledger, text = Ledger(Plan(as_anatomy(machine))), ByTheText(machine)
        for minute in range(16):
            part = _next(machine, text, chance, careless)
            kind = "on" if part in text.off else "off"
            if kind == "off" and len(text.absent) + 1 < len(machine) and chance.random() < 0.05:
                kind = "absent"
            shut_in: set[str] = set()
            if kind == "on":
                shut_in = text.put(part)
            else:
                (text.took if kind == "off" else text.lacks)(part)
            ledger.hear({"id": f"{minute}", "kind": kind, "at": at(minute), "by": "s", "part": part})
            told = [flag for flag in ledger.state.flags if flag.open]
            assert {(flag.kind, flag.part) for flag in told} == text.standing, (machine, ledger.entries)
            for flag in told:
                if flag.kind == "shut-in" and flag.entry == f"{minute}":
                    assert _named(flag.text, machine) == shut_in
                    seen += 1
    assert seen > 30


def _next(machine: Machine, text: ByTheText, chance: random.Random, careless: bool) -> str:
    movable = [part for part in machine if part not in text.absent]
    free = [part for part in movable if part not in text.off and not machine[part].stays]
    free = [part for part in free if clear(part, text.off | text.absent, machine)]
    lawful = free + may_go_on(text.off, text.absent, machine)
    return chance.choice(movable if careless or not lawful or chance.random() < 0.2 else lawful)


def _named(sentence: str, machine: Machine) -> set[str]:
    names = sentence.split(" went on before ")[1].split(", which ", maxsplit=1)[0].replace(" and ", ", ").split(", ")
    return {part for part in machine if part.capitalize() in names}
