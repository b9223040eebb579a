"""What lies in which bag: counts, things lost and found, places, and entries that contradict each other."""

import pytest

from tests.ledger.bench import Bench

COVER = """
[[part]]
id = "cover"
with = [{ name = "dowel", count = 2 }]
  [[part.held_by]]
  thread = "M6"
  length = 28
  count = 6
  [[part.held_by]]
  kind = "circlip"
  [[part.held_by]]
  kind = "press fit"
[[part]]
id = "guard"
  [[part.held_by]]
  thread = "1/4-20 UNC"
  length = 19.05
  count = 2
"""
ALL = {"M6x28": 6, "circlip": 1, "dowel": 2}


def test_a_right_count_as_the_cover_comes_off_raises_nothing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts=ALL)
    bench.off("guard", "15", counts={"1/4-20 UNCx19.05": 2})
    bench.counts({"14": ALL, "15": {"1/4-20 UNCx19.05": 2}})
    assert bench.ever_wrong() == []


@pytest.mark.parametrize(("counted", "kind"), [(5, "short"), (7, "over"), (0, "short")])
def test_a_bolt_too_few_or_too_many_as_the_cover_comes_off_is_flagged_with_part_bag_and_name(
    counted: int, kind: str
) -> None:
    bench = Bench(COVER)
    entry = bench.off("cover", "14", counts={"M6x28": counted})
    assert bench.wrong() == [f"{kind} cover"]
    flag = bench.flag(kind)
    assert flag.entry == entry
    assert flag.stops
    assert "Cover" in flag.text
    assert "14" in flag.text
    assert "M6x28" in flag.text
    assert str(counted) in flag.text or counted == 0
    assert "14" in flag.mend


def test_keys_and_bags_that_were_not_counted_say_nothing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"dowel": 2})
    bench.off("guard", "15")
    bench.counts({"14": {"circlip": 1}})
    bench.counts({"14": {}})
    bench.counts({})
    bench.say("count")
    assert bench.ever_wrong() == []


def test_a_bag_is_compared_name_by_name() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.counts({"14": {"M6x28": 5, "dowel": 3, "circlip": 1}})
    assert sorted(bench.wrong()) == ["over cover", "short cover"]
    assert "M6x28" in bench.flag("short").text
    assert "dowel" in bench.flag("over").text


def test_a_name_that_does_not_belong_in_the_bag_is_over() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.counts({"14": {"M8x20": 1}})
    assert bench.wrong() == ["over cover"]
    bench.counts({"14": {"M8x20": 0}})
    assert bench.wrong() == []


def test_a_right_count_of_that_bag_mends_it_and_of_another_bag_does_not() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 5})
    bench.off("guard", "15")
    bench.counts({"15": {"1/4-20 UNCx19.05": 2}})
    assert bench.wrong() == ["short cover"]
    bench.counts({"14": {"dowel": 2}})
    assert bench.wrong() == ["short cover"]
    bench.counts({"14": {"M6x28": 6}})
    assert bench.wrong() == []


def test_a_bolt_still_missing_at_the_next_count_is_flagged_once() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 5})
    bench.counts({"14": {"M6x28": 5}})
    assert bench.ever_wrong() == ["short cover open"]


def test_an_open_flag_says_the_newest_count() -> None:
    bench = Bench(COVER)
    first = bench.off("cover", "14", counts={"M6x28": 5})
    for left in (3, 4):
        bench.counts({"14": {"M6x28": left}})
        (flag,) = bench.ledger.state.flags.open()
        assert f"holds {left} of 6" in flag.text
        assert flag.entry == first, "it stays the mistake of whoever made it"


def test_one_bolt_too_few_and_later_one_too_many_is_another_mistake() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 5})
    bench.counts({"14": {"M6x28": 7}})
    assert bench.wrong() == ["over cover"]


def test_fitting_the_cover_mends_a_wrong_count_of_its_bag() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 5})
    bench.on("cover", "14")
    assert bench.wrong() == []


