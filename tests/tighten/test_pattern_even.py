"""The most even order is the most even one, by every order there is and by another model of the joint."""

import math
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.pattern.even import MOST_BOLTS, most_even_order, steps, unevenness
from fingertight.tighten.pattern.joint import Joint, Position
from fingertight.tighten.pattern.layouts import ring, rows
from fingertight.tighten.pattern.sequence import MAY_BE_UNEVEN, loosening_order, tightening_order
from tests.tighten.rigid_cover import out_of_parallel

EVERY_ORDER_OF_EIGHT = np.array(list(permutations(range(8))))
CROOKED = ((0.0, 0.0), (41.0, -6.0), (88.0, 3.0), (95.0, 52.0), (70.0, 81.0), (33.0, 77.0), (4.0, 60.0), (-9.0, 29.0))


def random_layouts(seed: int, how_many: int) -> list[tuple[Position, ...]]:
    """Scattered bolts, crooked rings and crooked heads in turn, 4 to 14 bolts each."""
    chance = np.random.default_rng(seed)
    found = []
    for number in range(how_many):
        count = int(chance.integers(4, 15))
        if number % 3 == 0:
            at = chance.uniform(0, 100, (count, 2))
        elif number % 3 == 1:
            turn, far = np.sort(chance.uniform(0, 2 * np.pi, count)), chance.uniform(40, 60, count)
            at = np.column_stack([far * np.sin(turn), far * np.cos(turn)])
        else:
            at = np.array(rows(2, (count + 1) // 2, (40, 50))) + chance.normal(0, 4, (2 * ((count + 1) // 2), 2))
        found.append(tuple((float(x), float(y)) for x, y in at))
    return found


def least_of_every_order(at: tuple[Position, ...]) -> float:
    """The least unevenness of all 40,320 orders of eight bolts, set by set and without any search."""
    joint = Joint(at)
    sets = (np.arange(256)[:, None] >> np.arange(8)) & 1
    clamp = sets @ joint.clamp.T
    mean = clamp @ joint.beds / 8
    spread = np.sqrt(((clamp - mean[:, None]) ** 2) @ joint.beds / 8) / np.where(mean > 0, mean, 1)
    return float(spread[np.cumsum(1 << EVERY_ORDER_OF_EIGHT, axis=1)].sum(axis=1).min()) / 8


@pytest.mark.parametrize(
    "at", [ring(8), rows(2, 4), CROOKED, *(one for one in random_layouts(5, 60) if len(one) == 8)][:8]
)
def test_for_eight_bolts_none_of_the_40320_orders_is_more_even(at: tuple[Position, ...]) -> None:
    found = most_even_order(at)
    assert found.proven
    assert found.unevenness == pytest.approx(least_of_every_order(at), abs=1e-6)


def test_by_another_model_the_order_is_at_least_as_even_as_round_the_circle_on_200_layouts() -> None:
    ratios = [
        out_of_parallel(at, most_even_order(at).order) / out_of_parallel(at, tightening_order(at, "around"))
        for at in random_layouts(1, 200)
    ]
    assert max(ratios) <= 1.0 + 1e-9
    assert math.fsum(ratios) / len(ratios) < 0.6


def test_force_and_moments_of_every_pull_balance() -> None:
    for at in random_layouts(3, 30):
        joint = Joint(at)
        pressed = joint.beds[:, None] * joint.clamp
        assert pressed.sum(axis=0) == pytest.approx(np.ones(len(at)))
        assert (joint.places.T @ pressed) == pytest.approx(joint.places.T, abs=1e-9)


def test_the_bed_of_a_regular_ring_is_shared_alike_and_that_of_a_head_by_its_edge() -> None:
    assert Joint(ring(7)).beds == pytest.approx(np.ones(7))
    # 2 × 3 bolts, 50 apart along and 60 across: the edge is 320 long, a corner serves 55 of it, a middle one 50.
    assert Joint(rows(2, 3)).beds == pytest.approx(np.array([55, 50, 55, 55, 50, 55]) * 6 / 320)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=1, max_size=10, unique=True),
    st.floats(0.01, 1000),
    st.floats(-1000, 1000),
)
def test_every_bolt_is_done_once_and_neither_size_nor_place_changes_how_uneven_it_is(
    at: list[tuple[int, int]], size: float, moved: float
) -> None:
    found = most_even_order(at)
    assert sorted(found.order) == list(range(1, len(at) + 1))
    elsewhere = [(x * size + moved, y * size - moved) for x, y in at]
    assert most_even_order(elsewhere).unevenness == pytest.approx(found.unevenness, abs=1e-5)
    assert loosening_order(at) == tightening_order(at)[::-1]


