"""The best order: a narrow beam first, then stretches of what it found solved anew, then a search that ends in a proof.

Each stage gives what it has so far, so whoever asks may stop at any time and still has an order and its bound. There is
no clock here: effort is counted in states looked at, and the same effort gives the same answer.
Beams with cheap bounds for sequences like this: Libralesso, Bouhassoun, Cambazard, Jost, arXiv 1911.12427.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush, nsmallest

from fingertight.order.best.bounds import Bounds
from fingertight.order.best.problem import Problem, window_of
from fingertight.order.best.states import State, Steps

WIDTHS = (1, 10, 60)
WINDOW_WIDTH, WINDOWS = 8, (60, 40)
SMALL = 30
"""So few parts need no stretches: the search itself is as quick."""
REPORT_EVERY = 2_000
MOST_WAITING = 400_000
"""States kept at most: beyond, the least promising half is let go, and with it the hope of a proof above its bound."""


@dataclass(frozen=True, slots=True)
class SoFar:
    """The best order found, its handling and a bound that none goes below [10⁻⁹ min]; how many states it took."""

    order: tuple[int, ...]
    cost: int
    bound: int
    looked: int

    @property
    def is_best(self) -> bool:
        """Whether no order costs less."""
        return self.cost <= self.bound


class Search:
    """The search for one problem; `better()` gives what it has, better each time, until it is proven or stopped."""

    def __init__(self, problem: Problem, usual: Sequence[int] = ()) -> None:
        """Nothing is looked at yet. usual: an order that stands unless a cheaper one is found."""
        self.problem = problem
        self._steps, self._bounds = Steps(problem), Bounds(problem)
        self.looked = 0
        self._best: tuple[int, tuple[int, ...]] | None = None
        self._start = self._steps.start()
        if usual:
            self._best = (problem.cost_of(usual), tuple(usual))
        self._bound = self._start.cost + self._bounds.below(self._start.front, self._start.hand, self._start.lies)

    def better(self) -> Iterator[SoFar]:
        """What is known after each stage, and while the last one runs. Ends when the order is proven the best."""
        for width in WIDTHS:
            self._keep(self._beam(width))
            yield self._so_far()
            if self._so_far().is_best:
                return
        if len(self.problem) > SMALL:
            yield from self._stretches()
        yield from self._to_the_proof()

    def _so_far(self) -> SoFar:
        cost, order = self._best or (self._bound, ())
        return SoFar(order, cost, min(self._bound, cost), self.looked)

    def _keep(self, order: Sequence[int] | None) -> bool:
        """Whether this order is better than the best so far, which it then is."""
        if order is None:
            return False
        cost = self.problem.cost_of(order)
        if self._best is not None and cost >= self._best[0]:
            return False
        self._best = (cost, tuple(order))
        return True

    # -- a beam

    def _beam(self, width: int) -> list[int] | None:
        """An order found by going on with the most promising few states at a time."""
        whole, below = self.problem.whole, self._bounds.below
        level: list[tuple[State, tuple[int, ...]]] = [(self._start, self._start.taken)]
        done: tuple[int, tuple[int, ...]] | None = None
        while level:
            found: dict[tuple[int, int, int], tuple[int, int, State, tuple[int, ...]]] = {}
            for state, path in level:
                if state.off == whole:
                    if done is None or state.cost < done[0]:
                        done = (state.cost, path)
                    continue
                for after in self._steps.after(state):
                    self.looked += 1
                    key = after[0], after.hand, after.lies
                    known = found.get(key)
                    if known is None or after.cost < known[2].cost:
                        least = after.cost + below(after.front, after.hand, after.lies)
                        if done is None or least < done[0]:
                            found[key] = (least, -after.off.bit_count(), after, path + after.taken)
            chosen = nsmallest(width, enumerate(found.values()), key=lambda one: (one[1][0], one[1][1], one[0]))
            level = [(state, path) for _, (_, _, state, path) in chosen]
        return list(done[1]) if done else None

    # -- stretches of an order, solved anew

    def _stretches(self) -> Iterator[SoFar]:
        """Cut a stretch out of the best order, find a better one for it, put it back if the whole is no dearer."""
        for size in WINDOWS:
            gained = True
            while gained and self._best:
                gained = False
                for first in range(0, max(len(self.problem) - size // 2, 1), size // 2):
                    gained |= self._keep(self._solved_anew(self._best[1], first, min(first + size, len(self.problem))))
                    if self._so_far().is_best:
                        yield self._so_far()
                        return
                yield self._so_far()

    def _solved_anew(self, order: Sequence[int], first: int, last: int) -> list[int] | None:
        stretch = list(order[first:last])
        part = Search(window_of(self.problem, order, first, last))
        anew = part._beam(WINDOW_WIDTH)
        self.looked += part.looked
        if anew is None:
            return None
        inside = [stretch[number] for number in anew if number < len(stretch)]
        return [*order[:first], *inside, *order[last:]]

    # -- the proof

    def _to_the_proof(self) -> Iterator[SoFar]:
        """The most promising state first, until none is left that could end below the best order."""
        problem, below = self.problem, self._bounds.below
        whole, change, turn = problem.whole, problem.change, problem.turn
        start = self._start
        known: dict[tuple[int, int, int], int] = {(start.off, start.hand, start.lies): start.cost}
        least_of: dict[int, int] = {start.off: start.cost}
        least_lying: dict[tuple[int, int], int] = {(start.off, start.lies): start.cost}
        came: dict[tuple[int, int, int], tuple[tuple[int, int, int] | None, tuple[int, ...]]] = {
            (start.off, start.hand, start.lies): (None, start.taken)
        }
        let_go = None
        waiting: list[tuple[int, int, int, State]] = [(self._bound, -start.off.bit_count(), 0, start)]
        number = 0
        while waiting:
            least, _, _, state = heappop(waiting)
            self._bound = max(self._bound, least if let_go is None else min(least, let_go))
            best = self._best[0] if self._best else None
            if best is not None and least >= best:
                break
            key = state.off, state.hand, state.lies
            if known[key] < state.cost:
                continue
            for after in self._steps.after(state):
                self.looked += 1
                if not self.looked % REPORT_EVERY:
                    yield self._so_far()
                key_after = after.off, after.hand, after.lies
                before = known.get(key_after)
                if before is not None and before <= after.cost:
                    continue
                # Whatever can be done from here can be done from there with one change more, or one change and a turn.
                lying = after.off, after.lies
                least_here, least_there = least_of.get(after.off, after.cost), least_lying.get(lying, after.cost)
                if after.cost > least_there + change - (change > 0) or after.cost > least_here + change + turn:
                    continue
                could = after.cost + below(after.front, after.hand, after.lies)
                if self._best is not None and could >= self._best[0]:
                    continue
                known[key_after] = after.cost
                least_of[after.off] = min(after.cost, least_here)
                least_lying[lying] = min(after.cost, least_there)
                came[key_after] = (key, after.taken)
                if after.off == whole:
                    self._keep(_walked(came, key_after))
                    continue
                number += 1
                heappush(waiting, (could, -after.off.bit_count(), number, after))
            if len(waiting) > MOST_WAITING:
                waiting, gone = _halved(waiting)
                let_go = gone if let_go is None else min(let_go, gone)
        if self._best:
            self._bound = self._best[0] if let_go is None else max(self._bound, min(let_go, self._best[0]))
        yield self._so_far()


def _walked(
    came: dict[tuple[int, int, int], tuple[tuple[int, int, int] | None, tuple[int, ...]]], end: tuple[int, int, int]
) -> list[int]:
    """The parts taken on the way to this state, from the beginning."""
    pieces = []
    at: tuple[int, int, int] | None = end
    while at is not None:
        at, taken = came[at]
        pieces.append(taken)
    return [part for taken in reversed(pieces) for part in taken]


def _halved(
    waiting: list[tuple[int, int, int, State]],
) -> tuple[list[tuple[int, int, int, State]], int]:
    """The more promising half, and the least that what was let go could have come to."""
    waiting.sort()
    half = len(waiting) // 2
    kept, gone = waiting[:half], waiting[half][0]
    heapify(kept)
    return kept, gone