def test_an_empty_bag_should_hold_nothing_and_is_over_for_the_part_that_was_in_it_last() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.on("cover", "14")
    bench.counts({"14": {"M6x28": 0, "dowel": 0}})
    assert bench.ever_wrong() == []
    bench.counts({"14": {"dowel": 1}})
    assert bench.wrong() == ["over cover"]
    bench.counts({"14": {"dowel": 0}})
    assert bench.wrong() == []


def test_a_bag_that_never_held_anything_should_hold_nothing_either() -> None:
    bench = Bench(COVER)
    bench.counts({"9": {"M6x28": 0}})
    assert bench.ever_wrong() == []
    bench.counts({"9": {"M6x28": 2}})
    assert bench.wrong() == ["over None"]
    assert "9" in bench.flag("over").text


@pytest.mark.parametrize("mend", ["found", "renew", "count", "on"])
def test_a_lost_dowel_is_short_until_it_is_found_renewed_counted_or_its_cover_is_on(mend: str) -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    entry = bench.say("lost", part="cover", item="dowel", count=1, bag="14")
    assert bench.wrong() == ["short cover"]
    assert bench.flag("short").entry == entry
    assert "dowel" in bench.flag("short").text
    assert "Cover" in bench.flag("short").text
    if mend == "found":
        bench.say("found", part="cover", item="dowel", count=1, bag="14")
    elif mend == "renew":
        bench.renews("cover", "dowel")
    elif mend == "count":
        bench.counts({"14": {"dowel": 2}})
    else:
        bench.on("cover", "14")
    assert bench.ever_wrong() == ["short cover mended"]


def test_one_of_two_lost_dowels_found_leaves_one_missing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.say("lost", part="cover", item="dowel", count=2)
    bench.say("found", part="cover", item="dowel", count=1)
    assert bench.wrong() == ["short cover"]
    bench.say("found", part="cover", item="dowel", count=1)
    assert bench.wrong() == []


def test_a_lost_part_itself_is_short_until_found() -> None:
    bench = Bench(COVER)
    bench.off("guard", "15")
    bench.say("lost", part="guard")
    assert bench.wrong() == ["short guard"]
    bench.say("found", part="guard")
    assert bench.wrong() == []


def test_a_part_still_in_its_bag_at_the_end_is_left_over_until_it_is_on() -> None:
    bench = Bench(COVER)
    bench.off("guard", "15")
    assert not bench.finish()
    assert bench.wrong() == ["over guard"]
    assert "Guard" in bench.flag("over").text
    assert "15" in bench.flag("over").text
    bench.on("guard", "15")
    assert bench.wrong() == []
    assert bench.finish()


FOLLOWER = """
[[part]]
id = "follower"
places = ["inlet", "exhaust"]
with = [{ name = "shim", count = 2 }]
  [[part.held_by]]
  kind = "clip"
[[part]]
id = "plate"
count = 3
  [[part.held_by]]
  thread = "M4"
  length = 8
  count = 2
"""


def test_each_piece_has_its_own_bag_with_its_own_fasteners_and_small_things() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet", counts={"shim": 2, "clip": 1})
    bench.off("follower", "22", place="exhaust", counts={"shim": 2, "clip": 1})
    assert bench.ever_wrong() == []
    bench.counts({"22": {"shim": 1}})
    assert bench.wrong() == ["short follower"]
    assert "22" in bench.flag("short").text
    assert "exhaust" in bench.flag("short").text.lower()


def test_identical_pieces_move_as_one_with_all_their_fasteners() -> None:
    bench = Bench(FOLLOWER)
    bench.off("plate", "3", counts={"M4x8": 6})
    assert bench.ever_wrong() == []
    assert bench.ledger.state.moves.may_go_on() == ["plate"]


def test_each_piece_that_is_still_off_is_left_over_at_the_end() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    bench.finish()
    assert bench.wrong() == ["over follower"]
    bench.on("follower", "21", place="inlet")
    assert bench.finish()


