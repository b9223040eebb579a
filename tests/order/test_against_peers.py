"""Machines without ways are plain precedence graphs: graphlib (standard library) and networkx know whose turn it is."""

import random
from graphlib import TopologicalSorter

import networkx
import pytest

from fingertight.order import Moves, Rules, Stands
from tests.order.machines import layered
from tests.order.seeds import for_seeds

SIZES = (1, 2, 5, 12, 40, 90)


def _graph(machine: dict[str, Stands]) -> "networkx.DiGraph[str]":
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from(machine)
    graph.add_edges_from((other, part.id) for part in machine.values() for other in part.behind)
    return graph


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(6))
def test_after_every_prefix_of_a_strip_the_same_parts_are_free_as_graphlib_says(seed: int, size: int) -> None:
    machine = layered(seed, size, ways=False)
    sorter = TopologicalSorter({part.id: part.behind for part in machine.values()})
    sorter.prepare()
    ready = set(sorter.get_ready())
    moves, chance = Moves(Rules(machine.values())), random.Random(seed)
    while ready:
        assert set(moves.may_come_off()) == ready
        part = chance.choice(sorted(ready))
        sorter.done(part)
        freed = set(sorter.get_ready())
        ready = ready - {part} | freed
        assert set(moves.took(part).freed) == freed
    assert moves.may_come_off() == []
    assert set(moves.off()) == set(machine)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(6))
def test_a_sweep_is_a_topological_order_by_networkx_and_so_is_each_of_its_prefixes(seed: int, size: int) -> None:
    machine = layered(seed, size, ways=False)
    rules, graph = Rules(machine.values()), _graph(machine)
    swept = [rules.ids[number] for number in rules.sweep()]
    turn = {part: number for number, part in enumerate(swept)}
    assert len(swept) == size
    assert all(turn[before] < turn[after] for before, after in graph.edges)
    for length in range(size + 1):
        taken = set(swept[:length])
        assert all(networkx.ancestors(graph, part) <= taken for part in taken)


@for_seeds(40)
def test_on_the_rebuild_a_part_may_go_on_when_networkx_has_nothing_off_that_stood_behind_it(seed: int) -> None:
    machine = layered(seed, 30, ways=False, window=8)
    graph, chance = _graph(machine), random.Random(seed)
    moves = Moves(Rules(machine.values()))
    for part in networkx.topological_sort(graph):
        moves.took(part)
    off = set(machine)
    while off:
        expected = [part for part in machine if part in off and not networkx.descendants(graph, part) & off]
        assert moves.may_go_on() == expected
        part = chance.choice(expected)
        moves.put(part)
        off.discard(part)


@for_seeds(200)
def test_what_a_sweep_cannot_take_is_what_networkx_finds_on_or_behind_a_ring(seed: int) -> None:
    chance = random.Random(seed)
    ids = [f"p{number}" for number in range(chance.randint(2, 12))]
    machine = {part: Stands(part, chance.sample([other for other in ids if other != part], 1)) for part in ids}
    machine[ids[0]] = Stands(ids[0])
    graph = _graph(machine)
    on_a_ring = set().union(*networkx.simple_cycles(graph))
    stuck = on_a_ring.union(*(networkx.descendants(graph, part) for part in on_a_ring))
    rules = Rules(machine.values())
    assert {rules.ids[number] for number in rules.sweep()} == set(ids) - stuck
