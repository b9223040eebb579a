"""Which readings cannot be right: the sums alone."""

import pytest

from fingertight.measure.odd import far_from_others, out_of_bounds

NEW = (68.0, 68.015)


@pytest.mark.parametrize(
    ("value", "odd"), [(22.66, True), (22.67, False), (204.49, False), (204.50, True), (-68.0, True)]
)
def test_the_bounds_are_a_third_of_the_smallest_and_three_times_the_largest(value: float, odd: bool) -> None:
    # A third of 68.000 is 22.667; three times 68.165 is 204.495.
    assert out_of_bounds(value, None, 68.165, NEW) is odd


def test_each_of_what_is_known_may_be_the_smallest_or_the_largest() -> None:
    assert out_of_bounds(16.0, 50.0, None, NEW)
    assert not out_of_bounds(17.0, 50.0, None, NEW)
    assert not out_of_bounds(1e9, None, None, None)


def test_a_size_that_shrinks_is_judged_by_its_way_down() -> None:
    # From 67.950 when new down to 67.900 it is 0.05; three times that is 0.15.
    assert far_from_others([67.96, 67.96, 67.80], 67.9, None, (67.95, 67.97)) == [False, False, True]
    assert far_from_others([67.96, 67.96, 67.82], 67.9, None, (67.95, 67.97)) == [False, False, False]


def test_exactly_three_times_the_way_is_not_further() -> None:
    assert far_from_others([10.0, 10.0, 10.3], None, 10.1, (9.9, 10.0)) == [False, False, False]


def test_the_middle_of_four_others_is_between_the_two_in_the_middle() -> None:
    # The middle of 10, 10, 10.2, 10.2 is 10.1; the way is 0.1.
    assert far_from_others([10.0, 10.0, 10.2, 10.2, 10.41], None, 10.1, (9.9, 10.0))[-1]
    assert not far_from_others([10.0, 10.0, 10.2, 10.2, 10.39], None, 10.1, (9.9, 10.0))[-1]


def test_fewer_than_three_readings_or_no_way_known_say_nothing() -> None:
    assert far_from_others([1.0, 99.0], None, 68.165, NEW) == [False, False]
    assert far_from_others([1.0, 1.0, 99.0], None, 68.165, None) == [False, False, False]
    assert far_from_others([1.0, 1.0, 99.0], None, None, NEW) == [False, False, False]
    assert far_from_others([], None, 68.165, NEW) == []
