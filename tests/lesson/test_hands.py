"""Who did what with their own hands, what nobody let them do yet, and who does it all."""

from typing import Any

import pytest

from fingertight.lesson.hands import FEWEST, Did, Hands, hands_of, not_yet, one_sided
from tests.ledger.bench import Bench
from tests.ledger.jobs import ENGINE

BOX = '[[part]]\nid = "lid"\n[[part]]\nid = "case"\nstays = true\n'
ALL_NOT_YET = (
    "Took nothing off yet.",
    "Fitted nothing yet.",
    "Tightened nothing to a torque yet.",
    "Read no size yet.",
    "Set nothing yet.",
    "Showed nothing for a sign-off yet.",
)


def of(bench: Bench, person: str = "s-07") -> Hands:
    return hands_of(person, [("Bench 1", bench.ledger)])


def what(done: tuple[Did, ...]) -> list[str]:
    return [did.what for did in done]


def turns(bench: Bench, *people: str) -> None:
    """The lid comes off and goes on, an entry for each of these people."""
    for number, person in enumerate(people):
        (bench.on if number % 2 else bench.off)("lid", by=person)


def test_each_kind_of_work_stands_under_its_own_name_with_what_it_was_done_to() -> None:
    bench = Bench(ENGINE)
    bench.off("follower", place="inlet")
    bench.on("follower", place="inlet")
    bench.tighten("cover", 4.0)
    bench.reads("bore", 68.02)
    bench.sets("lash", 0.15)
    bench.say("sign", sign="timing", teacher=True, shown_by="s-07")
    bench.counts({"1": {}}, tools={"puller": 1})
    hands = of(bench)
    assert (what(hands.off), what(hands.on)) == (["Follower (inlet)"], ["Follower (inlet)"])
    assert (what(hands.passes), what(hands.readings), what(hands.settings)) == (["Cover"], ["Bore"], ["Lash"])
    assert (what(hands.signs), what(hands.counts)) == (["Timing"], ["Bag 1; tools"])


def test_a_thing_done_names_job_entry_kind_and_time() -> None:
    bench = Bench(BOX)
    entry = bench.off("lid")
    assert of(bench).off == (Did("Bench 1", entry, "off", "Lid", bench.ledger.entries[0].when),)


def test_what_a_neighbour_did_is_theirs() -> None:
    bench = Bench(BOX)
    bench.off("lid", by="s-08")
    bench.on("lid")
    assert (of(bench).off, what(of(bench).on)) == ((), ["Lid"])
    assert (what(of(bench, "s-08").off), of(bench, "s-08").on) == (["Lid"], ())


def test_what_is_struck_through_was_not_done_until_the_undo_is_taken_back() -> None:
    bench = Bench(BOX)
    undo = bench.undo(bench.off("lid"))
    assert of(bench) == Hands("s-07")
    bench.undo(undo)
    assert what(of(bench).off) == ["Lid"]


def test_a_sign_off_is_the_work_of_who_showed_it_and_not_of_who_signed() -> None:
    bench = Bench(ENGINE)
    bench.say("sign", sign="timing", teacher=True, shown_by="s-08")
    assert (of(bench, "t-01").signs, of(bench).signs) == ((), ())
    assert what(of(bench, "s-08").signs) == ["Timing"]


@pytest.mark.parametrize("fields", [{}, {"shown_by": None}, {"shown_by": ["s-07"]}, {"shown_by": 7}])
def test_a_sign_off_that_names_nobody_counts_for_nobody(fields: dict[str, Any]) -> None:
    bench = Bench(ENGINE)
    bench.say("sign", sign="timing", teacher=True, **fields)
    assert (of(bench, "t-01").signs, of(bench).signs) == ((), ())


def test_a_student_cannot_sign_for_themselves() -> None:
    bench = Bench(ENGINE)
    bench.say("sign", sign="timing", shown_by="s-07")
    assert of(bench).signs == ()


def test_work_at_several_jobs_is_told_in_the_order_it_was_done() -> None:
    early, late = Bench(BOX), Bench(BOX)
    early.off("lid")
    late.say("note", text="Looked at.")
    late.off("lid")
    for bench in (early, late):
        bench.on("lid")
    hands = hands_of("s-07", [("Late", late.ledger), ("Early", early.ledger)])
    assert [did.job for did in hands.off] == ["Early", "Late"]
    assert [did.job for did in hands.on] == ["Early", "Late"]


