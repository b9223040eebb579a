"""A bolt from the floor and a spilled tray, as a person tells them: where they belong in a machine, or in a job."""

import pytest

from fingertight.cards.tighten.bolt import BoltCard, bolt_card
from fingertight.cards.tighten.tray import TrayCard, tray_card
from fingertight.quantity import NotUnderstood
from tests.ledger.bench import Bench

BOX = """
[[part]]
id = "lid"
  [[part.held_by]]
  thread = "M6"
  length = 28
  grip = 12
  depth = 18
  head = "hex flange"
  grade = "8.8"
  count = 6
[[part]]
id = "cap"
  [[part.held_by]]
  thread = "M6"
  length = 28
  grip = 14
  depth = 18
  head = "hex flange"
  grade = "10.9"
  count = 2
[[part]]
id = "guard"
  [[part.held_by]]
  thread = "1/4-20 UNC"
  length = 19.05
  head = "hex"
  count = 2
"""


def bolt(told: str, bench: Bench | None = None) -> BoltCard:
    """Whose is it, in a machine or in a job?"""
    machine = bench or Bench(BOX)
    return bolt_card(machine.plan.anatomy, told, bench.ledger.state if bench else None)


def tray(*lines: str, bench: Bench | None = None) -> TrayCard:
    """Where does each belong, in a machine or in a job?"""
    machine = bench or Bench(BOX)
    return tray_card(machine.plan.anatomy, lines, bench.ledger.state if bench else None)


def counted_short() -> Bench:
    """The lid lies in bag 1, and one of its six bolts was not there at the count."""
    bench = Bench(BOX)
    bench.off("lid", "1")
    bench.counts({"1": {"M6x28": 5}})
    return bench


def test_the_mark_on_the_head_tells_like_bolts_apart() -> None:
    assert {one.part for one in bolt("M6x28 hex flange").holes} == {"lid", "cap"}
    assert bolt("M6x28 hex flange").holes[0].probability < 0.9
    for mark, part in (("8.8", "lid"), ("10.9", "cap"), ("class 10.9", "cap")):
        best = bolt(f"M6x28 hex flange {mark}").holes[0]
        assert best.part == part
        assert best.probability > 0.9


def test_a_bolt_belongs_to_no_hole_in_which_it_bottoms() -> None:
    for told in ("M6x33", "M6x36 hex flange"):
        card = bolt(told)
        assert card.is_no
        assert card.holes == () or card.holes[0].probability < 0.5
    assert card.answer.lead[1] == "Cap: it goes in there, and is 4 mm too long: it bottoms before it clamps."


def test_a_fraction_is_inches_and_a_short_length_on_an_inch_thread_is_asked_about() -> None:
    for told in ("1/4-20 UNC x 3/4", "1/4-20 UNC x 3/4 in", "1/4-20 UNC x 19.05"):
        assert bolt(told).holes[0].part == "guard"
    with pytest.raises(NotUnderstood, match="is the length in inches"):
        bolt("1/4-20 UNC x 1")


def test_the_missing_bolt_comes_first_and_says_why() -> None:
    best = bolt("M6x28 hex flange", counted_short()).holes[0]
    assert (best.part, best.lacks) == ("lid", "one is missing there")
    assert best.probability > 0.9


def test_the_bolts_of_a_spilled_bag_are_its_own_though_one_was_counted_missing() -> None:
    card = tray("5 x M6x28 hex flange 8.8", bench=counted_short())
    assert [(one.part, one.count) for one in card.sorted] == [("lid", 5)]
    assert [(one.part, one.count) for one in card.left] == [("lid", 1)]
    assert not card.is_no


def test_the_found_bolt_leaves_nothing_missing() -> None:
    card = tray("M6x28 hex flange 8.8", bench=counted_short())
    assert [(one.part, one.count) for one in card.sorted] == [("lid", 1)]
    assert card.left == ()
    assert [one.count for one in tray("1/4-20 x 3/4", bench=counted_short()).left if one.part == "lid"] == [1]


def test_a_numbered_thread_is_no_remark() -> None:
    card = tray("# from under bench 4", "#10-24 UNC x 3/4 in hex", "2 x M6x28 hex flange")
    assert card.bolts == 3
    assert [one.said for one in card.sorted if one.part is None] == ["#10-24 UNC x 3/4 in hex"]


@pytest.mark.parametrize("told", ["-3 x M6x28", "0 x M6x28", "1000000 x M6x28", "M6x28 rusty"])
def test_what_is_no_tray_is_refused_with_its_line(told: str) -> None:
    with pytest.raises(NotUnderstood, match=r"^Line 2: .*[.?]$"):
        tray("2 x M6x28", told)
