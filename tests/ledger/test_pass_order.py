"""A pass whose order was written down is held against its pattern."""

import pytest

from tests.ledger.bench import Bench

COVER = """
[[part]]
id = "cover"
  [[part.held_by]]
  thread = "M6"
  length = 28
  at = [[-75, 60], [0, 74], [75, 60], [75, -60], [0, -74], [-75, -60]]
  torque = 10.0
  pattern = "across"
  passes = [0.5, 1.0]
"""
LISTED = [1, 2, 3, 4, 5, 6]


def fitted(parts: str = COVER) -> Bench:
    """The cover is off, and on again with its bolts loose."""
    bench = Bench(parts)
    bench.off("cover", "1")
    bench.on("cover", "1")
    return bench


def test_bolts_tightened_round_the_circle_pull_one_side_down_first() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=LISTED)
    flag = bench.flag("wrong-order")
    assert flag.text == "Cover: pass 1 of M6x28 went 2.4 times as unevenly as its pattern: one side came first."
    assert flag.mend == (
        "Slacken them, and do pass 1 of M6x28 on Cover again in the numbered order (2, 5, 1, 4, 3, 6 in the file)."
    )
    assert not flag.stops


@pytest.mark.parametrize(
    "order",
    [[2, 5, 1, 4, 3, 6], [5, 2, 3, 6, 1, 4], [1, 4, 6, 3, 5, 2], [4, 1, 3, 6, 2, 5]],
    ids=["computed", "mirrored", "by the angle", "begun elsewhere"],
)
def test_any_crisscross_is_even_enough(order: list[int]) -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=order)
    assert bench.ever_wrong() == []


def test_that_pass_again_mends_it_in_order_or_with_one_tap() -> None:
    for again in ([2, 5, 1, 4, 3, 6], None):
        bench = fitted()
        bench.tighten("cover", 5, turn=0, order=LISTED)
        bench.tighten("cover", 10, turn=1, order=[2, 5, 1, 4, 3, 6])
        assert bench.wrong() == ["wrong-order cover"]
        bench.tighten("cover", 5, turn=0, **({"order": again} if again else {}))
        assert bench.wrong() == []


def test_a_bolt_that_was_left_out_is_named() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=[2, 5, 1, 4])
    assert bench.flag("wrong-order").text == "Cover: pass 1 of M6x28 missed 3 and 6."


def test_a_pass_in_a_wrong_order_counts_as_done_and_taking_the_part_off_closes_it() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=LISTED)
    bench.tighten("cover", 10, turn=1)
    assert not bench.finish()
    assert bench.wrong() == ["wrong-order cover"]
    bench.off("cover", "1")
    assert bench.wrong() == []


def test_round_the_circle_is_right_where_the_machine_asks_for_it() -> None:
    bench = fitted(COVER.replace('"across"', '"around"'))
    bench.tighten("cover", 5, turn=0, order=[3, 4, 5, 6, 1, 2])
    bench.tighten("cover", 10, turn=1, order=[2, 5, 1, 4, 3, 6])
    assert bench.ever_wrong() == []


def test_a_given_order_is_the_measure_for_others() -> None:
    bench = fitted(COVER.replace('pattern = "across"', 'pattern = "given"\n  order = [2, 5, 3, 6, 1, 4]'))
    bench.tighten("cover", 5, turn=0, order=[2, 5, 3, 6, 1, 4])
    assert bench.ever_wrong() == []
    bench.tighten("cover", 10, turn=1, order=LISTED)
    assert "(2, 5, 3, 6, 1, 4 in the file)" in bench.flag("wrong-order").mend


def test_without_a_pattern_or_with_two_bolts_any_order_is_right() -> None:
    bench = fitted(COVER.replace('pattern = "across"', ""))
    bench.tighten("cover", 5, turn=0, order=LISTED)
    two = fitted(COVER.replace("[[-75, 60], [0, 74], [75, 60], [75, -60], [0, -74], [-75, -60]]", "[[0, 0], [60, 0]]"))
    two.tighten("cover", 5, turn=0, order=[2, 1])
    assert bench.ever_wrong() == two.ever_wrong() == []


def test_a_number_that_is_no_bolt_and_one_written_twice_are_passed_over() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=[2, 5, 1, 1, 4, 9, 3, 6])
    assert bench.ever_wrong() == []
