"""What may come off and go on now, and why not yet, kept up to date with work proportional to what a part touches."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from fingertight.order.reach import Reach
from fingertight.order.rules import Rules


@dataclass(frozen=True, slots=True)
class InTheWay:
    """What keeps a part from coming off now: only what is still missing. With a way clear there are no `ways` here."""

    behind: tuple[str, ...] = ()
    ways: tuple[tuple[str, ...], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.behind or self.ways)


NOTHING = InTheWay()


@dataclass(frozen=True, slots=True)
class NotYet:
    """What keeps a part from going on now: `after` must be on before it; `in_the_way` must come off first."""

    after: tuple[str, ...] = ()
    in_the_way: InTheWay = NOTHING

    def __bool__(self) -> bool:
        return bool(self.after or self.in_the_way)


class Step(NamedTuple):
    """What one move changed for others: now free to be where the rules say, now held, now shut in."""

    freed: tuple[str, ...] = ()
    held: tuple[str, ...] = ()
    shut_in: tuple[str, ...] = ()


class Moves:
    """A machine part of the way through: which parts are off, absent or on, and what may move next.

    `took`, `put` and `lacks` accept what happened, lawful or not; whether it was is asked before.

    >>> from fingertight.order.rules import Stands
    >>> moves = Moves(Rules([Stands("case", stays=True), Stands("cover"), Stands("shaft", ["cover"])]))
    >>> moves.may_come_off(), moves.in_the_way("shaft").behind
    (['cover'], ('cover',))
    >>> moves.took("cover").freed
    ('shaft',)
    >>> _ = moves.took("shaft")
    >>> moves.may_go_on(), moves.not_yet("cover").after
    (['shaft'], ('shaft',))
    """

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self._wait = rules.wait[:]
        self._left = rules.left[:]
        self._clear = [0] * len(rules)
        self._off = bytearray(len(rules))
        self._absent = bytearray(len(rules))
        self._reach: Reach | None = None
        self._ask_again: set[int] = set()
        self._refused: set[int] = set()
        self._welcome: set[int] = set()

    # -- what happened --------------------------------------------------------------------------------------------

    def took(self, part: str) -> Step:
        """The part came off."""
        number = self.rules.index[part]
        if self._off[number]:
            return Step()
        was_gone = self._absent[number]
        self._absent[number] = 0
        self._off[number] = 1
        freed = () if was_gone else self._gone(number)
        if was_gone:
            self._reach = None
        elif self._reach:
            self._reach.joined(number)
            self._ask_again |= self._refused
        return Step(freed=self._names(freed))

    def put(self, part: str) -> Step:
        """The part went on."""
        rules = self.rules
        number = rules.index[part]
        if not (self._off[number] or self._absent[number]):
            return Step()
        reach = self._reachable() if self._off[number] else None
        if reach is None:
            self._reach = None
        held = self._back(number)
        # Out of reach, but it could have gone back at once: that is over now, too.
        could = [other for other in held if self._off[other] and not any(self._off[a] for a in rules.fit_after[other])]
        self._off[number] = self._absent[number] = 0
        lost = reach.left(number) if reach else []
        if rules.fit_after[number]:  # whatever waited for this part waits no longer
            self._ask_again |= self._refused
        shut_in = sorted({*lost, *could}) if lost or could else ()
        return Step(held=self._names(held), shut_in=self._names(shut_in))

    def lacks(self, part: str) -> Step:
        """This very machine does not have the part: out of the way, and never missed."""
        number = self.rules.index[part]
        if self._absent[number]:
            return Step()
        was_off = self._off[number]
        self._off[number] = 0
        self._absent[number] = 1
        freed = () if was_off else self._gone(number)
        if self._reach:
            self._reach.vanished(number)
            self._ask_again |= self._refused
        return Step(freed=self._names(freed))

    def _gone(self, part: int) -> tuple[int, ...]:
        """Count the part as out of everybody's way; who is free by it?"""
        rules, wait, left, clear = self.rules, self._wait, self._left, self._clear
        freed = []
        for other in rules.frees[part]:
            wait[other] -= 1
            if not wait[other]:
                freed.append(other)
        for way in rules.way_of[part]:
            left[way] -= 1
            if not left[way]:
                owner = rules.owner[way]
                clear[owner] += 1
                if clear[owner] == 1:  # the first clear way frees; a second one changes nothing
                    wait[owner] -= 1
                    if not wait[owner]:
                        freed.append(owner)
        return tuple(freed)

    def _back(self, part: int) -> tuple[int, ...]:
        """The same steps backwards; who is held by it?"""
        rules, wait, left, clear = self.rules, self._wait, self._left, self._clear
        held = []
        for other in rules.frees[part]:
            if not wait[other]:
                held.append(other)
            wait[other] += 1
        for way in rules.way_of[part]:
            left[way] += 1
            if left[way] == 1:
                owner = rules.owner[way]
                clear[owner] -= 1
                if not clear[owner]:
                    if not wait[owner]:
                        held.append(owner)
                    wait[owner] += 1
        return tuple(held)

    # -- what may be done -----------------------------------------------------------------------------------------

    def is_off(self, part: str) -> bool:
        """Whether the part is off (an absent part is not)."""
        return bool(self._off[self.rules.index[part]])

    def is_absent(self, part: str) -> bool:
        """Whether this machine lacks the part."""
        return bool(self._absent[self.rules.index[part]])

    def is_on(self, part: str) -> bool:
        """Whether the part is neither off nor absent."""
        number = self.rules.index[part]
        return not (self._off[number] or self._absent[number])

    def is_clear(self, part: str) -> bool:
        """Whether nothing is in its way: if on it may come off, if off it is where it may lawfully be."""
        number = self.rules.index[part]
        return not self._wait[number] and not self.rules.never[number]

    def off(self) -> list[str]:
        """The parts that are off, as they stand in the anatomy."""
        return [name for number, name in enumerate(self.rules.ids) if self._off[number]]

    def on(self) -> list[str]:
        """The parts that are on, as they stand in the anatomy."""
        return [name for number, name in enumerate(self.rules.ids) if not (self._off[number] or self._absent[number])]

    def may_come_off(self) -> list[str]:
        """The parts that are on and free to come off, as they stand in the anatomy."""
        off, absent, never, wait = self._off, self._absent, self.rules.never, self._wait
        return [
            name
            for number, name in enumerate(self.rules.ids)
            if not wait[number] and not (off[number] or absent[number] or never[number])
        ]

    def may_go_on(self) -> list[str]:
        """The parts that are off and may go on, as they stand in the anatomy (conditions 1 to 3 of its rules)."""
        self._settle()
        return list(self._names(sorted(self._welcome)))

    def may_part_go_on(self, part: str) -> bool:
        """Whether this part, which is off, may go on now."""
        number = self.rules.index[part]
        return bool(self._off[number]) and self._may_go_on(number)

    def may_another_piece_go_on(self, part: str) -> bool:
        """Whether one more piece may go on of a part that is not wholly off: what it shuts in is shut in already."""
        number = self.rules.index[part]
        return not self._wait[number] and not any(self._off[first] for first in self.rules.fit_after[number])

    def would_hold(self, part: str) -> tuple[str, ...]:
        """Whom this part would hold by going on: nothing is in their way now, and it would be."""
        rules, wait, clear = self.rules, self._wait, self._clear
        number = rules.index[part]
        closed = Counter(rules.owner[way] for way in rules.way_of[number] if not self._left[way])
        held = [other for other in rules.frees[number] if not wait[other]]
        held += [owner for owner, ways in closed.items() if not wait[owner] and clear[owner] == ways]
        return self._names(dict.fromkeys(held))

    def in_the_way(self, part: str) -> InTheWay:
        """What is still on that keeps the part from coming off (or held it when it came off out of turn)."""
        rules = self.rules
        number = rules.index[part]
        if not self._wait[number]:
            return NOTHING
        behind = self._names(dict.fromkeys(other for other in rules.behind[number] if self._still_on(other)))
        if self._clear[number]:
            return InTheWay(behind)
        ways = (rules.members[way] for way in rules.ways[number])
        return InTheWay(behind, tuple(self._names(other for other in way if self._still_on(other)) for way in ways))

    def not_yet(self, part: str) -> NotYet:
        """What must go on before the part, and what must come off before it, if anything."""
        rules = self.rules
        number = rules.index[part]
        after = {first for first in rules.fit_after[number] if self._off[first]}
        reach = self._reachable()
        if self._off[number] and reach.surely_kept_without(number) is not True:
            neighbours = {*rules.frees[number], *(rules.owner[way] for way in rules.way_of[number])}
            after |= neighbours & set(self._cut_off_by(number))
        return NotYet(self._names(sorted(after)), self.in_the_way(part))

    # -- how "may go on" stays true -------------------------------------------------------------------------------

    def _reachable(self) -> Reach:
        if self._reach is None:
            self._reach = Reach(self.rules, self._off, self._absent)
            self._welcome.clear()
            self._refused.clear()
            self._ask_again = {number for number in range(len(self.rules)) if self._off[number]}
        return self._reach

    def _settle(self) -> None:
        """Ask again of those a move can have changed.

        Trying a part out gives others new ranks: they stay in `touched`, to be asked again after the next move. A part
        that a trial refused may be let on by what happens far away, but only by what widens the reach.
        """
        reach = self._reachable()
        asked = self._ask_again
        for part in reach.touched:
            asked |= self._concerned(part)
        reach.touched.clear()
        self._ask_again = set()
        for part in asked:
            if self._off[part] and self._may_go_on(part):
                self._welcome.add(part)
            else:
                self._welcome.discard(part)

    def _concerned(self, part: int) -> set[int]:
        """Whose answer can change when this part moves, or comes within or out of reach."""
        rules = self.rules
        concerned = {part, *rules.behind[part], *rules.frees[part], *rules.fitted_before[part]}
        for owner in {part, *(rules.owner[way] for way in rules.way_of[part])}:
            concerned.add(owner)
            for way in rules.ways[owner]:
                concerned.update(rules.members[way])
        return {other for other in concerned if self._off[other] or other in self._welcome}

    def _may_go_on(self, part: int) -> bool:
        self._refused.discard(part)
        if self._wait[part] or any(self._off[first] for first in self.rules.fit_after[part]):
            return False
        reach = self._reachable()
        kept = reach.surely_kept_without(part)
        if kept is None and not reach.settled:
            reach.settle()
            kept = reach.surely_kept_without(part)
        if kept is None:
            kept = not self._cut_off_by(part)
            if not kept:
                self._refused.add(part)
        return kept

    def _cut_off_by(self, part: int) -> list[int]:
        """Which parts would be out of reach with this one on: put it on, look, and take it off again."""
        reach = self._reachable()
        settled = reach.settled
        self._off[part] = 0
        lost = reach.left(part)
        self._off[part] = 1
        reach.joined(part)
        reach.settled = settled  # a trial moves few ranks; a new sweep for each would cost the whole machine
        return lost

    def _still_on(self, part: int) -> bool:
        return not (self._off[part] or self._absent[part])

    def _names(self, numbers: Iterable[int]) -> tuple[str, ...]:
        ids = self.rules.ids
        return tuple([ids[number] for number in numbers])
