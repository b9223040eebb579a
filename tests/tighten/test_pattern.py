"""The simple sequences by angle."""

from itertools import pairwise
from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.tighten.pattern import loosening_order, tightening_order


def _circle(holes: int) -> list[tuple[float, float]]:
    """Holes on a circle, clockwise from the top."""
    return [(100 * sin(2 * pi * hole / holes), 100 * cos(2 * pi * hole / holes)) for hole in range(holes)]


# The crosses of flange practice: ASME PCC-1, legacy pattern, from memory (no copy was at hand).
@pytest.mark.parametrize(("holes", "order"), [(4, (1, 3, 2, 4)), (8, (1, 5, 3, 7, 2, 6, 4, 8))])
def test_four_and_eight_holes_are_tightened_in_the_cross_of_flange_practice(holes: int, order: tuple[int, ...]) -> None:
    assert tightening_order(_circle(holes), "across") == order


@pytest.mark.parametrize("holes", range(4, 25, 2))
def test_across_goes_to_the_opposite_hole_second_and_never_to_a_neighbour_of_the_last(holes: int) -> None:
    order = tightening_order(_circle(holes), "across")
    assert order[1] == order[0] + holes // 2
    apart = [min((one - other) % holes, (other - one) % holes) for one, other in pairwise(order)]
    assert min(apart) >= (2 if holes > 4 else 1)


@given(
    st.lists(st.tuples(st.floats(-100, 100), st.floats(-100, 100)), min_size=1, max_size=15),
    st.sampled_from(["across", "around", None]),
)
def test_every_position_is_done_once_whatever_the_pattern(at: list[tuple[float, float]], pattern: str | None) -> None:
    assert sorted(tightening_order(at, pattern)) == list(range(1, len(at) + 1))
    assert loosening_order(at, pattern) == tightening_order(at, pattern)[::-1]


def test_around_goes_clockwise_from_the_first_position_however_they_are_listed() -> None:
    top, right, bottom, left = _circle(4)
    assert tightening_order([top, left, bottom, right], "around") == (1, 4, 3, 2)


def test_given_is_as_given() -> None:
    assert tightening_order(_circle(3), "given", (2, 3, 1)) == (2, 3, 1)
