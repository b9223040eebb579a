"""The same questions asked of OR-Tools CP-SAT, in models that know the pinned cost only: orders, sets of parts."""

import random

import pytest
from ortools.sat.python import cp_model

from fingertight.anatomy.model import Anatomy
from fingertight.order import Prices, Rules, cost_of, work_of
from fingertight.order.best.orders import best_of, orders_to, strip_orders
from tests.order.machines import Machine, as_anatomy, layered
from tests.outside.order.published import as_machine, graph, sm_project

SIDES = ("upright", "on its side")
GRAPHS = ("mertens", "bowman", "jaeschke", "jackson", "mansoor")
PROJECTS = ("j301_1.sm", "j301_2.sm", "j3029_1.sm", "j601_1.sm")


def as_published(machine: Machine) -> Anatomy:
    """A published precedence graph as a machine of our own: four tools in turn, every third part on its side."""
    said: dict[str, dict[str, object]] = {
        part: {"tools": [f"{8 + nth % 4} mm"], "rests": SIDES[nth % 3 == 0]} for nth, part in enumerate(machine)
    }
    return as_anatomy(machine, rests=SIDES, **said)


def of_a_graph(name: str) -> Anatomy:
    """An assembly line of tests/outside/order."""
    return as_published(as_machine(graph(name)["tasks"], graph(name)["before"]))


def solved(model: cp_model.CpModel) -> int:
    """The proven optimum [whole units of the model]."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 7
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def least_handling(anatomy: Anatomy) -> float:
    """Changes and turns of the best strip [min]: which part at which place, what is in hand, how the machine lies."""
    works, parts = work_of(anatomy), [part.id for part in anatomy.parts]
    many = len(parts)
    tools = sorted({tool for work in works.values() for tool in work.tools})
    model = cp_model.CpModel()
    at = {part: model.new_int_var(0, many - 1, part) for part in parts}
    here = {(part, k): model.new_bool_var(f"{part}@{k}") for part in parts for k in range(many)}
    for part in parts:
        model.add_exactly_one(here[part, k] for k in range(many))
        model.add(at[part] == sum(k * here[part, k] for k in range(many)))
        for other in anatomy.part_by_id[part].behind:
            model.add(at[other] < at[part])
    for k in range(many):
        model.add_exactly_one(here[part, k] for part in parts)
    moved = []
    for price, kind in ((1, "tool"), (4, "rest")):
        names = tools if kind == "tool" else list(SIDES)

        def wanted(part: str, kind: str = kind) -> str:
            return next(iter(works[part].tools)) if kind == "tool" else str(works[part].rest)

        for k in range(many):
            for name in names:
                now = [here[part, k] for part in parts if wanted(part) == name]
                if k == 0:
                    first = kind == "tool" or name != SIDES[0]
                    moved += [price * each for each in now] if first else []
                    continue
                before = [here[part, k - 1] for part in parts if wanted(part) == name]
                changed = model.new_bool_var(f"{kind} {name} {k}")
                model.add(changed >= sum(now) - sum(before))
                moved.append(price * changed)
    model.minimize(sum(moved))
    return solved(model) * 0.25


@pytest.mark.parametrize("name", GRAPHS)
def test_the_best_order_on_a_published_precedence_graph_is_the_one_a_solver_proves(name: str) -> None:
    anatomy = of_a_graph(name)
    found = best_of(strip_orders(anatomy))
    assert found.order is not None
    assert found.proof == "best"
    assert found.cost_min - len(found.order) == pytest.approx(least_handling(anatomy))


@pytest.mark.parametrize("name", PROJECTS)
def test_on_a_published_project_the_order_is_lawful_and_proven(name: str) -> None:
    project = sm_project(name)
    anatomy = as_published(project.machine)
    found = best_of(strip_orders(anatomy))
    assert found.order is not None
    place = {part: nth for nth, part in enumerate(found.order)}
    assert set(place) == set(project.machine)
    assert all(place[other] < place[part] for part, stands in project.machine.items() for other in stands.behind)
    assert found.cost_min == cost_of(found.order, work_of(anatomy), SIDES[0], Prices())
    assert (found.proof, found.bound_min) == ("best", found.cost_min)


def with_ways(seed: int, parts: int) -> Anatomy:
    """Many ways, no tools: only minutes are weighed."""
    chance = random.Random(seed)
    machine = layered(seed, parts, window=25)
    return as_anatomy(machine, **{part: {"minutes": chance.randint(1, 12)} for part in machine})


def least_minutes(anatomy: Anatomy, target: str) -> int:
    """The least minutes of any set that frees a part: AND, OR, and a level for each part, so that none holds itself."""
    model, rules = cp_model.CpModel(), Rules.of(anatomy)
    off = [model.new_bool_var(part) for part in rules.ids]
    level = [model.new_int_var(0, len(rules), f"level of {part}") for part in rules.ids]
    model.add(off[rules.index[target]] == 1)
    for part in range(len(rules)):
        for other in rules.behind[part]:
            model.add_implication(off[part], off[other])
            model.add(level[other] < level[part]).only_enforce_if(off[part])
        if rules.ways[part]:
            chosen = [model.new_bool_var(f"way {way}") for way in rules.ways[part]]
            model.add_bool_or([off[part].negated(), *chosen])
            for way, taken in zip(rules.ways[part], chosen, strict=True):
                for other in rules.members[way]:
                    model.add_implication(taken, off[other])
                    model.add(level[other] < level[part]).only_enforce_if(taken)
    minutes = [round(anatomy.part_by_id[part].minutes or 0) for part in rules.ids]
    model.minimize(sum(many * each for many, each in zip(minutes, off, strict=True)))
    return solved(model)


@pytest.mark.parametrize("seed", range(12))
def test_the_shortest_way_through_many_ways_is_the_one_a_solver_proves(seed: int) -> None:
    anatomy = with_ways(seed, 120)
    target = f"p{119 - seed % 3}"
    found = best_of(orders_to(anatomy, [target], Prices(0, 0)))
    assert found.proof == "best"
    assert found.cost_min == pytest.approx(least_minutes(anatomy, target))
