"""What of the parts that are off could still be stripped again, kept up to date move by move: the heart of "may go on".

The anatomy asks for *reach(S)*, the largest part of S that one greedy sweep can strip when a part also waits for every
part of S that has it in `fit_after`. A sweep a move would do, and costs the whole machine. Here every part within reach
keeps a *rank*, later than the rank of all that its coming off leans on. So a part that leaves disturbs only what leaned
on it: that is taken out of reach, and what stands on other feet is brought back with a new rank (delete and rederive,
as in the upkeep of recursive views: Gupta, Mumick, Subrahmanian, SIGMOD 1993).
"""

from fingertight.order.rules import Rules


class Reach:
    """reach(off), and which of its parts a part on its way back would cut off."""

    def __init__(self, rules: Rules, off: bytearray, absent: bytearray) -> None:
        """Watch `off` and `absent` (1 for each part), which the caller keeps and changes before telling."""
        self._rules = rules
        self._off = off
        self._absent = absent
        self._rank = [0] * len(rules)
        self._clock = 0
        self.touched: set[int] = set()
        self.settled = False
        self.settle()

    def settle(self) -> None:
        """Give all ranks anew in one sweep, so that each part stands above every way it has, and neighbours can tell.

        Ranks given as parts came off leave a part below the ways that were cleared after it.
        """
        off = [part for part in range(len(self._rank)) if self._off[part]]
        for part in off:
            self._rank[part] = 0
        self._derive(off)
        self.settled = True

    def holds(self, part: int) -> bool:
        """Whether the part is off and within reach."""
        return self._rank[part] > 0

    def joined(self, part: int) -> None:
        """The part has come off (and is marked so)."""
        self.settled = False
        self.touched.add(part)
        shaken = [first for first in self._rules.fit_after[part] if self._rank[first]]
        self._derive([part, *self._shake(shaken)])

    def left(self, part: int) -> list[int]:
        """The part has gone on (and is marked so); which parts were within reach before, and are not any more?"""
        self.touched.add(part)
        shaken = self._shake([part]) if self._rank[part] else []
        self._derive([*shaken, *self._rules.fit_after[part]])
        return [other for other in shaken if other != part and not self._rank[other]]

    def vanished(self, part: int) -> None:
        """The part is absent (and is marked so): what leaned on it still does, what waited for it no longer does."""
        self.touched.add(part)
        rules = self._rules
        self._rank[part] = 0
        self._derive([*rules.frees[part], *(rules.owner[way] for way in rules.way_of[part]), *rules.fit_after[part]])

    def surely_kept_without(self, part: int) -> bool | None:
        """Would all the others stay within reach without this part? None: its neighbours alone do not tell."""
        rules, rank = self._rules, self._rank
        if not rank[part]:
            return True
        for other in rules.frees[part]:
            if rank[other]:
                return False
        kept: bool | None = True
        for way in rules.way_of[part]:
            other = rules.owner[way]
            if rank[other] and not self._stands(other, without=part):
                if not self._has_a_way(other, without=part):
                    return False
                kept = None
        return kept

    def _has_a_way(self, part: int, without: int) -> bool:
        """Whether a way of the part is clear though `without` is on, whatever that way itself leans on."""
        rank, absent, members = self._rank, self._absent, self._rules.members
        return any(
            all(absent[other] or (rank[other] and other != without) for other in members[way])
            for way in self._rules.ways[part]
        )

    def _stands(self, part: int, without: int = -1) -> bool:
        """Whether one way of the part leans only on what is absent or of lower rank: then it needs no new sweep."""
        rank, absent, members = self._rank, self._absent, self._rules.members
        own = rank[part]
        return any(
            all(absent[other] or (0 < rank[other] < own and other != without) for other in members[way])
            for way in self._rules.ways[part]
        )

    def _shake(self, first: list[int]) -> list[int]:
        """Take these out of reach, and all that leans on them without another foot to stand on."""
        rules, rank = self._rules, self._rank
        for part in first:
            rank[part] = 0
        shaken = list(first)
        for part in shaken:
            leaning = [other for other in rules.frees[part] if rank[other]]
            if self._off[part]:  # a part that has gone on is waited for by nobody
                leaning += [other for other in rules.fit_after[part] if rank[other]]
            for other in leaning:
                rank[other] = 0
            shaken += dict.fromkeys(leaning)
            for way in rules.way_of[part]:
                other = rules.owner[way]
                if rank[other] and not self._stands(other):
                    rank[other] = 0
                    shaken.append(other)
        return shaken

    def _ready(self, part: int) -> bool:
        rules, rank, absent, off = self._rules, self._rank, self._absent, self._off
        for other in rules.behind[part]:
            if not (rank[other] or absent[other]):
                return False
        for later in rules.fitted_before[part]:
            if off[later] and not rank[later]:
                return False
        ways = rules.ways[part]
        return not ways or any(all(rank[other] or absent[other] for other in rules.members[way]) for way in ways)

    def _derive(self, queue: list[int]) -> None:
        """Bring into reach whatever of these can be stripped now, and what that frees.

        A part that may find another way waits till nothing else moves: the more ways it has of lower rank, the seldomer
        must it be tried out whether one of them can be spared.
        """
        rules, rank, off = self._rules, self._rank, self._off
        self.touched.update(queue)
        patient: list[int] = []
        while queue or patient:
            hurried = not queue
            part = (patient if hurried else queue).pop()
            if rank[part] or not off[part] or not self._ready(part):
                continue
            if not hurried and self._may_find_another_way(part):
                patient.append(part)
                continue
            self._clock += 1
            rank[part] = self._clock
            self.touched.add(part)
            queue += [other for other in rules.frees[part] if off[other] and not rank[other]]
            queue += [rules.owner[way] for way in rules.way_of[part]]
            queue += [other for other in rules.fit_after[part] if off[other] and not rank[other]]

    def _may_find_another_way(self, part: int) -> bool:
        """Whether a way of the part is not clear yet, and nothing that is on stands in it."""
        rank, absent, off = self._rank, self._absent, self._off
        ways = self._rules.ways[part]
        if len(ways) < 2:
            return False
        blocked = [[other for other in self._rules.members[way] if not (rank[other] or absent[other])] for way in ways]
        return any(others and all(off[other] for other in others) for others in blocked)
