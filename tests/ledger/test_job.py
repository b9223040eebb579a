"""The log as a whole: finishing, undo, setting aside, tools, clocks, and entries that come twice or late."""

import random

import pytest

from tests.ledger.bench import Bench, heard, picture, replay

GUARD = """
[[part]]
id = "case"
stays = true
[[part]]
id = "guard"
[[part]]
id = "cover"
behind = ["guard"]
"""


def test_a_job_with_a_flag_open_is_not_finished_and_without_one_it_is() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    assert not bench.finish()
    bench.on("guard", "1")
    assert not bench.ledger.state.finished
    assert bench.finish()


def test_a_job_is_unfinished_again_when_something_comes_off_again() -> None:
    bench = Bench(GUARD)
    assert bench.finish()
    bench.off("guard", "1")
    assert not bench.ledger.state.finished
    bench.on("guard", "1")
    assert not bench.ledger.state.finished
    assert bench.finish()


def test_a_note_after_the_finish_leaves_the_job_finished() -> None:
    bench = Bench(GUARD)
    assert bench.finish()
    bench.say("note", text="Started at the first pull.")
    assert bench.ledger.state.finished


# -- undo ---------------------------------------------------------------------------------------------------------


def test_an_undone_entry_is_as_if_it_had_never_been_and_stays_in_the_log() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    bench.undo(entry)
    assert bench.ever_wrong() == []
    assert bench.ledger.state.lies == {}
    assert [each.id for each in bench.ledger.entries] == [entry, "e2"]
    assert bench.ledger.is_struck(entry)


def test_an_undo_can_itself_be_undone_and_that_again() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    first = bench.undo(entry)
    second = bench.undo(first)
    assert bench.wrong() == ["out-of-turn cover"]
    assert not bench.ledger.is_struck(entry)
    bench.undo(second)
    assert bench.wrong() == []


def test_two_undos_of_one_entry_need_both_to_be_undone() -> None:
    bench = Bench(GUARD)
    entry = bench.off("guard", "1")
    first, second = bench.undo(entry), bench.undo(entry)
    bench.undo(first)
    assert bench.ledger.state.lies == {}
    bench.undo(second)
    assert bench.ledger.state.lies == {("guard", None): "1"}


def test_an_undo_that_arrives_before_what_it_undoes_still_undoes_it() -> None:
    bench = Bench(GUARD)
    bench.off("cover", "2")
    bench.undo("e1")
    late = heard(bench.plan, bench.log[::-1])
    assert picture(late) == picture(bench.ledger)
    assert len(late.state.flags) == 0


def test_an_undo_of_an_entry_nobody_knows_changes_nothing() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    before = picture(bench.ledger)
    bench.undo("never-seen")
    assert picture(bench.ledger) == before


# -- setting aside ------------------------------------------------------------------------------------------------


def test_only_the_instructor_can_let_a_flag_stand() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    bench.aside(entry, "out-of-turn", teacher=False)
    assert bench.wrong() == ["out-of-turn cover"]
    bench.aside(entry, "out-of-turn")
    assert bench.ever_wrong() == ["out-of-turn cover aside"]


def test_setting_aside_means_that_flag_of_that_entry_only() -> None:
    bench = Bench(GUARD + '[[part]]\nid = "shaft"\nbehind = ["guard"]\nrecord = ["photo"]')
    first = bench.off("cover", "2")
    second = bench.off("shaft", "3")
    assert sorted(bench.wrong()) == ["out-of-turn cover", "out-of-turn shaft", "unrecorded shaft"]
    bench.aside(second, "unrecorded")
    bench.aside(first, "clash")
    assert sorted(bench.wrong()) == ["out-of-turn cover", "out-of-turn shaft"]


def test_a_part_left_off_on_purpose_and_set_aside_does_not_hold_up_the_next_finish() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    assert not bench.finish()
    bench.aside("e2", "over")
    assert bench.finish()
    assert bench.ever_wrong() == ["over guard aside"]


def test_what_was_set_aside_and_then_mended_is_raised_anew_when_it_happens_again() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    bench.aside(entry, "out-of-turn")
    bench.off("guard", "1")
    bench.on("cover", "2")
    bench.on("guard", "1")
    bench.off("cover", "2")
    assert bench.wrong() == ["out-of-turn cover"]


def test_an_undone_aside_opens_the_flag_again() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    bench.undo(bench.aside(entry, "out-of-turn"))
    assert bench.wrong() == ["out-of-turn cover"]


# -- tools --------------------------------------------------------------------------------------------------------


def lent(*ways: str) -> Bench:
    bench = Bench(GUARD)
    for way in ways:
        bench.say("tool", tool="torque wrench", way=way)
    return bench


def test_a_tool_brought_back_and_counted_raises_nothing() -> None:
    bench = lent("out", "in")
    bench.counts(tools={"torque wrench": 1})
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_tool_still_out_and_not_listed_at_the_count_is_out_until_it_is_in() -> None:
    bench = lent("out")
    bench.counts(tools={"soft mallet": 1})
    assert bench.wrong() == ["tool-out None"]
    assert "torque wrench" in bench.flag("tool-out").text.lower()
    assert not bench.flag("tool-out").stops
    bench.say("tool", tool="torque wrench", way="in")
    assert bench.wrong() == []