def test_notes_tools_and_hands_up_are_no_work_on_the_machine() -> None:
    bench = Bench(BOX)
    bench.say("note", text="Looked at.")
    bench.say("tool", tool="puller", way="out")
    bench.say("help", state="asked")
    bench.finish()
    assert of(bench) == Hands("s-07")


@pytest.mark.parametrize(
    ("said", "named"),
    [({}, "Nothing"), ({"bags": {"A3": {}, "4": {}}}, "Bags A3 and 4"), ({"tools": {"puller": 1}}, "Tools")],
)
def test_a_count_names_what_was_counted(said: dict[str, Any], named: str) -> None:
    bench = Bench(BOX)
    bench.say("count", **said)
    assert what(of(bench).counts) == [named]


def test_who_did_nothing_yet_is_told_every_kind_of_work_the_machine_offers() -> None:
    assert not_yet(Hands("s-07"), Bench(ENGINE).ledger) == ALL_NOT_YET


def test_what_was_done_once_is_not_told_again() -> None:
    bench = Bench(ENGINE)
    bench.off("follower", place="inlet")
    bench.tighten("cover", 4.0)
    bench.say("sign", sign="timing", teacher=True, shown_by="s-07")
    assert not_yet(of(bench), bench.ledger) == ("Fitted nothing yet.", "Read no size yet.", "Set nothing yet.")


def test_work_on_another_machine_counts_for_this_one() -> None:
    box = Bench(BOX)
    box.off("lid")
    assert not_yet(of(box), Bench(ENGINE).ledger) == ALL_NOT_YET[1:]


def test_a_machine_is_only_asked_for_what_it_has() -> None:
    assert not_yet(Hands("s-07"), Bench(BOX).ledger) == ALL_NOT_YET[:2]
    assert not_yet(Hands("s-07"), Bench('[[part]]\nid = "case"\nstays = true\n').ledger) == ()


def test_a_machine_with_one_size_to_measure_asks_for_a_reading() -> None:
    size = '[[check]]\nid = "bore"\npart = "case"\nmax = 10.0\n'
    assert "Read no size yet." in not_yet(Hands("s-07"), Bench(BOX + size).ledger)


def test_a_part_that_this_machine_lacks_offers_no_work() -> None:
    bench = Bench(BOX)
    bench.say("absent", part="lid")
    assert not_yet(Hands("s-07"), bench.ledger) == ()


def test_a_bolt_without_a_torque_offers_no_tightening() -> None:
    bench = Bench(BOX.replace('id = "lid"', 'id = "lid"\nheld_by = [{ thread = "M6", length = 20 }]'))
    assert "Tightened nothing to a torque yet." not in not_yet(Hands("s-07"), bench.ledger)


def test_one_who_does_four_fifths_of_twelve_or_more_is_named() -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * 12, *["s-08"] * 3)
    found = one_sided(bench.ledger, ["s-07", "s-08"])
    assert found
    assert (found.person, found.share, found.of) == ("s-07", 0.8, 15)


def test_a_hair_below_four_fifths_is_shared_work() -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * 11, *["s-08"] * 3)
    assert one_sided(bench.ledger, ["s-07", "s-08"]) is None


def test_below_twelve_entries_nothing_is_said() -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * (FEWEST - 1))
    assert one_sided(bench.ledger, ["s-07", "s-08"]) is None
    bench.say("note", text="Not by hand.")
    assert one_sided(bench.ledger, ["s-07", "s-08"]) is None
    turns(bench, "s-07")
    assert one_sided(bench.ledger, ["s-07", "s-08"])


def test_only_the_people_of_the_bench_are_weighed() -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * 12, *["t-01"] * 12)
    found = one_sided(bench.ledger, ["s-07", "s-08"])
    assert found
    assert (found.share, found.of) == (1.0, 12)


@pytest.mark.parametrize("people", [[], ["s-07"], ["s-07", "s-07"]])
def test_somebody_alone_at_a_bench_is_never_one_sided(people: list[str]) -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * 20)
    assert one_sided(bench.ledger, people) is None


def test_what_is_struck_through_does_not_weigh() -> None:
    bench = Bench(BOX)
    turns(bench, *["s-07"] * 11)
    bench.undo(bench.on("lid"))
    assert one_sided(bench.ledger, ["s-07", "s-08"]) is None
