"""The sets that stripping can reach, against the enumeration of all subsets; and the laws an antimatroid keeps."""

import random
from itertools import combinations

from fingertight.order import Moves, Rules
from tests.order.by_the_text import reach, reachable_sets
from tests.order.machines import Machine, tangled
from tests.order.seeds import for_seeds

SEEDS = range(400)


def _reached_by_moves(machine: Machine) -> set[frozenset[str]]:
    """Every set that single lawful moves lead to, each state made anew."""
    rules = Rules(machine.values())
    found: set[frozenset[str]] = {frozenset()}
    waiting = [frozenset[str]()]
    while waiting:
        off = waiting.pop()
        moves = Moves(rules)
        for part in off:
            moves.took(part)
        for part in moves.may_come_off():
            bigger = off | {part}
            if bigger not in found:
                found.add(bigger)
                waiting.append(bigger)
    return found


@for_seeds(len(SEEDS))
def test_single_moves_reach_exactly_the_sets_that_enumeration_finds_and_they_keep_the_laws(seed: int) -> None:
    machine = tangled(seed, most=7)
    sets = reachable_sets(machine)
    assert _reached_by_moves(machine) == sets
    # The union of two reachable sets is reachable.
    assert all(one | other in sets for one, other in combinations(sets, 2))
    # Each but the empty set is one move away from a smaller one.
    assert all(not some or any(some - {part} in sets for part in some) for some in sets)
    # One greedy sweep takes all that can ever come off: the largest of them.
    rules = Rules(machine.values())
    assert {rules.ids[number] for number in rules.sweep()} == max(sets, key=len)


@for_seeds(300)
def test_whichever_part_is_taken_first_the_strip_ends_with_the_same_parts_off(seed: int) -> None:
    machine, chance = tangled(seed), random.Random(seed)
    moves = Moves(Rules(machine.values()))
    while free := moves.may_come_off():
        moves.took(chance.choice(free))
    bare = {part: said._replace(fit_after=()) for part, said in machine.items()}
    movable = [part for part in machine if not machine[part].stays]
    assert set(moves.off()) == reach(movable, (), bare)


def test_of_four_hundred_machines_many_have_ways_rings_and_staying_parts() -> None:
    machines = [tangled(seed, most=7) for seed in SEEDS]
    assert sum(any(part.ways for part in machine.values()) for machine in machines) > 300
    assert sum(any(part.stays for part in machine.values()) for machine in machines) > 30
    assert sum(len(Rules(machine.values()).sweep()) < len(machine) for machine in machines) > 100