def test_a_tool_still_out_is_mended_by_a_count_that_has_it() -> None:
    bench = lent("out")
    bench.counts(tools={})
    assert bench.wrong() == ["tool-out None"]
    bench.counts(tools={"torque wrench": 1})
    assert bench.wrong() == []
    assert bench.finish()


def test_a_count_without_tools_says_nothing_of_tools() -> None:
    bench = lent("out")
    bench.counts({"1": {"M6": 0}})
    bench.counts({})
    assert bench.wrong() == []


def test_one_of_two_tools_brought_back_and_not_listed_leaves_one_out() -> None:
    bench = lent("out", "out", "in")
    bench.counts(tools={})
    assert bench.wrong() == ["tool-out None"]


def test_a_tool_listed_with_fewer_than_were_out_at_once_is_out() -> None:
    bench = lent("out", "out", "in", "in")
    bench.counts(tools={"torque wrench": 1})
    assert bench.wrong() == ["tool-out None"]
    bench.counts(tools={"torque wrench": 2})
    assert bench.wrong() == []


def test_a_tool_lent_twice_one_after_the_other_is_one_tool() -> None:
    bench = lent("out", "in", "out", "in")
    bench.counts(tools={"torque wrench": 1})
    assert bench.ever_wrong() == []


def test_a_tool_still_out_at_the_finish_is_flagged_without_any_count() -> None:
    bench = lent("out")
    assert not bench.finish()
    assert bench.wrong() == ["tool-out None"]
    bench.say("tool", tool="torque wrench", way="in")
    assert bench.finish()


# -- clocks, duplicates, late entries -----------------------------------------------------------------------------


def test_an_entry_delivered_twice_counts_once_and_the_first_to_arrive_is_kept() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    assert not bench.ledger.hear({**bench.log[0], "bag": "7"})
    assert bench.ledger.state.lies == {("guard", None): "1"}


def test_a_wrong_clock_is_put_right_by_its_skew() -> None:
    # The tablet that took the cover off runs an hour slow; the server measured that when it delivered.
    guard = {"id": "a", "kind": "off", "at": "2026-03-05T09:30:00+01:00", "by": "s", "part": "guard", "bag": "1"}
    cover = {"id": "b", "kind": "off", "at": "2026-03-05T08:31:00+01:00", "by": "s", "part": "cover", "bag": "2"}
    plan = Bench(GUARD).plan
    assert [flag.kind for flag in replay(plan, [guard, cover]).state.flags] == ["out-of-turn"]
    assert list(replay(plan, [guard, {**cover, "skew_s": 3600}]).state.flags) == []


def test_times_of_different_offsets_are_compared_as_moments() -> None:
    guard = {"id": "a", "kind": "off", "at": "2026-03-05T08:30:00Z", "by": "s", "part": "guard", "bag": "1"}
    cover = {"id": "b", "kind": "off", "at": "2026-03-05T09:31:00+01:00", "by": "s", "part": "cover", "bag": "2"}
    assert list(replay(Bench(GUARD).plan, [cover, guard]).state.flags) == []


def test_entries_of_one_moment_count_as_they_arrived() -> None:
    guard = {"id": "z", "kind": "off", "at": "2026-03-05T08:30:00Z", "by": "s", "part": "guard", "bag": "1"}
    cover = {"id": "a", "kind": "off", "at": "2026-03-05T08:30:00Z", "by": "s", "part": "cover", "bag": "2"}
    plan = Bench(GUARD).plan
    assert list(heard(plan, [guard, cover]).state.flags) == []
    assert [flag.kind for flag in heard(plan, [cover, guard]).state.flags] == ["out-of-turn"]


@pytest.mark.parametrize("seed", range(8))
def test_a_job_arrives_the_same_in_any_order(seed: int) -> None:
    bench = Bench(GUARD)
    bench.off("cover", "2")
    bench.off("guard", "1", counts={"M6": 1})
    bench.on("guard", "1")
    bench.undo("e3")
    bench.aside("e1", "out-of-turn")
    bench.on("cover", "3")
    bench.finish()
    shuffled = bench.log * 2
    random.Random(seed).shuffle(shuffled)
    assert picture(heard(bench.plan, shuffled)) == picture(bench.ledger) == picture(replay(bench.plan, shuffled))


def test_unknown_fields_are_kept_and_ignored() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1", colour="green")
    assert bench.ledger.entries[0].said["colour"] == "green"
    assert bench.ever_wrong() == []


def test_help_notes_and_renewals_raise_nothing() -> None:
    bench = Bench(GUARD)
    bench.say("help", state="asked")
    bench.say("help", state="given")
    bench.say("note", text="Cold start.")
    bench.renews("guard")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_part_fitted_and_then_said_to_be_absent_is_not_missed_for_its_bolts_or_its_questions() -> None:
    bench = Bench(
        """
[[part]]
id = "foot"
places = ["left", "right"]
ask = [{ question = "Rubber side down?", answers = ["yes", "no"], right = "yes" }]
  [[part.held_by]]
  thread = "M8"
  torque = 20.0
"""
    )
    bench.off("foot", "1", place="left")
    bench.on("foot", "1", place="left")
    bench.say("absent", part="foot")
    assert bench.finish()
