"""The states of a strip under way, and the steps from one to the next.

A step is not a part but the next tool and rest: whatever then costs nothing is taken along at once. That is safe: a
part that asks for no change and no turn now can be pulled to this place in any order; the order stays lawful, since
freedom only grows; hand and rest stay as they were, and where it stood its visits may be kept as idle ones.
"""

from collections.abc import Iterator
from typing import NamedTuple

from fingertight.order.best.problem import NONE, Problem, bits


class State(NamedTuple):
    """Which parts are off, which are next by their `behind`, tool in hand, how the machine lies; what it cost so far
    [10⁻⁹ min], and the parts taken by the step that led here."""

    off: int
    front: int
    hand: int
    lies: int
    cost: int
    taken: tuple[int, ...] = ()


class Steps:
    """The steps of one problem."""

    def __init__(self, problem: Problem) -> None:
        """Sort the parts by what they cost nothing for."""
        self.problem = problem
        self._idle: dict[tuple[int, int], int] = {}

    def start(self) -> State:
        """Before anything was done but what costs nothing."""
        problem = self.problem
        front = sum(1 << part for part, before in enumerate(problem.behind) if not before)
        return self._closed(State(0, front, problem.hand, problem.lies, 0))

    def after(self, state: State) -> Iterator[State]:
        """Every step from here that may matter."""
        problem, front, hand, lies = self.problem, state.front, state.hand, state.lies
        tried = set()
        for part in bits(front):
            if problem.many_ways >> part & 1 and not problem.is_clear(part, state.off):
                continue
            tools, rest = problem.tools[part], problem.rests[part]
            then = lies if rest == NONE else rest
            turn = problem.turn if lies not in (NONE, then) else 0
            for last, changes in _hands(tools, hand):
                what = (then, last, part if len(tools) > 1 else NONE)
                if what in tried:
                    continue
                tried.add(what)
                cost = state.cost + turn + changes * problem.change
                yield self._closed(State(state.off, front, last, then, cost, (part,)))

    def _closed(self, begun: State) -> State:
        """The state after what it has taken and all that then costs nothing."""
        problem, taken = self.problem, list(begun.taken)
        off, front, hand, lies, cost, _ = begun
        behind, children, many_ways = problem.behind, problem.children, problem.many_ways
        idle = self._costs_nothing(lies, hand)
        done = 0
        while True:
            for part in taken[done:]:
                off |= 1 << part
                front &= ~(1 << part)
                for child in children[part]:
                    if not behind[child] & ~off and not off >> child & 1:
                        front |= 1 << child
            done = len(taken)
            now = front & idle
            taken += bits(now & ~many_ways)
            taken += [part for part in bits(now & many_ways) if problem.is_clear(part, off)]
            if len(taken) == done:
                return State(off, front, hand, lies, cost, tuple(taken))

    def _costs_nothing(self, lies: int, hand: int) -> int:
        """The parts that ask for no other tool than this and no other rest."""
        found = self._idle.get((lies, hand))
        if found is None:
            problem = self.problem
            found = sum(
                1 << part
                for part, (tools, rest) in enumerate(zip(problem.tools, problem.rests, strict=True))
                if rest in (NONE, lies) and tools in ((), (hand,))
            )
            self._idle[lies, hand] = found
        return found


def _hands(tools: tuple[int, ...], hand: int) -> list[tuple[int, int]]:
    """With which tool a part may leave the hand, and with how many changes; what is never better is left out."""
    if not tools:
        return [(hand, 0)]
    if len(tools) == 1:
        return [(tools[0], int(tools[0] != hand))]
    if hand in tools:
        return [(last, len(tools) - 1) for last in tools if last != hand]
    return [(last, len(tools)) for last in tools]
