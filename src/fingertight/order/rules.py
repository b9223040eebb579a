"""Who stands in whose way, as counters and edges: `behind`, `ways`, `fit_after` and `stays`, ready for sweeping.

Parts are numbers here (their place in the anatomy), because a sweep over 50,000 of them must not pay for names.
Linear-time sweeps like this decide AND/OR precedence: Möhring, Skutella, Stork, SIAM J. Comput. 33 (2004) 393–415.
"""

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import NamedTuple, Self

from fingertight.anatomy.model import Anatomy

Ids = Sequence[str]


class Stands(NamedTuple):
    """What one part says about its way off and on."""

    id: str
    behind: Ids = ()
    ways: Sequence[Ids] = ()
    fit_after: Ids = ()
    stays: bool = False


class Rules:
    """The moves of a machine, before anything was moved. Built once, never changed; `Moves` keeps what has been moved.

    `frees[p]`: parts that have p in `behind`, once for each time. `way_of[p]`: ways that p stands in.
    `owner[w]`: the part way w leads out. `members[w]`: who stands in way w.
    """

    def __init__(self, parts: Iterable[Stands]) -> None:
        """Number the parts and turn the lists round.

        Raises KeyError when a part is named that is not there; the reader of the anatomy has said so before.
        """
        said = list(parts)
        self.ids = [part[0] for part in said]
        self.index = index = dict(zip(self.ids, range(len(said)), strict=True))
        self.frees: list[list[int]] = [[] for _ in said]
        self.wait: list[int] = []
        self.way_of: list[list[int]] = [[] for _ in said]
        self.owner: list[int] = []
        self.left: list[int] = []
        self.stays: list[int] = []
        self._said = said
        frees, wait = self.frees, self.wait
        for number, (_, behind, ways, _, stays) in enumerate(said):
            for other in behind:
                frees[index[other]].append(number)
            if ways and all(ways):  # an empty way is clear from the start, so nothing waits for it
                wait.append(len(behind) + 1)
                self._add_ways(number, ways)
            else:
                wait.append(len(behind))
            if stays:
                self.stays.append(number)

    def _add_ways(self, number: int, ways: Sequence[Ids]) -> None:
        for way in ways:
            for other in way:
                self.way_of[self.index[other]].append(len(self.owner))
            self.owner.append(number)
            self.left.append(len(way))

    @classmethod
    def of(cls, anatomy: Anatomy) -> Self:
        """The rules an anatomy states."""
        return cls(Stands(part.id, part.behind, part.ways, part.fit_after, part.stays) for part in anatomy.parts)

    def __len__(self) -> int:
        return len(self.ids)

    @cached_property
    def behind(self) -> list[list[int]]:
        """For each part, who must be off before it comes off."""
        return [[self.index[other] for other in part.behind] for part in self._said]

    @cached_property
    def ways(self) -> list[list[int]]:
        """For each part, its ways out by number."""
        out: list[list[int]] = [[] for _ in self.ids]
        for way, owner in enumerate(self.owner):
            out[owner].append(way)
        return out

    @cached_property
    def members(self) -> list[list[int]]:
        """For each way, who stands in it."""
        return [[self.index[other] for other in way] for part in self._said if all(part.ways) for way in part.ways]

    @cached_property
    def fit_after(self) -> list[list[int]]:
        """For each part, who must be on before it goes on."""
        return [[self.index[other] for other in part.fit_after] for part in self._said]

    @cached_property
    def fitted_before(self) -> list[list[int]]:
        """For each part, who waits for it on the rebuild: the parts that have it in `fit_after`."""
        out: list[list[int]] = [[] for _ in self.ids]
        for part, firsts in enumerate(self.fit_after):
            for first in firsts:
                out[first].append(part)
        return out

    @cached_property
    def never(self) -> bytearray:
        """1 for each part that stays."""
        marks = bytearray(len(self.ids))
        for part in self.stays:
            marks[part] = 1
        return marks

    def sweep(self) -> list[int]:
        """A whole strip, in one lawful order, of all that can come off at all; linear in parts and edges.

        >>> Rules([Stands("head", ["cover"]), Stands("cover")]).sweep()
        [1, 0]
        """
        wait, left, frees, way_of, owner = self.wait[:], self.left[:], self.frees, self.way_of, self.owner
        for part in self.stays:
            wait[part] = -1
        queue = [part for part, count in enumerate(wait) if not count]
        clear = bytearray(len(wait))
        for part in queue:
            for other in frees[part]:
                wait[other] = count = wait[other] - 1
                if not count:
                    queue.append(other)
            for way in way_of[part]:
                left[way] = count = left[way] - 1
                if not count and not clear[owner[way]]:
                    # Only the first clear way counts, or a part with two clear ways would be freed twice.
                    clear[owner[way]] = 1
                    wait[owner[way]] = count = wait[owner[way]] - 1
                    if not count:
                        queue.append(owner[way])
        return queue
