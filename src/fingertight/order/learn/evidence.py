"""Strips as numbers: who was surely on when a part came off, what was off before what, and what near each other.

Where a part stands twice in a strip, only what is true whichever of the two was meant is used: it was on until the
first, and it came off with nothing on that was off by the last.
"""

from collections.abc import Collection, Sequence
from functools import cached_property
from typing import NamedTuple

from fingertight.order.learn.heard import Strip
from fingertight.order.learn.pairs import bits


class CameOff(NamedTuple):
    """In strip `strip` the part came off while `on` was surely on; of `gone` nothing is known."""

    strip: int
    part: int
    on: int
    gone: int


class Evidence:
    """What the strips show, before anybody is asked.

    >>> seen = Evidence([Strip(("cover", "gear", "shaft"), "Ann, Monday")])
    >>> seen.parts, [list(bits(one.on)) for one in seen.came_off]
    (('cover', 'gear', 'shaft'), [[1, 2], [2], []])
    """

    def __init__(self, strips: Sequence[Strip]) -> None:
        """Number the parts in the order in which they were first named."""
        self.strips = tuple(strips)
        self.parts = tuple(dict.fromkeys(part for strip in strips for part in (*strip.order, *strip.still_on)))
        self.index = {part: number for number, part in enumerate(self.parts)}
        self._first: list[dict[int, int]] = []
        self._last: list[dict[int, int]] = []
        for strip in strips:
            numbers = [self.index[part] for part in strip.order]
            last = {part: place for place, part in enumerate(numbers)}
            self._last.append(dict(sorted(last.items(), key=lambda one: one[1])))
            self._first.append({part: place for place, part in reversed(list(enumerate(numbers)))})

    @cached_property
    def came_off(self) -> list[CameOff]:
        """Each part of each strip as it came off."""
        everything = (1 << len(self.parts)) - 1
        found = []
        for number, strip in enumerate(self.strips):
            first, last = self._first[number], self._last[number]
            on = sum(1 << self.index[part] for part in set(strip.still_on) - set(strip.order))
            named = on | sum(1 << part for part in first)
            starts = {place: part for part, place in first.items()}
            ends = {place: part for part, place in last.items()}
            for place in range(len(strip.order) - 1, -1, -1):
                if place in ends:
                    found.append(CameOff(number, ends[place], on, everything & ~named))
                if place in starts:
                    on |= 1 << starts[place]
        return found[::-1]

    @cached_property
    def came_off_by_part(self) -> list[list[CameOff]]:
        """For each part, how it came off in each strip."""
        found: list[list[CameOff]] = [[] for _ in self.parts]
        for one in self.came_off:
            found[one.part].append(one)
        return found

    @cached_property
    def surely_on(self) -> list[list[tuple[int, int]]]:
        """For each part, what was on as it came off and would have been on a machine that lacks nothing; and the strip.

        What a strip does not show may have been absent. It would have come off as well with those on with which it
        came off in some whole strip; only those are kept.
        """
        found: list[list[tuple[int, int]]] = []
        whole = [[one.on for one in own if not one.gone] for own in self.came_off_by_part]
        for own in self.came_off_by_part:
            rows = []
            for one in own:
                on = one.on
                for absent in bits(one.gone):
                    on &= max(whole[absent], key=lambda other, on=on: (other & on).bit_count(), default=0)  # type: ignore[misc]
                rows.append((on, one.strip))
            found.append(rows)
        return found

    @cached_property
    def came_off_with(self) -> list[int]:
        """For each part, all that was on as it came off, in one strip or another."""
        masks = [0] * len(self.parts)
        for one in self.came_off:
            masks[one.part] |= one.on
        return masks

    @cached_property
    def before(self) -> list[int]:
        """For each part, what was off before it in some strip that names both."""
        masks = [0] * len(self.parts)
        for last in self._last:
            gone = 0
            for part in last:
                masks[part] |= gone
                gone |= 1 << part
        return masks

    @cached_property
    def gaps(self) -> list[dict[int, float]]:
        """gaps[b][a]: how many parts came off from a to b, at least, in any strip where a was before b."""
        gaps: list[dict[int, float]] = [{} for _ in self.parts]
        for last in self._last:
            gone: list[tuple[int, int]] = []
            for part, place in last.items():
                own = gaps[part]
                for other, where in gone:
                    if place - where < own.get(other, 1e9):
                        own[other] = place - where
                gone.append((part, place))
        return gaps

    @cached_property
    def usual(self) -> list[int]:
        """The parts by how early they come off, on the mean."""
        shares: list[list[float]] = [[] for _ in self.parts]
        for last in self._last:
            for part, place in last.items():
                shares[part].append(place / len(last))
        return sorted(range(len(self.parts)), key=lambda part: sum(shares[part]) / max(1, len(shares[part])))

    def times_before(self, first: int, second: int) -> int:
        """In how many strips the first was off before the second."""
        both = (last for last in self._last if first in last and second in last)
        return sum(last[first] < last[second] for last in both)

    def minimal_off(self, part: int) -> list[int]:
        """The smallest sets of what was off (or not seen at all) when the part came off."""
        everything = (1 << len(self.parts)) - 1 & ~(1 << part)
        sets = {everything & ~on for on, _ in self.surely_on[part]}
        return [one for one in sorted(sets) if not any(other != one and other & ~one == 0 for other in sets)]

    def names(self, mask: int) -> tuple[str, ...]:
        """The parts of a set, as they were first named."""
        return tuple(self.parts[number] for number in bits(mask))

    def mask(self, parts: Collection[str]) -> int:
        """These parts as a set."""
        return sum(1 << self.index[part] for part in set(parts))
