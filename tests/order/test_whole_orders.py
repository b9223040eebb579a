"""Whole strips, rebuilds and the way to one part: lawful, whole, nothing needless, never called better than it is."""

import random
from heapq import heappop, heappush
from itertools import count, permutations

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.order import Moves, Prices, Rules, cost_of, order_to, rebuild_order, strip_order, work_of
from tests.order.by_the_text import NOBODY, may_come_off, may_go_on
from tests.order.machines import Machine, as_anatomy, layered
from tests.order.seeds import for_seeds
from tests.order.test_cost import RESTS, some_part_says

SMALL = range(240)


def _small(seed: int) -> tuple[Machine, Anatomy, Prices]:
    """Few parts, so that every order can be tried; tools, rests and minutes at random."""
    chance = random.Random(seed)
    machine = layered(seed, chance.randint(1, 6), window=6)
    for part in list(machine)[:-1]:
        if chance.random() < 0.2:
            machine[part] = machine[part]._replace(fit_after=[list(machine)[-1]])
    anatomy = as_anatomy(machine, rests=RESTS, **{part: some_part_says(chance) for part in machine})
    return machine, anatomy, chance.choice([Prices(), Prices(2.0, 0.5), Prices(0, 0)])


def _least(
    machine: Machine, anatomy: Anatomy, prices: Prices, to: str | None = None, *, rebuild: bool = False
) -> float:
    """The least cost over all lawful orders and all sequences of tools: cheapest first through every state there is."""
    works, turn = work_of(anatomy, rebuild=rebuild), count()
    start = frozenset(machine) if rebuild else frozenset[str]()
    waiting: list[tuple[float, int, frozenset[str], str, str, str]] = [(0.0, next(turn), start, "", RESTS[0], "")]
    done = set()
    while waiting:
        cost, _, off, hand, lies, last = heappop(waiting)
        if (last == to) if to else len(off) == (0 if rebuild else len(machine)):
            return cost
        if (off, hand, lies) in done:
            continue
        done.add((off, hand, lies))
        for part in (may_go_on if rebuild else may_come_off)(off, NOBODY, machine):
            work = works[part]
            rest = work.rest or lies
            fixed = cost_of([part], {part: work}, lies, Prices(0, prices.turn_min))
            for tools in permutations(work.tools):
                taken_up = sum(tool != before for before, tool in zip([hand, *tools], tools, strict=False))
                after = (off ^ {part}, tools[-1] if tools else hand, rest, part)
                heappush(waiting, (cost + fixed + prices.change_min * taken_up, next(turn), *after))
    raise AssertionError("every part of these machines can be reached")


@for_seeds(len(SMALL))
def test_a_whole_strip_is_lawful_and_whole_and_its_bound_is_never_above_the_least_there_is(seed: int) -> None:
    machine, anatomy, prices = _small(seed)
    found = strip_order(anatomy, prices)
    assert found.order is not None
    off: set[str] = set()
    for part in found.order:
        assert part in may_come_off(off, NOBODY, machine)
        off.add(part)
    assert off == set(machine)
    least = _least(machine, anatomy, prices)
    assert found.cost_min == cost_of(found.order, work_of(anatomy), RESTS[0], prices)
    assert found.bound_min <= least + 1e-9 <= found.cost_min + 2e-9
    assert found.proof in ("best", "within")
    assert found.proof != "best" or found.cost_min == pytest.approx(least, abs=1e-9)


@for_seeds(len(SMALL))
def test_a_whole_rebuild_is_lawful_and_whole_and_its_bound_is_never_above_the_least_there_is(seed: int) -> None:
    machine, anatomy, prices = _small(seed)
    found = rebuild_order(anatomy, prices)
    assert found.order is not None
    off = set(machine)
    for part in found.order:
        assert part in may_go_on(off, NOBODY, machine)
        off.discard(part)
    assert not off
    least = _least(machine, anatomy, prices, rebuild=True)
    assert found.cost_min == cost_of(found.order, work_of(anatomy, rebuild=True), RESTS[0], prices)
    assert found.bound_min <= least + 1e-9 <= found.cost_min + 2e-9
    assert found.proof != "best" or found.cost_min == pytest.approx(least, abs=1e-9)


@for_seeds(len(SMALL))
def test_the_way_to_a_part_is_lawful_ends_with_it_and_has_no_part_that_could_be_left_out(seed: int) -> None:
    machine, anatomy, prices = _small(seed)
    for to in machine:
        found = order_to(anatomy, to, prices)
        assert found.order is not None
        assert found.order[-1] == to
        off: set[str] = set()
        for part in found.order:
            assert part in may_come_off(off, NOBODY, machine)
            off.add(part)
        for needless in found.order[:-1]:
            assert not _comes_off(to, off - {needless}, machine)
        least = _least(machine, anatomy, prices, to)
        assert found.cost_min == cost_of(found.order, work_of(anatomy), RESTS[0], prices)
        assert found.bound_min <= least + 1e-9 <= found.cost_min + 2e-9
        assert found.proof != "best" or found.cost_min == pytest.approx(least, abs=1e-9)


def _comes_off(part: str, touched: set[str], machine: Machine) -> bool:
    off: set[str] = set()
    while free := touched & set(may_come_off(off, NOBODY, machine)):
        off |= free
    return part in off


def test_some_of_these_orders_are_proven_best_and_some_are_not() -> None:
    proofs = [strip_order(anatomy, prices).proof for _, anatomy, prices in map(_small, SMALL)]
    assert 20 < proofs.count("best") < len(SMALL) - 20


def test_the_shorter_of_two_ways_is_taken_when_nothing_else_differs() -> None:
    machine = layered(0, 0)
    for part, behind, ways in (
        ("guard", [], []),
        ("fan", ["guard"], []),
        ("lid", [], []),
        ("pin", [], [["fan"], ["lid"]]),
    ):
        machine[part] = layered(0, 1)["p0"]._replace(id=part, behind=behind, ways=ways)
    assert order_to(as_anatomy(machine), "pin").order == ("lid", "pin")


def test_a_machine_of_one_staying_part_is_stripped_by_doing_nothing() -> None:
    machine = {"case": layered(0, 1)["p0"]._replace(id="case", stays=True)}
    found = strip_order(as_anatomy(machine))
    assert (found.order, found.cost_min, found.proof) == ((), 0.0, "best")


def test_a_knotted_machine_has_no_order_and_the_knot_is_handed_over() -> None:
    machine = layered(0, 2, window=1)
    machine["p0"] = machine["p0"]._replace(behind=["p1"])
    anatomy = as_anatomy(machine)
    for found in (strip_order(anatomy), rebuild_order(anatomy), order_to(anatomy, "p1")):
        assert found.order is None
        assert found.knot is not None
        assert set(found.knot.ring) == {"p0", "p1"}


def test_a_part_that_no_knot_touches_has_its_way_though_another_part_is_knotted() -> None:
    machine = layered(0, 3, window=1)
    machine["p1"] = machine["p1"]._replace(behind=["p2"])
    assert order_to(as_anatomy(machine), "p0").order == ("p0",)


@for_seeds(6)
def test_a_strip_of_three_hundred_parts_with_ways_takes_every_part_in_its_turn(seed: int) -> None:
    machine = layered(seed, 300)
    found = strip_order(as_anatomy(machine))
    moves = Moves(Rules(machine.values()))
    assert found.order is not None
    for part in found.order:
        assert moves.is_clear(part)
        moves.took(part)
    assert moves.on() == []
