"""Published precedence instances (README.md beside says whose), read as machines and stripped whole."""

from functools import cache
from itertools import combinations

import pytest

from fingertight.order import Moves, Rules, Stands, order_to, strip_order
from tests.order.machines import as_anatomy
from tests.outside.order.published import Project, as_machine, graph, rcp_project, sm_project

PSPLIB = {"j301_1.sm": 38, "j301_2.sm": 42, "j3029_1.sm": 62, "j601_1.sm": 77}


def _orders(machine: dict[str, Stands]) -> int:
    """How many strips there are, counted by the moves alone: at each set the sum over what may come off next."""
    rules = Rules(machine.values())

    @cache
    def from_here(off: frozenset[str]) -> int:
        moves = Moves(rules)
        for part in off:
            moves.took(part)
        free = moves.may_come_off()
        return sum(from_here(off | {part}) for part in free) if free else int(len(off) == len(machine))

    return from_here(frozenset())


@pytest.mark.parametrize("name", ["mertens", "jackson"])
def test_a_published_graph_has_as_many_orders_as_others_counted(name: str) -> None:
    published = graph(name)
    assert _orders(as_machine(published["tasks"], published["before"])) == published["orders"]


@pytest.mark.parametrize("name", ["mertens", "bowman", "jaeschke", "jackson", "mansoor"])
def test_a_published_graph_is_as_strongly_ordered_as_its_sheet_says(name: str) -> None:
    published = graph(name)
    machine = as_machine(published["tasks"], published["before"])
    # A pair is ordered when the way to the one leads through the other.
    way_to = {part: set(order_to(as_anatomy(machine), part).order or ()) for part in machine}
    ordered = sum(one in way_to[other] or other in way_to[one] for one, other in combinations(machine, 2))
    strength = 100 * ordered / (len(machine) * (len(machine) - 1) / 2)
    assert strength == pytest.approx(published["order_strength_percent"], abs=0.006)


def _projects() -> dict[str, Project]:
    return {**{name: sm_project(name) for name in PSPLIB}, "pat1.rcp": rcp_project("pat1.rcp")}


@pytest.mark.parametrize("name", [*PSPLIB, "pat1.rcp"])
def test_a_published_project_read_as_a_machine_comes_off_whole_each_job_in_its_turn(name: str) -> None:
    machine = _projects()[name].machine
    moves = Moves(Rules(machine.values()))
    order = strip_order(as_anatomy(machine)).order
    assert order is not None
    assert len(order) == len(machine)
    for part in order:
        assert part in moves.may_come_off()
        assert all(moves.is_off(before) for before in machine[part].behind)
        moves.took(part)
    for part in reversed(order):
        assert part in moves.may_go_on()
        moves.put(part)


def _critical_path(project: Project) -> int:
    """When the last job ends if each begins as soon as all before it have ended, found along a sweep."""
    rules = Rules(project.machine.values())
    ends: dict[str, int] = {}
    for number in rules.sweep():
        part = rules.ids[number]
        begins = max((ends[before] for before in project.machine[part].behind), default=0)
        ends[part] = begins + project.durations[part]
    return max(ends.values())


@pytest.mark.parametrize("name", PSPLIB)
def test_along_a_sweep_the_critical_path_is_as_long_as_the_file_says(name: str) -> None:
    project = sm_project(name)
    assert _critical_path(project) == project.critical_path == PSPLIB[name]


def test_the_critical_path_of_pattersons_first_project_is_its_published_duration_at_most() -> None:
    project = rcp_project("pat1.rcp")
    assert len(project.machine) == 14
    # 0 < path: every job was read; 19 periods is the published best with resources.
    assert 0 < _critical_path(project) <= 19
