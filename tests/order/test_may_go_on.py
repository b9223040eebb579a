"""What may go on, in lawful and unlawful states, against the three conditions said word by word."""

import random
from dataclasses import dataclass, field

from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.order import Moves, Rules, Stands
from tests.order import by_the_text
from tests.order.machines import Machine, layered, leaning, strippable, tangled
from tests.order.seeds import for_seeds


@dataclass
class Bench:
    """One machine twice: the quick moves, and two sets that the slow rules read."""

    machine: Machine
    chance: random.Random
    off: set[str] = field(default_factory=set)
    absent: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.moves = Moves(Rules(self.machine.values()))

    def clear(self) -> set[str]:
        gone = self.off | self.absent
        return {part for part in self.machine if by_the_text.clear(part, gone, self.machine)}

    def reach(self) -> set[str]:
        return by_the_text.reach(self.off, self.absent, self.machine)

    def takes(self, part: str) -> None:
        before, was_on = self.clear(), part not in self.off | self.absent
        step = self.moves.took(part)
        self.off.add(part)
        self.absent.discard(part)
        assert set(step.freed) == (self.clear() - before if was_on else set())

    def lacks(self, part: str) -> None:
        before, was_on = self.clear(), part not in self.off | self.absent
        step = self.moves.lacks(part)
        self.off.discard(part)
        self.absent.add(part)
        assert set(step.freed) == (self.clear() - before if was_on else set())

    def puts(self, part: str) -> None:
        was_clear, was_within, was_off = self.clear(), self.reach(), set(self.off)
        would_hold = self.moves.would_hold(part)
        step = self.moves.put(part)
        self.off.discard(part)
        held = was_clear - self.clear()
        assert set(step.held) == set(would_hold) == held
        # Out of reach, but clear and waiting for nothing, it could have gone back at once.
        could = {other for other in held & self.off if not was_off & set(self.machine[other].fit_after)}
        assert set(step.shut_in) == (was_within - {part} - self.reach()) | could

    def does_something(self) -> None:
        dice = self.chance.random()
        part = self.chance.choice(list(self.machine))
        if dice < 0.04:
            self.lacks(part)
        elif dice < 0.5:
            lawful = by_the_text.may_come_off(self.off, self.absent, self.machine)
            self.takes(self.chance.choice(lawful) if lawful and self.chance.random() < 0.8 else part)
        elif self.off:
            lawful = by_the_text.may_go_on(self.off, self.absent, self.machine)
            self.puts(self.chance.choice(lawful if lawful and self.chance.random() < 0.7 else sorted(self.off)))

    def agrees(self) -> None:
        go_on = by_the_text.may_go_on(self.off, self.absent, self.machine)
        assert self.moves.may_go_on() == go_on
        assert self.moves.may_come_off() == by_the_text.may_come_off(self.off, self.absent, self.machine)
        for part in self.off:
            assert self.moves.may_part_go_on(part) == (part in go_on)
            assert bool(self.moves.not_yet(part)) == (part not in go_on)
        assert self.moves.may_go_on() == go_on, "asking changes nothing"


@for_seeds(500)
def test_thirty_moves_some_out_of_turn_some_parts_absent_and_always_what_the_text_says(seed: int) -> None:
    bench = Bench(tangled(seed), random.Random(seed))
    for _ in range(30):
        bench.does_something()
        if bench.chance.random() < 0.7:
            bench.agrees()
    bench.agrees()


@for_seeds(300)
def test_where_parts_lean_on_each_other_in_circles_each_answer_is_what_the_text_says(seed: int) -> None:
    bench = Bench(leaning(seed), random.Random(seed))
    for _ in range(25):
        bench.does_something()
        assert bench.moves.may_go_on() == by_the_text.may_go_on(bench.off, bench.absent, bench.machine)


@for_seeds(20)
def test_what_a_move_changes_far_away_is_seen_in_machines_of_twenty_parts_with_many_ways(seed: int) -> None:
    chance = random.Random(seed)
    machine = layered(seed, 20, window=5)
    for part in chance.sample(list(machine)[2:], 12):
        ways = [chance.sample([other for other in machine if other != part], 1) for _ in range(2)]
        machine[part] = Stands(part, ways=[*ways, [f"p{int(part[1:]) - 1}"]])
    bench = Bench(machine, chance)
    for number in bench.moves.rules.sweep():
        bench.takes(bench.moves.rules.ids[number])
    while welcome := by_the_text.may_go_on(bench.off, bench.absent, machine):
        assert bench.moves.may_go_on() == welcome
        bench.puts(chance.choice(welcome))
    assert not bench.off


@settings(deadline=None)
@given(strippable(fit_after=True), st.randoms(use_true_random=False))
def test_machines_nobody_thought_of_agree_with_the_text_too(machine: Machine, chance: random.Random) -> None:
    bench = Bench(machine, chance)
    for _ in range(12):
        bench.does_something()
    bench.agrees()


def test_two_parts_that_hold_each_others_way_open_may_not_both_go_on() -> None:
    # The piston comes out by head or crank: while both are off either may go on; then the other keeps its way open.
    moves = Moves(Rules([Stands("head"), Stands("crank"), Stands("piston", ways=[["head"], ["crank"]])]))
    for part in ("head", "crank", "piston"):
        moves.took(part)
    assert moves.may_go_on() == ["head", "crank", "piston"]
    moves.put("head")
    assert moves.may_go_on() == ["piston"]
    assert moves.not_yet("crank").after == ("piston",)


def test_neighbours_alone_do_not_decide_when_two_parts_lean_on_each_other() -> None:
    # a and b free each other, but only c lets one of them out first: c may not go on while they are off.
    moves = Moves(Rules([Stands("c"), Stands("a", ways=[["b"], ["c"]]), Stands("b", ways=[["a"], ["c"]])]))
    for part in ("c", "a", "b"):
        moves.took(part)
    assert moves.may_go_on() == ["a", "b"]
    assert set(moves.not_yet("c").after) == {"a", "b"}


def test_a_part_far_away_that_comes_off_lets_a_part_go_on_that_was_held_before() -> None:
    # x leans on p or y, y on x or z. With z on, y needs x, so x needs p; once z is off, p is free to go on.
    rules = Rules([Stands("p"), Stands("z"), Stands("x", ways=[["p"], ["y"]]), Stands("y", ways=[["x"], ["z"]])])
    moves = Moves(rules)
    for part in ("p", "x", "y"):
        moves.took(part)
    assert moves.may_go_on() == ["y"]
    moves.took("z")
    assert moves.may_go_on() == ["p", "z", "x", "y"]


def test_fit_after_binds_only_while_the_other_part_is_off() -> None:
    moves = Moves(Rules([Stands("cover", fit_after=["shroud"]), Stands("shroud")]))
    moves.took("cover")
    assert moves.may_go_on() == ["cover"]
    moves.took("shroud")
    assert moves.may_go_on() == ["shroud"]
    assert moves.not_yet("cover").after == ("shroud",)


def test_a_part_this_machine_lacks_is_in_nobodys_way_and_never_goes_on() -> None:
    moves = Moves(Rules([Stands("tank"), Stands("carburettor", ["tank"])]))
    assert moves.lacks("tank").freed == ("carburettor",)
    moves.took("carburettor")
    assert moves.may_go_on() == ["carburettor"]
    assert not moves.is_on("tank")
    assert not moves.is_off("tank")
