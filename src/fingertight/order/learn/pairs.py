"""What follows of pairs, by logic alone: "a must be off before b" (known), "b can come off with a on" (free).

Parts are numbers and sets of them the bits of one int, so that a row of 80 pairs is one operation. With `a → b` for
"a must be off before b, itself or through others" these hold for every machine that can be stripped, with ways or not:

1. a → b and b → c give a → c            2. a → b gives: not b → a
3. not a → c and b → c give: not a → b    4. not a → c and a → b give: not b → c

A fifth holds only without ways, so it is used of a part until something speaks for ways (`loose`):
5. "b cannot come off with K on" and all of K but one free of b give: that one → b; and likewise what is before all of
the rest of K. Each fact keeps its reason, so that a contradiction can name whoever it rests on.
"""

from collections.abc import Iterator
from typing import Literal, NamedTuple

Kind = Literal["known", "free"]
Fact = tuple[Kind, int, int]
"""("known", a, b): a must be off before b. ("free", a, b): b can come off with a on."""


class Reason(NamedTuple):
    """Why a fact holds: a source by its number (or -1), and the facts it was drawn from; `chosen`: rule 5 was used."""

    source: int = -1
    facts: tuple[Fact, ...] = ()
    chosen: int = -1


class Clash(Exception):
    """Something would be known and free at once. `sources`: what that rests on; `chosen`: where rule 5 was used."""

    def __init__(self, fact: Fact, sources: frozenset[int], chosen: frozenset[int]) -> None:
        super().__init__(fact)
        self.fact, self.sources, self.chosen = fact, sources, chosen


class No(NamedTuple):
    """A "no": not with all of `on` on. `source` is its number."""

    on: int
    source: int


class Half(NamedTuple):
    """A part came off with `on` on while `gone` was not seen at all: what `gone` could have carried stays open."""

    part: int
    on: int
    gone: int
    source: int


