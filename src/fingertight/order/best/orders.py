"""The best order to a question: everything off, everything on, or what must come off to free some parts.

Each gives what it has, better each time, until it is proven or whoever asks stops: so a page can show the first answer
at once, and say later that none is quicker.
"""

from collections.abc import Iterator, Sequence
from itertools import islice

from fingertight.anatomy.model import Anatomy
from fingertight.order.best.problem import Problem, bits, rebuild_of, strip_of, window_of
from fingertight.order.best.search import Search
from fingertight.order.best.ways import Ways
from fingertight.order.cost import BILLIONTHS, USUAL_PRICES, Prices, Work, cost_of, work_of
from fingertight.order.knots import knots, knots_before
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules
from fingertight.order.whole import Proof, WholeOrder, order_to, rebuild_order, strip_order

USUAL_TURNS = 150
"""Answers listened to where nobody watches a clock; each stands for some thousand states looked at."""
SETS_A_TURN = 200


def strip_orders(anatomy: Anatomy, prices: Prices = USUAL_PRICES, first: Sequence[str] = ()) -> Iterator[WholeOrder]:
    """Which order of taking everything off costs least?

    first: parts that are to be safe on the shelf before anything needless is touched, such as what breaks easily: their
    shortest way comes first, then the rest in its best order. The proof is then of each of the two.

    >>> lid = {"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}, {"id": "spring", "behind": ["lid"]}]}
    >>> list(strip_orders(Anatomy.model_validate(lid)))[-1].order
    ('lid', 'spring')

    Raises KeyError where `first` names no part.
    """
    rules, works, start = Rules.of(anatomy), work_of(anatomy), _start(anatomy)
    found = knots(rules)
    if found:
        yield WholeOrder(None, knot=found[0])
        return
    if first:
        yield from _first_then_the_rest(anatomy, prices, first)
        return
    problem = strip_of(rules, works, prices, start)
    for order, bound in _searched(problem, strip_order(anatomy, prices).order or ()):
        yield _whole(problem.named(order), works, start, prices, bound)


def rebuild_orders(anatomy: Anatomy, prices: Prices = USUAL_PRICES) -> Iterator[WholeOrder]:
    """Which order of building everything back, from all off, costs least?"""
    rules, works, start = Rules.of(anatomy), work_of(anatomy, rebuild=True), _start(anatomy)
    found = knots(rules)
    if found:
        yield WholeOrder(None, knot=found[0])
        return
    problem = rebuild_of(rules, works, prices, start)
    for order, bound in _searched(problem, tuple(reversed(rebuild_order(anatomy, prices).order or ()))):
        yield _whole(tuple(reversed(problem.named(order))), works, start, prices, bound)


def orders_to(anatomy: Anatomy, parts: Sequence[str], prices: Prices = USUAL_PRICES) -> Iterator[WholeOrder]:
    """What is the least that comes off to have these parts off, and in which order? Work, changes and turns together.

    With one part it is the last of the order. Raises KeyError when there is no such part.
    """
    rules, works, start = Rules.of(anatomy), work_of(anatomy), _start(anatomy)
    for part in parts:
        found = knots_before(rules, part)
        if found:
            yield WholeOrder(None, knot=found[0])
            return
    usual = order_to(anatomy, parts[0], prices).order or () if len(parts) == 1 else ()
    best: WholeOrder | None = None
    evaluated: list[int] = []  # what each set looked at costs at least, its own order counted [10⁻⁹ min]
    least = 0
    for nth, chosen in enumerate(Ways(rules, works, prices, start, parts).cheapest_first()):
        least = max(least, chosen.least)
        if best is not None and _billionths(best.cost_min) <= least:
            break
        if not chosen.parts:
            if best is not None and not nth % SETS_A_TURN:
                yield _bounded(best, min([least, *evaluated]))
            continue
        ids = [rules.ids[part] for part in bits(chosen.parts)]
        problem, minutes = strip_of(rules, works, prices, start, ids), sum(works[part].minutes for part in ids)
        bound = 0
        for order, bound in _searched(problem, usual if set(usual) == set(ids) else ()):
            named = _needed(rules, problem.named(order), parts)
            if best is None or cost_of(named, works, start, prices) < best.cost_min:
                best = _whole(named, works, start, prices, 0)
            yield _bounded(best, min([least, *evaluated]))
            if minutes + bound >= _billionths(best.cost_min):
                break
        evaluated.append(minutes + bound)
    if best is not None:
        yield _bounded(best, min(evaluated))


