"""Orders called the best, against every order there is: 500 small machines, by a search that knows nothing of ours."""

import random

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.order import Prices, Rules, cost_of, work_of
from fingertight.order.best.orders import best_of, orders_to, rebuild_orders, strip_orders
from fingertight.order.rules import Stands
from tests.order.by_the_text import NOBODY, may_come_off, may_go_on
from tests.order.machines import Machine, as_anatomy, layered, leaning, tangled
from tests.order.seeds import for_seeds
from tests.order.test_cost import RESTS, some_part_says
from tests.order.test_whole_orders import _least

MANY = 500
PRICES = [Prices(), Prices(2.0, 0.5), Prices(0, 0), Prices(0.1, 0.7)]


def small(seed: int) -> tuple[Machine, Anatomy, Prices]:
    """Few parts, so that every order can be tried; tools, rests and minutes at random."""
    chance = random.Random(seed)
    machine = layered(seed, chance.randint(1, 7), window=6)
    for part in list(machine)[:-1]:
        if chance.random() < 0.2:
            machine[part] = machine[part]._replace(fit_after=[list(machine)[-1]])
    anatomy = as_anatomy(machine, rests=RESTS, **{part: some_part_says(chance) for part in machine})
    return machine, anatomy, chance.choice(PRICES)


@for_seeds(MANY)
def test_no_whole_strip_costs_less(seed: int) -> None:
    machine, anatomy, prices = small(seed)
    found = best_of(strip_orders(anatomy, prices))
    assert found.order is not None
    assert found.proof == "best"
    off: set[str] = set()
    for part in found.order:
        assert part in may_come_off(off, NOBODY, machine)
        off.add(part)
    assert off == set(machine)
    assert found.cost_min == cost_of(found.order, work_of(anatomy), RESTS[0], prices)
    assert found.cost_min == pytest.approx(_least(machine, anatomy, prices), abs=1e-9)


@for_seeds(MANY)
def test_no_whole_rebuild_costs_less(seed: int) -> None:
    machine, anatomy, prices = small(seed)
    found = best_of(rebuild_orders(anatomy, prices))
    assert found.order is not None
    assert found.proof == "best"
    off = set(machine)
    for part in found.order:
        assert part in may_go_on(off, NOBODY, machine)
        off.remove(part)
    assert not off
    assert found.cost_min == pytest.approx(_least(machine, anatomy, prices, rebuild=True), abs=1e-9)


@for_seeds(MANY)
def test_no_way_to_a_part_costs_less_and_nothing_in_it_is_needless(seed: int) -> None:
    machine, anatomy, prices = small(seed)
    target = random.Random(seed).choice(list(machine))
    found = best_of(orders_to(anatomy, [target], prices))
    assert found.order is not None
    assert (found.proof, found.order[-1]) == ("best", target)
    off: set[str] = set()
    for part in found.order:
        assert part in may_come_off(off, NOBODY, machine)
        off.add(part)
    assert found.cost_min == pytest.approx(_least(machine, anatomy, prices, to=target), abs=1e-9)


@for_seeds(MANY)
def test_parts_that_hold_each_others_way_open_are_no_way_in(seed: int) -> None:
    """Machines with hardly anything but ways, in circles, and machines where anything goes: what stays, what never."""
    machine = leaning(seed, 7) if seed % 2 else tangled(seed, 7)
    chance = random.Random(seed)
    anatomy = as_anatomy(machine, rests=RESTS, **{part: some_part_says(chance) for part in machine})
    rules, target = Rules.of(anatomy), chance.choice(list(machine))
    found = best_of(orders_to(anatomy, [target]))
    if rules.index[target] not in rules.sweep():
        assert found.order is None
        assert found.knot is not None
        return
    assert found.order is not None
    assert (found.proof, found.order[-1]) == ("best", target)
    off: set[str] = set()
    for part in found.order:
        assert part in may_come_off(off, NOBODY, machine)
        off.add(part)
    assert found.cost_min == pytest.approx(_least(machine, anatomy, Prices(), to=target), abs=1e-9)


@for_seeds(100)
def test_for_several_parts_nothing_costs_less_than_the_best_way_to_all_of_them(seed: int) -> None:
    """One part behind all of them, that takes no time and no tool, is a way to all of them at once."""
    machine, anatomy, prices = small(seed)
    chance = random.Random(seed)
    targets = chance.sample(list(machine), min(len(machine), 2))
    found = best_of(orders_to(anatomy, targets, prices))
    assert found.order is not None
    assert set(targets) <= set(found.order)
    assert found.order[-1] in targets
    all_of_them = as_anatomy(
        {**machine, "all": Stands("all", targets)},
        rests=RESTS,
        **{
            part.id: part.model_dump(
                exclude_defaults=True, exclude={"id", "behind", "ways", "fit_after"}, by_alias=True
            )
            for part in anatomy.parts
        },
        all={"minutes": 0, "rests": "any"},
    )
    one = best_of(orders_to(all_of_them, ["all"], prices))
    assert (found.cost_min, found.proof) == (pytest.approx(one.cost_min), one.proof)


@for_seeds(60)
def test_what_breaks_easily_is_off_before_anything_needless_is_touched(seed: int) -> None:
    machine, anatomy, prices = small(seed)
    first = random.Random(seed).choice(list(machine))
    found = best_of(strip_orders(anatomy, prices, [first]))
    assert found.order is not None
    way = best_of(orders_to(anatomy, [first], prices)).order
    assert way is not None
    assert found.order[: len(way)] == way
    assert sorted(found.order) == sorted(machine)
    assert found.bound_min <= found.cost_min
    off: set[str] = set()
    for part in found.order:
        assert part in may_come_off(off, NOBODY, machine)
        off.add(part)
