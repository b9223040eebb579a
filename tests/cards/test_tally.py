"""The count at the end of a lesson: who may walk away, who must look again, what is short."""

from typing import Any

from fingertight.cards.workshop.tally import TallyCard, bench_count, tally_card
from fingertight.ledger.replay import Ledger
from tests.cards.test_wall import job, ledger

OFF = {"kind": "off", "part": "tommy-bar", "bag": "1"}


def tally(**benches: Ledger) -> TallyCard:
    return tally_card("Workshop", [bench_count(job(name), found) for name, found in benches.items()])


def count(**bags: Any) -> dict[str, Any]:
    return {"kind": "count", "bags": {"1": bags}}


def test_a_bench_is_counted_until_something_moves_again() -> None:
    assert tally(Bench_1=ledger(OFF)).benches[0].sentence == "Not counted yet."
    (bench,) = tally(Bench_1=ledger(OFF, count())).benches
    assert (bench.is_right, bench.sentence) == (True, "Counted, and nothing moved since.")
    on_again = {"kind": "on", "part": "tommy-bar"}
    (bench,) = tally(Bench_1=ledger(OFF, count(), on_again, OFF)).benches
    assert (bench.is_right, bench.sentence) == (False, "Something moved since it was counted.")


def test_a_tool_that_was_lent_must_be_counted_and_be_back() -> None:
    out = {"kind": "tool", "tool": "puller", "way": "out"}
    (bench,) = tally(Bench_1=ledger(OFF, out, count())).benches
    assert (bench.is_right, bench.tools) == (False, ("puller",))
    back = {**out, "way": "in"}
    (bench,) = tally(Bench_1=ledger(OFF, out, back, {**count(), "tools": {"puller": 1}})).benches
    assert bench.is_right


def test_what_is_short_stands_at_its_bench_and_benches_that_are_not_right_stand_first() -> None:
    lost = {"kind": "lost", "part": "tommy-bar", "count": 1}
    found = tally(Bench_1=ledger(OFF, count()), Bench_2=ledger(OFF, lost, count()))
    assert [bench.job.bench for bench in found.benches] == ["Bench 2", "Bench 1"]
    assert found.benches[0].short
    assert (found.all_right, found.sentence) == (False, "Counted with nothing short: 1 of 2 benches.")


def test_where_nothing_ever_moved_there_is_nothing_to_count() -> None:
    found = tally(Bench_1=ledger())
    assert (found.benches, found.all_right) == ((), True)
    assert found.sentence == "No bench is at work: there is nothing to count."
    assert tally(Bench_1=ledger(OFF, count())).sentence == "Every bench is counted, and nothing is short."
