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
        "Slacken them, and do pass 1 of M6x28 on Cover again in the numbered order (2, 5, 1, 4, 3, 6 in the file), "
        "then the passes after it."
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


@pytest.mark.parametrize("pattern", ['pattern = "across"', ""], ids=["with a pattern", "without"])
def test_a_pass_that_left_bolts_out_names_them_and_does_not_count(pattern: str) -> None:
    bench = fitted(COVER.replace('pattern = "across"', pattern))
    bench.tighten("cover", 5, turn=0)
    bench.tighten("cover", 10, turn=1, order=[2, 5, 1, 4])
    flag = bench.flag("wrong-order")
    assert flag.text == "Cover: pass 2 of M6x28 missed 3 and 6 of 6, as the file counts them; it does not count."
    assert flag.mend == "Do pass 2 of M6x28 on Cover again, all of them."
    assert not bench.finish()
    assert bench.wrong() == ["wrong-order cover", "loose cover"]
    bench.tighten("cover", 10, turn=1)
    assert bench.wrong() == []
    assert bench.finish()


def test_one_of_two_bolts_left_out_does_not_pass_for_done() -> None:
    two = fitted(COVER.replace("[[-75, 60], [0, 74], [75, 60], [75, -60], [0, -74], [-75, -60]]", "[[0, 0], [60, 0]]"))
    two.tighten("cover", 5, turn=0)
    two.tighten("cover", 10, turn=1, order=[1])
    assert "missed 2 of 2" in two.flag("wrong-order").text
    assert not two.finish()


def test_an_earlier_pass_done_again_begins_the_set_anew_from_there() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0, order=LISTED)
    bench.tighten("cover", 10, turn=1)
    bench.tighten("cover", 5, turn=0)
    assert not bench.finish()
    assert bench.flag("loose").text == "Cover: 6 × M6x28 had 1 of 2 passes when the job was finished."
    bench.tighten("cover", 10, turn=1)
    assert bench.finish()


def test_a_pass_before_its_turn_does_not_count_and_the_flag_says_why() -> None:
    bench = fitted()
    bench.tighten("cover", 10, turn=1)
    assert not bench.finish()
    assert bench.flag("loose").text == (
        "Cover: 6 × M6x28 had 0 of 2 passes when the job was finished. "
        "Pass 2 was done before those that belong before it, and does not count."
    )


def test_of_several_wrong_torques_the_flag_tells_the_worst() -> None:
    bench = fitted()
    bench.tighten("cover", 5, turn=0)
    for torque, told in ((7, "7 N·m"), (60, "60 N·m"), (30, "60 N·m"), (1, "60 N·m")):
        bench.tighten("cover", torque, turn=1)
        assert f"was {told}, but 10 N·m belongs there" in bench.flag("wrong-torque").text
    assert (
        bench.flag("wrong-torque").mend
        == "Slacken them, fit new ones, and do pass 2 of M6x28 on Cover again with 10 N·m."
    )
    bench.tighten("cover", 10, turn=1)
    assert bench.wrong() == []
    bench.tighten("cover", 7, turn=1)
    assert "was 7 N·m" in bench.flag("wrong-torque").text


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
