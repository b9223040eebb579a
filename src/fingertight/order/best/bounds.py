"""What no order can go below: for each tool, rest and pair of both, the fewest visits that chains of blockers ask for.

A chain is a row of parts each behind the one before. Along a chain every visit to a tool that another tool interrupts
is a change, whatever is done in between; counted for one tool with all else free it is exact, and for all tools at once
the counts may be added, because no visit serves two. Ways are left out, which only lowers the bound.
Two sums hold: changes and turns each counted by themselves; and visits to pairs of rest and tool, since each begins
with a change or a turn. The larger one counts.
"""

from typing import Any

import numpy as np

from fingertight.order.best.problem import NONE, Problem, bits


class Bounds:
    """The tails of all parts, ready to be asked of any state: parts still on, tool in hand, how the machine lies."""

    def __init__(self, problem: Problem) -> None:
        """Walk the chains once, the last parts first."""
        self._problem = problem
        tools = 1 + max((tool for each in problem.tools for tool in each), default=NONE)
        rests = 1 + max([*problem.rests, problem.lies], default=NONE)
        pairs: dict[tuple[int, int], int] = {}
        for part, rest in enumerate(problem.rests):
            for tool in problem.tools[part]:
                if rest != NONE:
                    pairs.setdefault((rest, tool), len(pairs))
        self._tools, self._rests, self._pairs = tools, rests, pairs
        many = tools + rests + len(pairs)
        self.outside = np.zeros((len(problem), many), np.int64)
        self.inside = np.zeros((len(problem), many), np.int64)
        self._walk()
        change, turn = problem.change, problem.turn
        first, second = np.zeros(many, np.int64), np.zeros(many, np.int64)
        first[:tools], first[tools : tools + rests] = change, turn
        second[tools + rests :] = min(change, turn)
        if turn >= change:
            second[tools : tools + rests] = turn - change
        else:
            second[:tools] = change - turn
        self._weights = np.stack([first, second], axis=1)
        self._turn = turn

    def _walk(self) -> None:
        """For each part, the longest count of visits from it on; `inside`: the class is at hand when the part comes."""
        problem, tools, rests = self._problem, self._tools, self._rests
        for part in reversed(_in_order(problem)):
            children = list(problem.children[part])
            out_tail = self.outside[children].max(axis=0) if children else np.zeros(self.outside.shape[1], np.int64)
            in_tail = self.inside[children].max(axis=0) if children else np.zeros(self.outside.shape[1], np.int64)
            outside, inside = out_tail.copy(), in_tail.copy()
            mine, rest = set(problem.tools[part]), problem.rests[part]
            if mine:
                inside[:tools] = out_tail[:tools]
                for tool in mine:  # it may be the last of several, or be in hand already: the least is counted
                    outside[tool], inside[tool] = 1 + in_tail[tool], in_tail[tool]
            if rest != NONE:
                inside[tools : tools + rests] = out_tail[tools : tools + rests]
                outside[tools + rest], inside[tools + rest] = 1 + in_tail[tools + rest], in_tail[tools + rest]
            for (lies, tool), nth in self._pairs.items():
                at = tools + rests + nth
                if rest == lies and tool in mine:
                    outside[at], inside[at] = 1 + in_tail[at], in_tail[at]
                elif rest not in (NONE, lies) or (mine and tool not in mine):
                    inside[at] = out_tail[at]
            self.outside[part], self.inside[part] = outside, inside

    def below(self, front: int, hand: int, lies: int) -> int:
        """What the rest of any order costs at least [10⁻⁹ min]. front: the parts still on whose `behind` is all off."""
        if not front:
            return 0
        parts = list(bits(front))
        visits = self.outside[parts].max(axis=0)
        at_hand: list[int] = []
        if hand != NONE and hand < self._tools:
            at_hand.append(hand)
        if lies != NONE:
            at_hand.append(self._tools + lies)
            pair = self._pairs.get((lies, hand))
            if pair is not None:
                at_hand.append(self._tools + self._rests + pair)
        if at_hand:
            visits[at_hand] = self.inside[np.ix_(parts, at_hand)].max(axis=0)
        sums: Any = visits @ self._weights
        if lies == NONE and visits[self._tools : self._tools + self._rests].any():
            # How it lies at the start is chosen: the first rest is no turn, and with its tool in hand no event at all.
            sums = sums - self._turn
        return max(int(sums.max()), 0)


def _in_order(problem: Problem) -> list[int]:
    """The parts, each after all that stand in its `behind`."""
    wait = [before.bit_count() for before in problem.behind]
    queue = [part for part, count in enumerate(wait) if not count]
    for part in queue:
        for child in problem.children[part]:
            wait[child] -= 1
            if not wait[child]:
                queue.append(child)
    return queue