def bits(mask: int) -> Iterator[int]:
    """The numbers in a set.

    >>> list(bits(0b1101))
    [0, 2, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


class Pairs:
    """All pairs of so many parts; facts are added and what follows is drawn at once.

    >>> pairs = Pairs(3)
    >>> pairs.no(1, 0b001, 0), pairs.no(2, 0b010, 1)   # 1 not with 0 on, 2 not with 1 on
    (None, None)
    >>> list(bits(pairs.before[2])), pairs.is_free(2, 0)
    ([0, 1], True)
    """

    def __init__(self, parts: int, loose: frozenset[int] = frozenset()) -> None:
        self.parts = parts
        self.loose = loose
        self.before = [0] * parts  # before[b]: what is known to come off before b
        self.after = [0] * parts
        self.free = [0] * parts  # free[b]: what b can come off with
        self.frees = [0] * parts
        self.nos: list[list[No]] = [[] for _ in range(parts)]
        self._half: list[Half] = []
        self._why: dict[Fact, Reason] = {}
        self._new: list[Fact] = []

    def copy(self) -> "Pairs":
        """The same again, to go on with."""
        other = Pairs(0, self.loose)
        other.parts = self.parts
        other.before, other.after = self.before[:], self.after[:]
        other.free, other.frees = self.free[:], self.frees[:]
        other.nos = [list(nos) for nos in self.nos]
        other._half, other._why = self._half[:], dict(self._why)
        return other

    # -- what is heard ------------------------------------------------------------------------------------------------

    def came_off(self, part: int, on: int, gone: int, source: int) -> None:
        """A part came off with these on; `gone` may have been missing altogether. Drawn on by `settle`."""
        if gone:
            self._half.append(Half(part, on, gone, source))
        else:
            self._free(part, on & ~self.free[part], Reason(source))

    def yes(self, part: int, on: int, source: int) -> None:
        """It can come off with these on."""
        self._free(part, on & ~self.free[part], Reason(source))
        self.settle()

    def no(self, part: int, on: int, source: int) -> None:
        """It cannot come off with all of these on."""
        self.nos[part].append(No(on, source))
        if not on & (on - 1) and on & self.before[part]:  # said of this one alone: sure, with ways or without
            self._why["known", on.bit_length() - 1, part] = Reason(source)
        self._choose(part)
        self.settle()

    def settle(self) -> None:
        """Draw everything that follows. Raises Clash."""
        while True:
            while self._new:
                kind, first, second = self._new.pop()
                if kind == "known":
                    self._known_follows(first, second)
                else:
                    self._free_follows(first, second)
            self._weigh_halves()
            if not self._new:
                return

    # -- what is asked ------------------------------------------------------------------------------------------------

    def is_free(self, first: int, second: int) -> bool:
        """Whether `second` can come off with `first` on."""
        return bool(self.free[second] >> first & 1)

    def is_known(self, first: int, second: int) -> bool:
        """Whether `first` must be off before `second`."""
        return bool(self.before[second] >> first & 1)

    def is_chosen(self, first: int, second: int) -> bool:
        """Whether it is known only by rule 5, so only if the part has no ways."""
        return self.is_known(first, second) and bool(self.sources(("known", first, second))[1])

    def open(self, part: int) -> int:
        """What may or may not have to be off before the part: neither known nor free."""
        everything = (1 << self.parts) - 1
        return everything & ~(self.before[part] | self.free[part] | 1 << part)

    def sources(self, *facts: Fact) -> tuple[frozenset[int], frozenset[int]]:
        """The sources that these facts rest on, and the parts at which rule 5 was used."""
        seen, found, chosen = set(facts), set(), set()
        walk = list(facts)
        while walk:
            reason = self._why[walk.pop()]
            if reason.source >= 0:
                found.add(reason.source)
            if reason.chosen >= 0:
                chosen.add(reason.chosen)
            walk += [fact for fact in reason.facts if fact not in seen]
            seen.update(reason.facts)
        return frozenset(found), frozenset(chosen)

    # -- what follows -------------------------------------------------------------------------------------------------

    def _known(self, first: int, second: int, reason: Reason) -> None:
        if self.is_known(first, second):
            return
        fact: Fact = ("known", first, second)
        self._why[fact] = reason
        if self.is_free(first, second) or first == second:
            self._clash(fact)
        self.before[second] |= 1 << first
        self.after[first] |= 1 << second
        self._new.append(fact)

    def _free(self, second: int, firsts: int, reason: Reason) -> None:
        for first in bits(firsts & ~(1 << second)):
            self._one_free(first, second, reason)

    def _one_free(self, first: int, second: int, reason: Reason) -> None:
        if self.is_free(first, second):
            return
        fact: Fact = ("free", first, second)
        self._why[fact] = reason
        if self.is_known(first, second):
            self._clash(fact)
        self.free[second] |= 1 << first
        self.frees[first] |= 1 << second
        self._new.append(fact)

    def _known_follows(self, first: int, second: int) -> None:
        fact: Fact = ("known", first, second)
        for earlier in bits(self.before[first] & ~self.before[second]):
            self._known(earlier, second, Reason(facts=(fact, ("known", earlier, first))))
        for later in bits(self.after[second] & ~self.after[first]):
            self._known(first, later, Reason(facts=(fact, ("known", second, later))))
        self._one_free(second, first, Reason(facts=(fact,)))
        for other in bits(self.free[second] & ~self.free[first] & ~(1 << first)):
            self._one_free(other, first, Reason(facts=(fact, ("free", other, second))))
        for other in bits(self.frees[first] & ~self.frees[second] & ~(1 << second)):
            self._one_free(second, other, Reason(facts=(fact, ("free", first, other))))
        for later in {second, *bits(self.after[first])}:  # what is before all of a "no" may have become more
            self._choose(later)

    def _free_follows(self, first: int, second: int) -> None:
        fact: Fact = ("free", first, second)
        for middle in bits(self.before[second] & ~self.frees[first] & ~(1 << first)):
            self._one_free(first, middle, Reason(facts=(fact, ("known", middle, second))))
        for middle in bits(self.after[first] & ~self.free[second] & ~(1 << second)):
            self._one_free(middle, second, Reason(facts=(fact, ("known", first, middle))))
        self._choose(second)

    def _choose(self, part: int) -> None:
        """Rule 5, for each "no" that is not yet explained. What is before all of its K holds with ways, too."""
        for on, source in self.nos[part]:
            if on & self.before[part]:
                continue
            left = on if part in self.loose else on & ~self.free[part]
            dropped = on & ~left
            chosen = part if dropped and on & (on - 1) else -1
            facts: tuple[Fact, ...] = tuple(("free", other, part) for other in bits(dropped))
            if not left:
                found, parts = self.sources(*facts)
                raise Clash(("known", part, part), found | {source}, parts | ({part} if chosen >= 0 else set()))
            common = -1
            for other in bits(left):
                common &= self.before[other] | 1 << other
            for first in bits(common & ~self.before[part]):
                through: tuple[Fact, ...] = tuple(("known", first, other) for other in bits(left) if other != first)
                self._known(first, part, Reason(source, facts + through, chosen))

    def _weigh_halves(self) -> None:
        """Came off with `on` on and `gone` not seen: free of each that nothing of what was gone may have needed off.

        Had all that was gone been there, it could have come off with that one still on, so nothing depends on it.
        """
        open_still = []
        for half in self._half:
            part, on, gone, source = half
            left = 0
            for first in bits(on & ~self.free[part]):
                if gone & ~self.frees[first]:
                    left |= 1 << first
                else:
                    facts: tuple[Fact, ...] = tuple(("free", first, other) for other in bits(gone))
                    self._one_free(first, part, Reason(source, facts))
            if left:
                open_still.append(half._replace(on=left))
        self._half = open_still

    def _clash(self, fact: Fact) -> None:
        kind, first, second = fact
        facts: list[Fact] = [fact]
        if first != second:
            facts.append(("free" if kind == "known" else "known", first, second))
        raise Clash(fact, *self.sources(*facts))
