"""A rebuild is a strip turned round: always where no `fit_after` stands, and where one stands if it is kept."""

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.order import Moves, Rules, knots
from tests.order.machines import Machine, strippable


def _stripped(machine: Machine, chance: random.Random) -> tuple[Moves, list[str]]:
    moves, order = Moves(Rules(machine.values())), []
    while free := moves.may_come_off():
        order.append(chance.choice(free))
        moves.took(order[-1])
    assert len(order) == len(machine)
    return moves, order


@settings(deadline=None)  # a busy machine is slow now and then
@given(strippable(), st.randoms(use_true_random=False))
def test_every_lawful_strip_turned_round_is_a_lawful_rebuild_without_fit_after(
    machine: Machine, chance: random.Random
) -> None:
    moves, order = _stripped(machine, chance)
    for part in reversed(order):
        assert moves.may_part_go_on(part)
        step = moves.put(part)
        assert not step.shut_in
    assert moves.off() == []


@settings(deadline=None)  # a busy machine is slow now and then
@given(strippable(fit_after=True), st.randoms(use_true_random=False))
def test_a_rebuild_that_takes_any_part_that_may_go_on_always_finishes_and_turned_round_is_a_strip(
    machine: Machine, chance: random.Random
) -> None:
    moves, _ = _stripped(machine, chance)
    assert not knots(moves.rules)
    rebuilt = []
    while welcome := moves.may_go_on():
        rebuilt.append(chance.choice(welcome))
        assert not moves.put(rebuilt[-1]).shut_in
    assert moves.off() == []
    again = Moves(moves.rules)
    for part in moves.off():
        again.took(part)
    for part in reversed(rebuilt):
        assert part in again.may_come_off()
        again.took(part)


@settings(deadline=None)  # a busy machine is slow now and then
@given(strippable(), st.randoms(use_true_random=False))
def test_taking_a_part_and_putting_it_back_at_any_moment_changes_nothing(
    machine: Machine, chance: random.Random
) -> None:
    moves, _ = _stripped(machine, chance)
    while welcome := moves.may_go_on():
        free = moves.may_come_off()
        part = chance.choice(welcome)
        freed_again = set(moves.put(part).held)
        assert part in moves.may_come_off()
        assert set(moves.took(part).freed) == freed_again
        assert moves.may_go_on() == welcome
        assert moves.may_come_off() == free
        moves.put(part)
