"""Ask of any part "why not yet?": only what is still missing is named, and doing what is named is enough."""

import random

from fingertight.order import InTheWay, Moves, Rules, Stands
from tests.order import by_the_text
from tests.order.machines import Machine, tangled
from tests.order.seeds import for_seeds


def _part_way(seed: int) -> tuple[Machine, Moves]:
    """A machine in some state: parts off in and out of turn, some absent, some back on."""
    machine, chance = tangled(seed), random.Random(seed)
    moves = Moves(Rules(machine.values()))
    for _ in range(chance.randint(0, 14)):
        act = chance.choice([moves.took, moves.took, moves.took, moves.put, moves.lacks])
        act(chance.choice(list(machine)))
    return machine, moves


@for_seeds(300)
def test_in_the_way_names_all_that_is_still_on_and_nothing_else(seed: int) -> None:
    machine, moves = _part_way(seed)
    on = set(moves.on())
    gone = set(machine) - on
    for part, said in machine.items():
        behind = [other for other in dict.fromkeys(said.behind) if other in on]
        blocked = said.ways and not any(set(way) <= gone for way in said.ways)
        ways = [tuple(other for other in way if other in on) for way in said.ways] if blocked else []
        assert moves.in_the_way(part) == InTheWay(tuple(behind), tuple(ways))
        assert bool(moves.in_the_way(part)) != by_the_text.clear(part, gone, machine)


@for_seeds(300)
def test_once_what_is_in_the_way_is_off_the_part_may_come_off(seed: int) -> None:
    machine, moves = _part_way(seed)
    for part in moves.on():
        missing = moves.in_the_way(part)
        if machine[part].stays or not missing:
            continue
        after = Moves(moves.rules)
        for other in [*moves.off(), *missing.behind, *(missing.ways[-1] if missing.ways else ())]:
            after.took(other)
        for other in filter(moves.is_absent, machine):
            after.lacks(other)
        assert part in after.may_come_off()


@for_seeds(300)
def test_not_yet_names_only_parts_that_are_off_and_on_only_those_the_part_touches(seed: int) -> None:
    machine, moves = _part_way(seed)
    off = set(moves.off())
    for part in off:
        not_yet = moves.not_yet(part)
        touches = {
            other.id for other in machine.values() if part in other.behind or any(part in way for way in other.ways)
        }
        assert set(not_yet.after) <= off - {part}
        assert {first for first in machine[part].fit_after if first in off} <= set(not_yet.after)
        assert set(not_yet.after) <= touches | set(machine[part].fit_after)
        assert len(set(not_yet.after)) == len(not_yet.after)
        assert not_yet.in_the_way == moves.in_the_way(part)


@for_seeds(300)
def test_a_part_named_in_not_yet_would_really_be_shut_in(seed: int) -> None:
    machine, moves = _part_way(seed)
    off = set(moves.off())
    absent = {part for part in machine if moves.is_absent(part)}
    for part in off:
        shut_in = by_the_text.reach(off, absent, machine) - by_the_text.reach(off - {part}, absent, machine)
        assert set(moves.not_yet(part).after) <= shut_in | set(machine[part].fit_after)


def test_a_piston_with_two_ways_out_names_both_and_after_one_is_clear_neither() -> None:
    moves = Moves(
        Rules(
            [
                Stands("head"),
                Stands("rod-cap"),
                Stands("crankshaft", ["rod-cap"]),
                Stands("piston", ways=[["head", "rod-cap"], ["crankshaft"]]),
            ]
        )
    )
    assert moves.in_the_way("piston").ways == (("head", "rod-cap"), ("crankshaft",))
    moves.took("rod-cap")
    assert moves.in_the_way("piston").ways == (("head",), ("crankshaft",))
    moves.took("crankshaft")
    assert moves.in_the_way("piston") == InTheWay()
    assert moves.may_come_off() == ["head", "piston"]


def test_a_part_named_twice_in_behind_is_in_the_way_once() -> None:
    moves = Moves(Rules([Stands("nut"), Stands("cover", ["nut", "nut"])]))
    assert moves.in_the_way("cover").behind == ("nut",)
    assert moves.took("nut").freed == ("cover",)
    assert moves.put("nut").held == ("cover",)
