"""All that may be in the way of one part is ticked at once; what was ticked, part by part, becomes answers.

Somebody who ticks says what a part touches. That it comes off with everything else on cannot be meant of what is in the
way of the ticked ones in turn; so the answers are drawn from all ticks together, not from each as it was made.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from fingertight.order.learn.asking.question import chances
from fingertight.order.learn.heard import Answer
from fingertight.order.learn.learned import Learned
from fingertight.order.learn.pairs import bits
from fingertight.order.learn.ways import MOST_COMBINATIONS, least_off

MOST_SETS = 4
"""So many sets with which a part can be off are told beside another; what is told of more would be as true."""


@dataclass(frozen=True, slots=True)
class AtOnce:
    """One part and all that may stand in its way, to be told apart by ticks: the nearest in the strips first."""

    part: str
    candidates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ticks:
    """The part comes off once all of one of these sets is off, and (`only`) no sooner and whatever else is on.

    One set is what must be off; several are ways. Without `only` each part of the first set must be off, and of the
    rest nothing is said.
    """

    part: str
    sets: tuple[tuple[str, ...], ...]
    only: bool
    by: str


def next_at_once(learned: Learned, done: Collection[str] = ()) -> AtOnce | None:
    """The next part of which somebody could say what is in its way; None when there is none left.

    What follows by itself is no candidate. done: of these it was said, certain or not.

    >>> from fingertight.order.learn import Strip, learn
    >>> next_at_once(learn([Strip(("cover", "gear", "shaft"), "Ann, Monday")]))
    AtOnce(part='gear', candidates=('cover',))
    """
    for part in learned.evidence.usual:
        if learned.pairs.open(part) and learned.parts[part] not in done:
            likely = chances(learned, part)
            nearest = sorted(likely, key=lambda one: (-likely[one], one))
            return AtOnce(learned.parts[part], tuple(learned.parts[other] for other in nearest))
    return None


def combinations(sets: Sequence[Collection[str]]) -> int:
    """In how many ways can one part of each set be left on? Above 64 nobody would be asked about all of them.

    >>> combinations([("head",), ("case", "nut")])
    2
    """
    many = 1
    for one in sets:
        many *= len(one)
    return many


def told(learned: Learned, ticks: Sequence[Ticks]) -> tuple[Answer, ...]:
    """What do all these ticks say, as answers? Of one part the last ticks count.

    learned: from strips and other answers, for what is in the way of parts that nobody ticked. Raises KeyError for
    a part that no strip shows.

    >>> from fingertight.order.learn import Strip, learn
    >>> learned = learn([Strip(("cover", "gear", "shaft"), "Ann, Monday")])
    >>> for answer in told(learned, [Ticks("shaft", (("gear",),), True, "Bea"), Ticks("gear", ((),), True, "Bea")]):
    ...     print(answer.part, answer.said, answer.on)
    shaft yes ('cover',)
    shaft no ('gear',)
    gear yes ('cover', 'shaft')
    """
    last = {one.part: one for one in ticks}
    index = learned.evidence.index
    known = learned.pairs.before  # nobody is asked about that again, so it is in every set
    ways = {
        index[one.part]: [learned.evidence.mask(some) | known[index[one.part]] for some in one.sets]
        for one in last.values()
        if one.only
    }
    off = _Off(learned, ways)
    for part in learned.evidence.usual:  # what comes off early is in the way of what comes later: so nothing nests deep
        off.of(part)
    return tuple(answer for one in last.values() for answer in _answers(learned, one, off))


def _answers(learned: Learned, ticks: Ticks, off: "_Off") -> Iterator[Answer]:
    evidence, part = learned.evidence, ticks.part
    masks, known = [evidence.mask(some) for some in ticks.sets], learned.pairs.before[evidence.index[part]]
    everything = (1 << len(learned.parts)) - 1 & ~(1 << evidence.index[part])
    if ticks.only:
        for on in dict.fromkeys(everything & ~gone for one in masks for gone in off.with_all(one | known)):
            if on:
                yield Answer(part, evidence.names(on), "yes", ticks.by)
    if combinations(ticks.sets) <= MOST_COMBINATIONS:
        left_on = {sum(1 << one for one in set(chosen)) for chosen in product(*(list(bits(one)) for one in masks))}
        for on in sorted(left_on):
            if on and not any(other != on and not other & ~on for other in left_on):
                yield Answer(part, evidence.names(on), "no", ticks.by)


class _Off:
    """With which sets can a part be off? From its ticks, else from the strips.

    What needs itself cannot be. Of parts whose ways stand in a ring some sets may be left out; those found are as true.
    """

    def __init__(self, learned: Learned, ways: Mapping[int, list[int]]) -> None:
        self._learned, self._ways = learned, ways
        self._found: dict[int, list[int]] = {}
        self._within: set[int] = set()

    def of(self, part: int) -> list[int]:
        """The smallest few sets, with the part in each."""
        if part in self._found:
            return self._found[part]
        if part in self._within:
            return []
        self._within.add(part)
        sets = [one | 1 << part for way in self._ways.get(part, ()) for one in self.with_all(way)]
        self._within.discard(part)
        sets = sets or [one | 1 << part for one in least_off(self._learned, part)]
        self._found[part] = _least(sets)[:MOST_SETS]
        return self._found[part]

    def with_all(self, parts: int) -> list[int]:
        """The smallest few sets with which all of these are off."""
        sets = [0]
        for part in bits(parts):
            sets = _least([one | other for one in sets for other in self.of(part)])[:MOST_SETS]
        return sets


def _least(sets: list[int]) -> list[int]:
    """Those that hold no other, the smallest first."""
    least = [one for one in sets if not any(other != one and not other & ~one for other in sets)]
    return sorted(set(least), key=lambda one: (one.bit_count(), one))
