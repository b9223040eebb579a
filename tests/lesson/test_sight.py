"""What is missing at a bench, since when, and who had it in sight last."""

import pytest
from hypothesis import given, settings

from fingertight.ledger import corrected_time
from fingertight.lesson.sight import Missing, missing_of
from tests.ledger.bench import Bench, Said, at, heard, plan_of, replay
from tests.ledger.jobs import ENGINE, logs

PLAN = plan_of(ENGINE)
COVER = """
[[part]]
id = "cover"
with = [{ name = "dowel", count = 2 }]
  [[part.held_by]]
  thread = "M6"
  length = 28
  count = 6
[[part]]
id = "shoe"
places = ["left", "right"]
  [[part.held_by]]
  thread = "M5"
  length = 12
  count = 2
"""


def minute(number: int) -> float:
    return corrected_time(at(number))


def the_one(bench: Bench) -> Missing:
    [missing] = missing_of(bench.ledger)
    return missing


def seen(missing: Missing) -> tuple[float, str, str]:
    return missing.last_seen, missing.last_by, missing.where


def lent(bench: Bench, way: str = "out", by: str = "s-07") -> str:
    return bench.say("tool", tool="puller", way=way, by=by)


def test_where_nothing_is_short_and_no_tool_is_out_nothing_is_missing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 6})
    lent(bench)
    lent(bench, "in")
    bench.counts({"14": {"dowel": 2}}, tools={"puller": 1})
    assert missing_of(bench.ledger) == ()


def test_a_bolt_short_at_the_count_was_in_sight_when_its_cover_came_off() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", by="s-08")
    bench.counts({"14": {"M6x28": 4}})
    missing = the_one(bench)
    assert (missing.what, missing.sentence) == ("2 × M6x28", "2 × M6x28 of Cover are not in bag 14.")
    assert missing.since == minute(2)
    assert seen(missing) == (minute(1), "s-08", "in bag 14")


def test_a_right_count_between_is_the_last_sight() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.say("count", bags={"14": {"M6x28": 6}}, by="s-09")
    bench.say("count", bags={"14": {"dowel": 2}}, by="s-10")
    bench.counts({"14": {"M6x28": 5}})
    assert seen(the_one(bench)) == (minute(2), "s-09", "in bag 14")


def test_a_count_that_is_still_short_saw_only_the_others_and_the_flag_keeps_its_time() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.counts({"14": {"M6x28": 5}})
    bench.say("count", bags={"14": {"M6x28": 3}}, by="s-09")
    missing = the_one(bench)
    assert missing.sentence == "3 × M6x28 of Cover are not in bag 14."
    assert missing.since == minute(2)
    assert seen(missing) == (minute(1), "s-07", "in bag 14")


def test_what_was_counted_short_as_it_came_off_was_last_on_the_machine() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14", counts={"M6x28": 5, "dowel": 2})
    missing = the_one(bench)
    assert missing.sentence == "M6x28 of Cover is not in bag 14."
    assert missing.since == missing.last_seen
    assert seen(missing) == (minute(1), "s-07", "on the machine")


def test_saying_once_more_that_it_is_off_sees_nothing_without_a_right_count() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.off("cover", "14", by="s-08", counts={"M6x28": 6})
    bench.off("cover", "14", by="s-09")
    bench.off("cover", "14", by="s-10", counts={"M6x28": 5})
    assert seen(the_one(bench)) == (minute(2), "s-08", "in bag 14")


def test_a_right_count_and_a_part_that_is_on_again_end_the_search() -> None:
    for mend in ("count", "on"):
        bench = Bench(COVER)
        bench.off("cover", "14")
        bench.counts({"14": {"M6x28": 5}})
        assert missing_of(bench.ledger)
        if mend == "on":
            bench.on("cover", "14")
        else:
            bench.counts({"14": {"M6x28": 6}})
        assert missing_of(bench.ledger) == ()


def test_the_other_pieces_of_a_part_say_nothing_of_this_bag() -> None:
    bench = Bench(COVER)
    bench.off("shoe", "1", place="left", by="s-08")
    bench.off("shoe", "2", place="right", by="s-09")
    bench.counts({"1": {"M5x12": 1}})
    assert seen(the_one(bench)) == (minute(1), "s-08", "in bag 1")


def test_a_small_thing_said_to_be_lost_is_looked_for_in_its_bag() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.say("lost", part="cover", item="dowel")
    missing = the_one(bench)
    assert missing.sentence == "dowel of Cover is not in bag 14."
    assert (missing.since, *seen(missing)) == (minute(2), minute(1), "s-07", "in bag 14")


def test_a_part_that_is_lost_itself_was_in_sight_when_it_last_moved() -> None:
    bench = Bench(COVER)
    bench.off("cover", by="s-08")
    bench.on("cover", by="s-09")
    bench.off("cover", by="s-10")
    bench.say("lost", part="cover")
    missing = the_one(bench)
    assert (missing.what, missing.sentence) == ("Cover", "Cover is missing.")
    assert seen(missing) == (minute(3), "s-10", "off, in no bag")


def test_a_part_and_a_thing_of_it_that_are_both_lost_are_told_apart_when_one_is_set_aside() -> None:
    bench = Bench(COVER)
    bench.say("lost", part="cover")
    bench.say("lost", part="cover", item="dowel", count=2)
    assert [missing.sentence for missing in missing_of(bench.ledger)] == [
        "Cover is missing.",
        "2 × dowel of Cover are missing.",
    ]
    bench.aside("e1", "short")
    assert [missing.what for missing in missing_of(bench.ledger)] == ["2 × dowel"]


