"""Whole orders: a strip, a rebuild, or the way to one part, with the cost and how near it is to the least there can be.

The choice is simple here: take what needs no change of spanner and no turn first, then what asks least and opens most.
Its cost is counted honestly, and compared with a bound that no order can go below; proofs for the rest come later.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from fingertight.anatomy.model import Anatomy
from fingertight.order.cost import USUAL_PRICES, Prices, Tally, Work, bound_of, cost_of, work_of
from fingertight.order.knots import Knot, knots, knots_before
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules

Proof = Literal["best", "within", "none"]


@dataclass(frozen=True, slots=True)
class WholeOrder:
    """An order with its cost, or the knot that makes one impossible (then `order` is None)."""

    order: tuple[str, ...] | None
    cost_min: float = 0.0
    bound_min: float = 0.0
    proof: Proof = "none"
    knot: Knot | None = None


def strip_order(anatomy: Anatomy, prices: Prices = USUAL_PRICES) -> WholeOrder:
    """Everything off that can come off, in an order with few changes of spanner and few turns."""
    rules = Rules.of(anatomy)
    found = knots(rules)
    if found:
        return WholeOrder(None, knot=found[0])
    return _strip(anatomy, [part.id for part in anatomy.parts if not part.stays], prices)


def rebuild_order(anatomy: Anatomy, prices: Prices = USUAL_PRICES) -> WholeOrder:
    """Everything on again after a whole strip, in an order with few changes of spanner and few turns."""
    rules = Rules.of(anatomy)
    found = knots(rules)
    if found:
        return WholeOrder(None, knot=found[0])
    moves = Moves(rules)
    works = work_of(anatomy, rebuild=True)
    parts = [rules.ids[number] for number in rules.sweep()]
    for part in parts:
        moves.took(part)
    order = _greedy(works, _start(anatomy), prices, moves.may_go_on, lambda part: bool(moves.put(part)))
    return _weighed(order, works, _start(anatomy), prices)


def order_to(anatomy: Anatomy, part: str, prices: Prices = USUAL_PRICES) -> WholeOrder:
    """The parts that must come off to have this one off, with it last. Where there is a choice of ways, a cheap one.

    Raises KeyError when there is no such part.
    """
    rules = Rules.of(anatomy)
    found = knots_before(rules, part)
    if found:
        return WholeOrder(None, knot=found[0])
    works = work_of(anatomy)
    needed = _needed(rules, part, works)
    chosen = _strip(anatomy, [other for other in needed if other != part], prices)
    order = [*(chosen.order or ()), part]
    start = _start(anatomy)
    cost = cost_of(order, works, start, prices)
    bound = bound_of(_unavoidable(rules, part), works, start, prices)
    return WholeOrder(tuple(order), cost, bound, "best" if cost == bound else "within")


class NoWay(Exception):
    """Nothing leads to this part: it stays (`knot` None), or there is a knot before it."""

    def __init__(self, part: str, knot: Knot | None) -> None:
        super().__init__(part)
        self.part, self.knot = part, knot


def way_to(anatomy: Anatomy, parts: Sequence[str], proposed: Sequence[str] = ()) -> tuple[str, ...]:
    """What comes off to have all of these off, in order: as proposed, where that is lawful and leads there; else one
    way after the other.

    Raises NoWay where nothing leads there, KeyError for a part the machine does not have.
    """
    if proposed and _leads_to(anatomy, parts, proposed):
        return tuple(proposed)
    way: dict[str, None] = {}
    for part in parts:
        found = None if anatomy.part_by_id[part].stays else order_to(anatomy, part)
        if found is None or found.order is None:
            raise NoWay(part, found.knot if found else None)
        way |= dict.fromkeys(found.order)
    return tuple(way)


def _leads_to(anatomy: Anatomy, parts: Sequence[str], way: Sequence[str]) -> bool:
    moves = Moves(Rules.of(anatomy))
    for part in way:
        if part not in moves.may_come_off():
            return False
        moves.took(part)
    return all(moves.is_off(part) for part in parts)


def _start(anatomy: Anatomy) -> str | None:
    return anatomy.machine.rests[0] if anatomy.machine.rests else None


def _strip(anatomy: Anatomy, parts: list[str], prices: Prices) -> WholeOrder:
    moves = Moves(Rules.of(anatomy))
    works = work_of(anatomy)
    wanted = set(parts)
    order = _greedy(
        works,
        _start(anatomy),
        prices,
        lambda: [part for part in moves.may_come_off() if part in wanted],
        lambda part: bool(moves.took(part)),
    )
    return _weighed(order, works, _start(anatomy), prices)


def _greedy(
    works: dict[str, Work],
    start: str | None,
    prices: Prices,
    free: Callable[[], list[str]],
    move: Callable[[str], object],
) -> list[str]:
    """Take what is free and costs least to turn to; among equals what shares its tools with most that is free."""
    tally = Tally(start, prices)
    order: list[str] = []
    while now := free():
        alike = {part: sum(1 for other in now if works[other].tools & works[part].tools) for part in now}
        part = min(now, key=lambda each: (tally.price_of(works[each]), -alike[each]))
        tally.add(works[part])
        move(part)
        order.append(part)
    return order


def _weighed(order: Iterable[str], works: dict[str, Work], start: str | None, prices: Prices) -> WholeOrder:
    done = tuple(order)
    cost = cost_of(done, works, start, prices)
    bound = bound_of(done, works, start, prices)
    return WholeOrder(done, cost, bound, "best" if cost == bound else "within")


def _needed(rules: Rules, part: str, works: dict[str, Work]) -> list[str]:
    """A set that frees the part and from which nothing can be left out, found from a cheapest-first sweep."""
    moves = Moves(rules)
    taken: list[str] = []
    waiting = moves.may_come_off()
    while part not in taken:
        waiting.sort(key=lambda each: works[each].minutes, reverse=True)
        nearest = waiting.pop()
        taken.append(nearest)
        waiting += [other for other in moves.took(nearest).freed if not rules.never[rules.index[other]]]
    kept = set(taken)
    for other in reversed(taken[:-1]):
        if _frees(rules, part, kept - {other}):
            kept.discard(other)
    return [other for other in taken if other in kept]


def _frees(rules: Rules, part: str, allowed: set[str]) -> bool:
    """Whether the part can come off when only these may be touched."""
    moves = Moves(rules)
    queue = [other for other in moves.may_come_off() if other in allowed]
    while queue:
        queue += [other for other in moves.took(queue.pop()).freed if other in allowed]
    return moves.is_off(part)


def _unavoidable(rules: Rules, part: str) -> list[str]:
    """Parts in every strip that ends with this one: what stands behind it, and behind that."""
    found = {rules.index[part]: None}
    queue = list(found)
    while queue:
        number = queue.pop()
        common = [set(rules.members[way]) for way in rules.ways[number]]
        for other in [*rules.behind[number], *(set.intersection(*common) if common else ())]:
            if other not in found:
                found[other] = None
                queue.append(other)
    return [rules.ids[number] for number in found]