def _needed(rules: Rules, order: Sequence[str], targets: Sequence[str]) -> tuple[str, ...]:
    """The order without what frees nobody: after the last target there is nothing to do, before it no idle work."""
    last = max(order.index(target) for target in targets)
    kept = list(order[: last + 1])
    for part in reversed(kept[:-1]):
        without = [other for other in kept if other != part]
        if part not in targets and _is_lawful(rules, without):
            kept = without
    return tuple(kept)


def _is_lawful(rules: Rules, order: Sequence[str]) -> bool:
    moves = Moves(rules)
    for part in order:
        if not moves.is_clear(part):
            return False
        moves.took(part)
    return True


def _first_then_the_rest(anatomy: Anatomy, prices: Prices, first: Sequence[str]) -> Iterator[WholeOrder]:
    """Proven is each of the two: nothing frees the first ones at less, and from there nothing ends at less."""
    rules, works, start = Rules.of(anatomy), work_of(anatomy), _start(anatomy)
    whole = strip_of(rules, works, prices, start)
    place = {part: nth for nth, part in enumerate(whole.ids)}
    for way in orders_to(anatomy, first, prices):
        if way.order is None:
            yield way
            return
        done = [place[part] for part in way.order]
        rest = [nth for nth in range(len(whole)) if nth not in set(done)]
        yield _whole((*way.order, *_usual(rules, whole.named(rest), way.order)), works, start, prices, 0)
    for found, bound in _searched(window_of(whole, [*done, *rest], len(done), len(whole))):
        order = [*done, *(rest[nth] for nth in found if nth < len(rest))]
        named = whole.named(order)
        handling = whole.cost_of(done) + bound if way.proof == "best" else 0
        yield _whole(named, works, start, prices, handling)


def _usual(rules: Rules, parts: Sequence[str], off: Sequence[str]) -> list[str]:
    """These parts in any lawful order, when those are off."""
    moves = Moves(rules)
    for part in off:
        moves.took(part)
    order: list[str] = []
    while len(order) < len(parts):
        order += [part for part in moves.may_come_off() if part in parts]
        for part in order:
            moves.took(part)
    return order


def best_of(orders: Iterator[WholeOrder], turns: int = USUAL_TURNS) -> WholeOrder:
    """The last of so many answers: the same every time, since no clock is asked.

    Raises ValueError where there is no answer at all.
    """
    found = list(islice(orders, turns))
    if not found:
        raise ValueError("no order was asked for")
    return found[-1]


def _searched(problem: Problem, usual: Sequence[str] = ()) -> Iterator[tuple[tuple[int, ...], int]]:
    """Order and bound on its handling, until it is proven. usual: the order that stands unless another costs less."""
    if not len(problem):
        yield (), 0
        return
    place = {part: nth for nth, part in enumerate(problem.ids)}
    begun = [place[part] for part in usual]
    for found in Search(problem, [*begun, *([len(problem) - 1] if begun and problem.closing else [])]).better():
        yield found.order, found.bound


def _whole(order: tuple[str, ...], works: dict[str, Work], start: str | None, prices: Prices, bound: int) -> WholeOrder:
    """An order with its cost counted anew from the order alone, and the bound of its handling with its minutes."""
    cost = cost_of(order, works, start, prices)
    least = (sum(works[part].minutes for part in order) + bound) / BILLIONTHS
    return _proven(order, cost, min(least, cost))


def _bounded(found: WholeOrder, least: int) -> WholeOrder:
    return _proven(found.order or (), found.cost_min, min(least / BILLIONTHS, found.cost_min))


def _proven(order: tuple[str, ...], cost: float, bound: float) -> WholeOrder:
    proof: Proof = "best" if _billionths(cost) <= _billionths(bound) else "within"
    return WholeOrder(order, cost, cost if proof == "best" else bound, proof)


def _billionths(minutes: float) -> int:
    return round(minutes * BILLIONTHS)


def _start(anatomy: Anatomy) -> str | None:
    return anatomy.machine.rests[0] if anatomy.machine.rests else None