def test_what_no_entry_ever_had_in_sight_names_nobody() -> None:
    bench = Bench(COVER)
    bench.say("lost", part="cover")
    assert seen(the_one(bench)) == (minute(1), "", "")


def test_a_part_in_a_bag_that_was_counted_right_was_in_sight_then() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    bench.say("count", bags={"14": {"M6x28": 6, "dowel": 2}}, by="s-09")
    bench.say("count", bags={"14": {"M6x28": 6}}, by="s-10")
    bench.say("lost", part="cover")
    assert seen(the_one(bench)) == (minute(2), "s-09", "in bag 14")


def test_a_tool_that_is_out_is_missing_before_anybody_counts() -> None:
    bench = Bench(COVER)
    lent(bench, by="s-08")
    missing = the_one(bench)
    assert (missing.what, missing.sentence, missing.since) == ("puller", "Puller is out.", minute(1))
    assert seen(missing) == (minute(1), "s-08", "lent out")


def test_a_tool_that_is_out_and_flagged_is_one_thing_missing_since_it_went_out() -> None:
    bench = Bench(COVER)
    lent(bench)
    lent(bench, "in")
    lent(bench, by="s-08")
    bench.counts(tools={})
    assert bench.wrong() == ["tool-out None"]
    assert (the_one(bench).since, *seen(the_one(bench))) == (minute(3), minute(3), "s-08", "lent out")


def test_of_two_that_are_out_the_one_that_came_back_is_not_the_one_that_is_missing() -> None:
    bench = Bench(COVER)
    lent(bench, by="s-08")
    lent(bench, by="s-09")
    assert the_one(bench).sentence == "2 × puller are out."
    lent(bench, "in", by="s-10")
    assert the_one(bench).sentence == "Puller is out."
    assert (the_one(bench).since, *seen(the_one(bench))) == (minute(1), minute(2), "s-09", "lent out")


def test_a_count_with_fewer_than_were_out_at_once_makes_a_tool_missing_that_came_back() -> None:
    bench = Bench(COVER)
    lent(bench)
    lent(bench)
    lent(bench, "in")
    lent(bench, "in", by="s-08")
    bench.counts(tools={"puller": 1})
    missing = the_one(bench)
    assert missing.sentence == "Fewer of puller were counted than were out at once."
    assert (missing.since, *seen(missing)) == (minute(5), minute(4), "s-08", "brought back")


def test_a_right_count_of_tools_ends_the_search() -> None:
    bench = Bench(COVER)
    lent(bench)
    bench.counts(tools={"puller": 1})
    assert missing_of(bench.ledger) == ()


def test_a_flag_that_the_instructor_set_aside_is_not_looked_for_but_a_tool_that_is_out_is() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    lent(bench)
    short = bench.counts({"14": {"M6x28": 5}}, tools={})
    bench.aside(short, "short")
    bench.aside(short, "tool-out")
    assert [missing.what for missing in missing_of(bench.ledger)] == ["puller"]


def test_what_is_struck_through_saw_nothing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    slip = bench.say("count", bags={"14": {"M6x28": 6}}, by="s-09")
    bench.counts({"14": {"M6x28": 5}})
    bench.undo(slip)
    assert seen(the_one(bench)) == (minute(1), "s-07", "in bag 14")


def test_what_is_missing_longest_stands_first() -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    lent(bench)
    bench.counts({"14": {"M6x28": 5}})
    bench.counts({"14": {"dowel": 1}})
    assert [missing.what for missing in missing_of(bench.ledger)] == ["puller", "M6x28", "dowel"]


@pytest.mark.parametrize("shuffled", [False, True])
def test_the_order_of_arrival_changes_nothing(shuffled: bool) -> None:
    bench = Bench(COVER)
    bench.off("cover", "14")
    lent(bench)
    bench.counts({"14": {"M6x28": 5}})
    log = bench.log[::-1] if shuffled else bench.log
    assert missing_of(heard(bench.plan, log)) == missing_of(bench.ledger)
    assert len(missing_of(bench.ledger)) == 2


@settings(deadline=None, max_examples=150)
@given(logs(most=30))
def test_in_any_log_each_open_flag_and_each_tool_out_is_one_thing_missing_that_was_seen_before(log: list[Said]) -> None:
    ledger = replay(PLAN, log)
    state, found = ledger.state, missing_of(ledger)
    short = [flag for flag in state.flags.open() if flag.kind == "short"]
    tools = {"wrench"} & ({name for name, box in state.tools.items() if box.out} | _flagged_tools(log))
    assert len(found) == len(short) + len(tools)
    times = {entry.id: entry.when for entry in ledger.entries}
    assert sorted(times[flag.entry] for flag in short) == sorted(
        missing.since for missing in found if "wrench" not in missing.what
    )
    for missing in found:
        assert missing.last_seen in times.values()
        assert (missing.last_by == "") == (missing.where == "")
        assert missing.sentence.endswith(".")


def _flagged_tools(log: list[Said]) -> set[str]:
    return {"wrench"} if any(flag.kind == "tool-out" for flag in replay(PLAN, log).state.flags.open()) else set()