@pytest.mark.parametrize(("place", "bag"), [("inlet", "22"), ("exhaust", "21")])
def test_a_follower_out_of_the_other_ones_bag_is_in_the_wrong_place(place: str, bag: str) -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    entry = bench.on("follower", bag, place=place)
    assert bench.wrong() == ["wrong-place follower"]
    flag = bench.flag("wrong-place")
    assert flag.entry == entry
    assert bag in flag.text
    assert place in flag.text.lower()
    bench.off("follower", bag, place=place)
    assert bench.wrong() == []


def test_swapped_followers_taken_out_and_fitted_right_leave_nothing_wrong() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    bench.on("follower", "22", place="inlet")
    bench.on("follower", "21", place="exhaust")
    assert not bench.finish()
    bench.off("follower", "22", place="inlet")
    bench.off("follower", "21", place="exhaust")
    bench.on("follower", "21", place="inlet")
    bench.on("follower", "22", place="exhaust")
    assert bench.wrong() == []
    assert bench.finish()


def test_a_guard_said_to_come_out_of_a_bag_it_does_not_lie_in_is_in_the_wrong_place() -> None:
    bench = Bench(COVER)
    bench.off("guard", "15")
    bench.off("cover", "14")
    bench.on("guard", "14")
    assert "wrong-place guard" in bench.wrong()
    assert "Guard" in bench.flag("wrong-place").text
    bench.off("guard", "15")
    assert "wrong-place guard" not in bench.wrong()


def test_a_part_fitted_without_naming_a_bag_is_taken_from_where_it_lies() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    bench.on("follower", place="inlet")
    assert bench.ever_wrong() == []
    assert bench.finish()


def test_a_cover_that_came_off_again_into_another_bag_clashes_and_into_the_same_does_not() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.off("cover", "14")
    assert bench.ever_wrong() == []
    entry = bench.off("cover", "16")
    assert bench.wrong() == ["clash cover"]
    flag = bench.flag("clash")
    assert "14" in flag.text
    assert "16" in flag.text
    assert not flag.stops
    bench.undo(entry)
    assert bench.wrong() == []


def test_the_other_one_may_have_been_the_wrong_one() -> None:
    bench = Bench(COVER)
    first = bench.off("cover", "14")
    bench.off("cover", "16")
    bench.undo(first)
    assert bench.wrong() == []
    assert bench.ledger.state.lies == {("cover", None): "16"}


def test_a_bag_given_to_a_second_piece_clashes() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    entry = bench.off("follower", "21", place="exhaust")
    assert bench.wrong() == ["clash follower"]
    assert "21" in bench.flag("clash").text
    bench.undo(entry)
    assert bench.wrong() == []


def test_a_bag_given_to_another_part_clashes_and_names_what_lies_in_it() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.off("guard", "14")
    assert bench.wrong() == ["clash guard"]
    assert "Cover" in bench.flag("clash").text
    assert "Guard" in bench.flag("clash").text


def test_a_bag_that_is_empty_again_may_be_given_to_another_part() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.on("cover", "14")
    bench.off("guard", "14")
    assert bench.ever_wrong() == []


def test_tightening_a_part_that_lies_in_a_bag_clashes() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    entry = bench.tighten("cover", 10)
    assert bench.wrong() == ["clash cover"]
    assert "14" in bench.flag("clash").text
    bench.undo(entry)
    assert bench.wrong() == []


def test_a_dowel_missed_while_its_cover_is_on_is_settled_by_a_right_count_of_the_bag_it_comes_off_into() -> None:
    bench = Bench(COVER)
    bench.say("lost", part="cover", item="dowel")
    assert bench.flag("short").text == "1 × dowel of Cover is missing."
    bench.off("cover", "14")
    bench.counts({"14": {"M6x28": 6}})
    assert bench.wrong() == ["short cover"]
    bench.counts({"14": {"dowel": 2}})
    assert bench.wrong() == []


def test_a_dowel_short_at_the_count_is_settled_by_a_new_one() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"dowel": 1})
    bench.renews("cover", "dowel")
    assert bench.ever_wrong() == ["short cover mended"]
