"""Why a machine cannot be stripped or built back at all: rings of blockers, and parts behind something that stays."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fingertight.order.reach import Reach
from fingertight.order.rules import Rules


@dataclass(frozen=True, slots=True)
class Knot:
    """Parts that block each other, each with the next (the last with the first) in its way; or [part, staying part]."""

    code: Literal["ring", "never-off", "never-on"]
    ring: tuple[str, ...]
    stuck: tuple[str, ...]

    def sentence(self, titles: dict[str, str]) -> str:
        """What is wrong, with the names people use.

        >>> Knot("never-off", ("shaft", "case"), ("shaft",)).sentence({"shaft": "Shaft", "case": "Case"})
        'Shaft can never come off: Case is in its way, and Case stays.'
        """
        names = [titles[part] for part in self.ring]
        if self.code == "never-off":
            return f"{names[0]} can never come off: {names[1]} is in its way, and {names[1]} stays."
        circle = ", which waits for ".join([*names, names[0]])
        if self.code == "ring":
            return f"These parts block each other, so none of them can ever come off: {circle}."
        return f"These parts can never go back, whatever is tried first: {circle}."


def knots(rules: Rules) -> list[Knot]:
    """All that keeps parts from ever coming off; and, where there is nothing of that kind, from ever going back.

    >>> from fingertight.order.rules import Stands
    >>> knots(Rules([Stands("a", ["b"]), Stands("b", ["a"])]))[0].ring
    ('a', 'b')
    """
    free = set(rules.sweep())
    stuck = [part for part in range(len(rules)) if part not in free and not rules.never[part]]
    if stuck:
        return _off_knots(rules, stuck)
    off = bytearray(0 if stays else 1 for stays in rules.never)
    reach = Reach(rules, off, bytearray(len(rules)))
    stuck = [part for part in range(len(rules)) if off[part] and not reach.holds(part)]
    return _circles(rules, stuck, "never-on")


def knots_before(rules: Rules, part: str) -> list[Knot]:
    """What keeps this one part from ever coming off; empty when it can."""
    number = rules.index[part]
    if rules.never[number]:
        return [Knot("never-off", (part, part), (part,))]
    free = set(rules.sweep())
    if number in free:
        return []
    # Only what keeps this part on: a machine may have another knot that this part has nothing to do with.
    stuck, found = [number], {number}
    for other in stuck:
        for blocker in _blockers(rules, other, free):
            if not (rules.never[blocker] or blocker in free or blocker in found):
                found.add(blocker)
                stuck.append(blocker)
    return sorted(_off_knots(rules, sorted(stuck)), key=lambda knot: part not in knot.ring)


def _blockers(rules: Rules, part: int, free: set[int]) -> list[int]:
    """Who stands in the part's way for ever or on a way that is not clear; ways tell nothing once one of them is."""
    ways = [rules.members[way] for way in rules.ways[part]]
    if any(free.issuperset(way) for way in ways):
        ways = []
    return [*rules.behind[part], *(other for way in ways for other in way)]


def _off_knots(rules: Rules, stuck: list[int]) -> list[Knot]:
    names = tuple(rules.ids[part] for part in stuck)
    blamed = []
    for part in stuck:
        stay = _staying_blocker(rules, part, set(stuck))
        if stay is not None:
            blamed.append(Knot("never-off", (rules.ids[part], rules.ids[stay]), names))
    return [*blamed, *_circles(rules, stuck, "ring")]


def _staying_blocker(rules: Rules, part: int, stuck: set[int]) -> int | None:
    """The staying part that alone would keep this one on for ever."""
    for other in rules.behind[part]:
        if rules.never[other]:
            return other
    firsts = [next((other for other in rules.members[way] if rules.never[other]), None) for way in rules.ways[part]]
    blocked_by_stays = [first for first in firsts if first is not None]
    return blocked_by_stays[0] if firsts and len(blocked_by_stays) == len(firsts) else None


def _circles(rules: Rules, stuck: list[int], code: Literal["ring", "never-on"]) -> list[Knot]:
    """Follow from each stuck part one stuck part in its way: a walk that ends at no staying part ends in a circle."""
    inside = set(stuck)
    names = tuple(rules.ids[part] for part in stuck)
    after = {part: _next(rules, part, inside, with_fit_after=code == "never-on") for part in stuck}
    found: list[Knot] = []
    walked: set[int] = set()
    for start in stuck:
        path: dict[int, int] = {}
        part: int | None = start
        while part is not None and part not in walked:
            walked.add(part)
            path[part] = len(path)
            part = after[part]
        if part is not None and part in path:
            ring = list(path)[path[part] :]
            found.append(Knot(code, tuple(rules.ids[other] for other in ring), names))
    return found


def _next(rules: Rules, part: int, inside: set[int], *, with_fit_after: bool) -> int | None:
    blockers: Sequence[int] = rules.behind[part]
    if with_fit_after:
        blockers = [*blockers, *rules.fitted_before[part]]
    for other in blockers:
        if other in inside:
            return other
    ways = rules.ways[part]
    if ways and all(any(other in inside or rules.never[other] for other in rules.members[way]) for way in ways):
        return next((other for way in ways for other in rules.members[way] if other in inside), None)
    return None
