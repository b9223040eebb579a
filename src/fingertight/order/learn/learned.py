"""What is known of who blocks whom, after some strips and some answers: per pair, and as lists for an anatomy."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from fingertight.order.learn.evidence import Evidence
from fingertight.order.learn.heard import Answer, Contradiction, Source, Strip
from fingertight.order.learn.pairs import Pairs, bits
from fingertight.order.learn.ways import spared, ways_of

Standing = Literal["free", "known", "likely", "unknown"]


@dataclass(frozen=True, slots=True)
class Pair:
    """Must `first` be off before `second`?

    free: no, seen, said or follows. known: yes, said or follows. likely: it was, in all `strips` strips that show both.
    unknown: no strip shows both. `rests_on`: the strips and answers a known or free pair rests on.
    """

    first: str
    second: str
    standing: Standing
    strips: int
    rests_on: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Stand:
    """What one part says about its way off: only what does not follow from the others.

    `surely` and `likely` together are its `behind`. `ways`: besides, one of these sets must be off; confirmed by
    answers, and where `ways_open` there may be more of them, or some may be larger than need be. `seen_off`: the
    smallest sets that were off (or never seen) as it came off, in any strip.
    """

    part: str
    surely: tuple[str, ...] = ()
    likely: tuple[str, ...] = ()
    ways: tuple[tuple[str, ...], ...] = ()
    ways_open: bool = False
    seen_off: tuple[tuple[str, ...], ...] = ()

    @property
    def behind(self) -> tuple[str, ...]:
        """All that should be off before it, sure or not."""
        return self.surely + self.likely


class Learned:
    """What strips and answers say together; made by `learn`, never changed.

    >>> from fingertight.order.learn import learn
    >>> ann = Strip(("cover", "gear", "shaft"), "Ann, Monday")
    >>> learned = learn([ann], [Answer("shaft", ("gear",), "no", "the teacher")])
    >>> [learned.pair(first, "shaft").standing for first in ("cover", "gear")]
    ['likely', 'known']
    >>> learned.stand("shaft").surely, learned.stand("gear").likely
    (('gear',), ('cover',))
    >>> bea = Strip(("gear", "cover", "shaft"), "Bea, Tuesday")
    >>> learn([ann, bea], learned.answers).stand("shaft")
    Stand(part='shaft', surely=('gear',), likely=('cover',), ways=(), ways_open=False, seen_off=(('cover', 'gear'),))
    """

    def __init__(
        self,
        evidence: Evidence,
        pairs: Pairs,
        answers: tuple[Answer, ...],
        counted: tuple[Answer, ...],
        contradictions: tuple[Contradiction, ...],
    ) -> None:
        self.evidence = evidence
        self.pairs = pairs
        self.answers = answers
        self.counted = counted
        self.contradictions = contradictions

    @property
    def parts(self) -> tuple[str, ...]:
        """All parts that a strip names, as they were first named."""
        return self.evidence.parts

    @property
    def strips(self) -> tuple[Strip, ...]:
        """The strips it was learned from."""
        return self.evidence.strips

    # -- pairs --------------------------------------------------------------------------------------------------------

    def pair(self, first: str, second: str) -> Pair:
        """How it stands with this pair. Raises KeyError for a part that no strip names."""
        index = self.evidence.index
        a, b = index[first], index[second]
        strips = self.evidence.times_before(a, b)
        for kind, holds in (("known", self.pairs.is_known), ("free", self.pairs.is_free)):
            if holds(a, b):
                numbers, _ = self.pairs.sources((kind, a, b))  # type: ignore[arg-type]
                return Pair(first, second, kind, strips, self.sources(numbers))  # type: ignore[arg-type]
        return Pair(first, second, "likely" if strips else "unknown", strips)

    def sources(self, numbers: Iterable[int]) -> tuple[Source, ...]:
        """The strips and answers with these numbers, as `Pairs` counts them: strips first."""
        every: tuple[Source, ...] = (*self.strips, *self.answers)
        return tuple(every[number] for number in sorted(numbers))

    def candidates(self) -> frozenset[tuple[str, str]]:
        """Every pair (a, b) of which a may have to be off before b: a was in every strip that shows both, and nobody
        said otherwise. What truly must be is among them, as long as the answers are true; more strips only take away.
        """
        return frozenset(
            (first, second) for b, second in enumerate(self.parts) for first in self.evidence.names(self._possible(b))
        )

    def _possible(self, part: int) -> int:
        everything = (1 << len(self.parts)) - 1
        return everything & ~self.pairs.free[part] & ~(1 << part)

    def unsettled(self) -> int:
        """How many pairs are neither known nor free."""
        return sum(self.pairs.open(part).bit_count() for part in range(len(self.parts)))

    # -- lists for an anatomy -----------------------------------------------------------------------------------------

    def stand(self, part: str) -> Stand:
        """What to write for this part. Raises KeyError for a part that no strip names."""
        number, names = self.evidence.index[part], self.evidence.names
        surely = self.pairs.before[number]
        ways = ways_of(self, number)
        covering = self.covering[number] & ~self._in_every(ways.written)
        held, written = spared(self, number, covering & surely, ways.written)
        return Stand(
            part,
            names(covering & surely & ~held),
            names(covering & ~surely),
            tuple(names(way) for way in written),
            ways.open,
            tuple(names(off) for off in self.evidence.minimal_off(number)),
        )

    def _in_every(self, ways: tuple[int, ...]) -> int:
        """What is off whichever of these ways is clear."""
        common = -1 if ways else 0
        for way in ways:
            implied = 0
            for other in bits(way):
                implied |= self.blockers[other]
            common &= implied
        return common

    def stands(self) -> tuple[Stand, ...]:
        """What to write for every part: an anatomy's `behind` and `ways`.

        By it every strip of a whole machine was lawful, whenever the asking stops. Without ways that holds for machines
        that lacked parts, too; with ways a few of those stay unlawful by it (4 of 1,600 measured), too careful.
        """
        return tuple(self.stand(part) for part in self.parts)

    @cached_property
    def _likely(self) -> list[int]:
        """For each part, what is open but was off before it in every strip that shows both."""
        return [self.pairs.open(part) & off for part, off in enumerate(self.evidence.before)]

    @cached_property
    def blockers(self) -> list[int]:
        """For each part, all that is to be off before it, sure or likely, through others too. Never a ring.

        Too careful rather than too loose: what was said to be free comes back where it follows from what is likely.
        Not kept is what a strip speaks against on a machine that lacked a part: there it could only be through that.
        """
        sure = self.pairs.before
        kept = [before | self._likely[part] & ~self.rings[part] for part, before in enumerate(sure)]
        while True:
            rows = closed(kept)
            direct = _covering(rows)
            against = [direct[part] & ~sure[part] & seen for part, seen in enumerate(self.evidence.came_off_with)]
            if not any(against):
                return rows
            kept = [mask & ~off for mask, off in zip(kept, against, strict=True)]

    @cached_property
    def rings(self) -> list[int]:
        """For each part, those with which it would stand in a ring, if all that is likely were so."""
        reach = closed([before | self._likely[part] for part, before in enumerate(self.pairs.before)])
        return [
            sum(1 << other for other in bits(mask) if other != part and reach[other] >> part & 1)
            for part, mask in enumerate(reach)
        ]

    @cached_property
    def covering(self) -> list[int]:
        """For each part, those of its blockers that do not follow from its other blockers."""
        return _covering(self.blockers)


def _covering(rows: list[int]) -> list[int]:
    out = []
    for mask in rows:
        implied = 0
        for other in bits(mask):
            implied |= rows[other]
        out.append(mask & ~implied)
    return out


def closed(before: list[int]) -> list[int]:
    """The transitive closure, by rows: after the k-th step every row knows what it reaches through the first k.

    >>> closed([0, 0b001, 0b010])
    [0, 1, 3]
    """
    rows = before[:]
    for through, _ in enumerate(rows):
        mask, bit = rows[through], 1 << through
        for part, row in enumerate(rows):
            if row & bit:
                rows[part] = row | mask
    return rows