def test_one_row_and_two_bolts_are_done_from_the_middle_or_in_turn() -> None:
    row = [(0.0, 0.0), (30.0, 0.0), (60.0, 0.0), (90.0, 0.0), (120.0, 0.0)]
    assert most_even_order(row).order[0] == 3
    assert tightening_order([(0, 0), (60, 0)]) == (1, 2)
    assert tightening_order([(0, 0)]) == (1,)


def test_going_round_the_circle_is_more_than_twice_as_uneven_for_eight_bolts() -> None:
    around = tuple(range(1, 9))
    assert unevenness(ring(8), around) > 2 * most_even_order(ring(8)).unevenness
    # The first bolt of a rigid ring: clamp 1 + 2 cos θ round it, whose spread is √2 of the mean (from statics).
    assert steps(ring(8), around)[0] == pytest.approx(math.sqrt(2), abs=0.01)


def by_eye(at: tuple[Position, ...], first: int) -> tuple[int, ...]:
    """As somebody goes crosswise who was told no order: to the far side, then into the widest gap, and so on."""
    order = [first]
    while len(order) < len(at):
        free = [one for one in range(len(at)) if one not in order]
        across = [math.dist(at[one], at[order[-1]]) for one in free]
        gap = [min(math.dist(at[one], at[done]) for done in order) for one in free]
        far = across if len(order) % 2 else gap
        order.append(free[far.index(max(far))])
    return tuple(one + 1 for one in order)


def test_what_may_pass_divides_crisscrosses_by_eye_from_going_round_on_200_covers() -> None:
    chance = np.random.default_rng(1)
    crosswise, circles = [], []
    for _ in range(200):
        count = int(chance.choice([4, 5, 6, 7, 8, 10, 12]))
        turn = 2 * np.pi * (np.arange(count) + chance.uniform(-0.25, 0.25, count)) / count
        far = chance.uniform(85, 115, (2, count)) * np.array([[1.0], [chance.uniform(0.6, 1.0)]])
        at = tuple((float(x), float(y)) for x, y in zip(far[0] * np.cos(turn), far[1] * np.sin(turn), strict=True))
        least = most_even_order(at).unevenness
        crosswise += [unevenness(at, by_eye(at, first)) / least for first in range(count)]
        circles.append(unevenness(at, tightening_order(at, "around")) / least)
    assert np.mean(np.array(crosswise) <= MAY_BE_UNEVEN) > 0.9
    assert np.mean(np.array(circles) <= MAY_BE_UNEVEN) < 0.02


def test_thirty_bolts_are_no_less_even_than_the_best_choice_at_each_step() -> None:
    at = ring(30)
    found = most_even_order(at)
    assert not found.proven
    # By statics: opposite pairs bring the tilt of a ring back to nothing at every second bolt.
    assert max(steps(at, found.order)[1::2]) < 0.05


def test_an_order_that_leaves_a_bolt_out_is_refused() -> None:
    with pytest.raises(ValueError, match="each position from 1 to 4 once"):
        steps(ring(4), (1, 2, 3, 3))


def test_two_bolts_at_one_place_and_too_many_bolts_are_refused_by_the_sum_and_go_round_at_the_bench() -> None:
    with pytest.raises(ValueError, match="two positions are the same"):
        most_even_order([(0, 0), (1, 1), (0, 0)])
    many = ring(MOST_BOLTS + 1)
    with pytest.raises(ValueError, match="up to 64 bolts"):
        most_even_order(many)
    assert tightening_order(many, "across") == tuple(range(1, MOST_BOLTS + 2))
    assert tightening_order([(0, 0), (1, 1), (0, 0)], "across")[0] == 1


def test_around_goes_clockwise_from_the_first_position_however_they_are_listed() -> None:
    top, right, bottom, left = ring(4)
    assert tightening_order([top, left, bottom, right], "around") == (1, 4, 3, 2)


def test_given_is_as_given() -> None:
    assert tightening_order(ring(3), "given", (2, 3, 1)) == (2, 3, 1)
