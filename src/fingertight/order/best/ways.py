"""Which parts come off to free others: sets of parts, the one that could be cheapest first, so that few need a look.

A set costs at least its minutes, each of its tools taken up once and each rest turned to once. Sets are grown way by
way: a part that asks for a way that is not in the set yet makes one set of each of its ways. So every set that frees
the targets and has nothing needless in it comes up, in the order of what it costs at least.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from heapq import heappop, heappush
from typing import NamedTuple

from fingertight.order.best.problem import bits
from fingertight.order.cost import BILLIONTHS, Prices, Work
from fingertight.order.rules import Rules


class Chosen(NamedTuple):
    """A set of parts that frees the targets (one bit a part of the rules), and what it costs at least [10⁻⁹ min]."""

    parts: int
    least: int


class Ways:
    """The sets that free some targets, cheapest first."""

    def __init__(
        self, rules: Rules, works: Mapping[str, Work], prices: Prices, start: str | None, targets: Sequence[str]
    ) -> None:
        """Nothing is chosen yet. The targets can come off: what never does was said before."""
        self._rules = rules
        self._works = [works[part] for part in rules.ids]
        self._change, self._turn = round(prices.change_min * BILLIONTHS), round(prices.turn_min * BILLIONTHS)
        self._start = start
        self._targets = [rules.index[part] for part in targets]
        self._never = sum(1 << part for part in range(len(rules)) if rules.never[part])
        self._ways = [self._ways_of(part) for part in range(len(rules))]
        self.looked = 0

    def cheapest_first(self) -> Iterator[Chosen]:
        """Each set that frees the targets, in the order of what it costs at least; a caller stops when that is enough.

        A set is given with `parts` 0 for "none can cost less than this": so a long search can be stopped with a bound.
        """
        first = self._with(0, self._targets)
        waiting: list[tuple[int, int, int, int]] = [(self._least(first), 0, 0, first)] if first is not None else []
        seen, number = {first}, 0
        while waiting:
            least, _, _, parts = heappop(waiting)
            self.looked += 1
            grown = self._grown(parts)
            if grown is None:
                yield Chosen(parts, least)
                continue
            for after in grown:
                if after not in seen:
                    seen.add(after)
                    number += 1
                    heappush(waiting, (max(least, self._least(after)), after.bit_count(), number, after))
            yield Chosen(0, least)

    def _grown(self, parts: int) -> list[int] | None:
        """The sets this one may become; None when it frees the targets as it is."""
        for part in bits(parts):
            ways = self._ways[part]
            if ways and all(way & ~parts for way in ways):
                found = (self._with(parts, bits(way)) for way in ways)
                return [after for after in found if after is not None]
        stuck = self._stuck(parts)
        if not stuck:
            return None
        # Parts that hold each other's way open: one of them needs a way from outside them.
        return [
            after
            for part in bits(stuck)
            for way in self._ways[part]
            if not way & stuck and way & ~parts
            if (after := self._with(parts, bits(way))) is not None
        ]

    def _with(self, parts: int, more: Iterable[int]) -> int | None:
        """The set with these parts and all behind which they stand; None where one of them never comes off."""
        queue = list(more)
        for part in queue:
            if self._never >> part & 1:
                return None
            if not parts >> part & 1:
                parts |= 1 << part
                queue += self._rules.behind[part]
        return parts

    def _stuck(self, parts: int) -> int:
        """The parts of a set that do not come off when only the set is touched."""
        off, before = 0, -1
        while off != before:
            before = off
            for part in bits(parts & ~off):
                ways = self._ways[part]
                if all(off >> other & 1 for other in self._rules.behind[part]) and (
                    not ways or any(not way & ~off for way in ways)
                ):
                    off |= 1 << part
        return parts & ~off

    def _ways_of(self, part: int) -> tuple[int, ...]:
        rules = self._rules
        ways = [rules.members[way] for way in rules.ways[part]]
        if any(not way for way in ways):
            return ()
        return tuple(sum(1 << other for other in set(way)) for way in ways)

    def _least(self, parts: int) -> int:
        """Minutes, each tool once, each rest but the first once."""
        minutes, tools, rests = 0, set[str](), {self._start, None}
        for part in bits(parts):
            work = self._works[part]
            minutes += work.minutes
            tools |= work.tools
            rests.add(work.rest)
        turns = len(rests) - len({self._start, None})
        return minutes + len(tools) * self._change + turns * self._turn
