"""Moves: building the rules and stripping the whole machine, and "may go on" after every single move of a rebuild."""

import random
from collections.abc import Iterator
from graphlib import TopologicalSorter
from time import process_time

import networkx
from machines import machine
from rows import Row, best_seconds

from fingertight.order import Moves, Rules, Stands

SIZES = (50, 500, 5_000, 50_000)
REBUILT = 5_000
LONGEST_S = 60.0
SWEPT_STATES = 200


def rows() -> Iterator[Row]:
    """The rows of this family."""
    for size in SIZES:
        yield from whole_strips(size)
    yield going_on()


def stripped(parts: list[Stands]) -> list[str]:
    """Build the rules and strip the whole machine: the names in order, as the peers give them."""
    rules = Rules(parts)
    ids = rules.ids
    return [ids[number] for number in rules.sweep()]


def whole_strips(size: int) -> Iterator[Row]:
    """One size against graphlib, networkx, and the same machine with ways."""
    plain, with_ways = machine(size), machine(size, ways=True)
    behind = {part.id: part.behind for part in plain}
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from(behind)
    graph.add_edges_from((other, part) for part, others in behind.items() for other in others)
    assert len(stripped(plain)) == len(stripped(with_ways)) == size
    ours, ways, standard, ready = best_seconds(
        lambda: stripped(plain),
        lambda: stripped(with_ways),
        lambda: list(TopologicalSorter(behind).static_order()),
        lambda: list(networkx.topological_sort(graph)),
        rounds=max(7, min(100, 20_000 // size)),
    )
    what = f"build and whole strip, {size:,} parts"
    yield Row(what, "graphlib `static_order`", ours / standard, "at most", 1.0)
    yield Row(what, "networkx, its graph ready", ours / ready, "at most", 1.3)
    yield Row(f"{what}, every fifth with two ways", "the same without ways", ways / ours, "at most", 1.6)


def going_on() -> Row:
    """A whole rebuild, any part that may go on next, asking after each move; beside it one sweep of what is off."""
    parts = machine(REBUILT, ways=True)
    rules = Rules(parts)
    order = [rules.ids[number] for number in rules.sweep()]
    moves = Moves(rules)
    for part in order:
        moves.took(part)
    moves.may_go_on()
    chance, made = random.Random(REBUILT), 0
    start = process_time()
    while (welcome := moves.may_go_on()) and process_time() - start < LONGEST_S:
        moves.put(chance.choice(welcome))
        made += 1
    ours = (process_time() - start) / made
    step = len(order) // SWEPT_STATES
    states = [set(order[:length]) for length in range(0, len(order), step)]
    swept = [
        best_seconds(lambda state=state: sweep_of(rules, state), rounds=1)[0]  # type: ignore[misc]
        for state in states
    ]
    theirs = sum(swept) / len(swept)
    what = f"“may go on” after each move of a rebuild, {REBUILT:,} parts with ways"
    note = "" if made == len(order) else f"given up after {made:,} moves"
    return Row(what, "a full sweep each time", theirs / ours, "at least", 20.0, unit="× ahead", note=note)


def sweep_of(rules: Rules, off: set[str]) -> int:
    """How many of these one sweep can strip again: the least a program without memory would do after each move."""
    wait, left, owner = rules.wait[:], rules.left[:], rules.owner
    inside = bytearray(len(wait))
    for part in off:
        inside[rules.index[part]] = 1
    queue = [part for part, count in enumerate(wait) if not count and inside[part]]
    clear = bytearray(len(wait))
    for part in queue:
        for other in rules.frees[part]:
            wait[other] -= 1
            if not wait[other] and inside[other]:
                queue.append(other)
        for way in rules.way_of[part]:
            left[way] -= 1
            if not left[way] and not clear[owner[way]]:
                clear[owner[way]] = 1
                wait[owner[way]] -= 1
                if not wait[owner[way]] and inside[owner[way]]:
                    queue.append(owner[way])
    return len(queue)
