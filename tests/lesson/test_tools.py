"""Shared tools: where they are, how many are free, who is next; from the logs of benches and a queue."""

from collections import Counter
from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from fingertight.lesson.diary import Waiting
from fingertight.lesson.tools import AtBench, lent, taken_last, tools_of
from tests.ledger.bench import Bench

SMALL = '[[part]]\nid = "cover"\n'


def press(bench: Bench, way: str, tool: str = "puller") -> str:
    """A bench borrows a tool or brings it back."""
    return bench.say("tool", tool=tool, way=way)


def test_what_is_out_is_what_was_borrowed_last_and_not_brought_back() -> None:
    bench = Bench(SMALL)
    first = press(bench, "out")
    press(bench, "in")
    assert lent(bench.ledger) == []
    [(name, at)] = taken_last(bench.ledger)
    assert (name, at.since) == ("puller", next(one.when for one in bench.ledger.entries if one.id == first))
    press(bench, "out")
    press(bench, "out", "bore gauge")
    assert sorted(name for name, _ in lent(bench.ledger)) == ["bore gauge", "puller"]


def test_a_borrowing_that_was_taken_back_never_was() -> None:
    bench = Bench(SMALL)
    entry = press(bench, "out")
    bench.say("undo", entry=entry)
    assert (lent(bench.ledger), taken_last(bench.ledger)) == ([], [])


def test_the_list_comes_first_and_a_name_is_one_however_it_is_written() -> None:
    out = [("Torque Wrench", AtBench("Bench 2", 60.0)), ("strap wrench", AtBench("Bench 1", 0.0))]
    found = tools_of({"bore gauge": 1, "torque wrench": 2}, out, [Waiting("TORQUE WRENCH", "Bench 3", 90.0, "p")])
    assert [tool.name for tool in found] == ["bore gauge", "torque wrench", "strap wrench"]
    assert [tool.free for tool in found] == [1, 1, 0]
    assert [one.bench for one in found[1].waits] == ["Bench 3"]


def test_more_out_than_there_are_leaves_none_free() -> None:
    [tool] = tools_of({"puller": 1}, [("puller", AtBench(f"Bench {n}", float(n))) for n in (2, 1)], [])
    assert (tool.free, [one.bench for one in tool.out]) == (0, ["Bench 1", "Bench 2"])


def test_who_had_it_since_asking_waits_no_more_and_who_asked_again_does() -> None:
    at = datetime(2026, 3, 5, 9, tzinfo=UTC).timestamp()
    waits = [Waiting("puller", "Bench 1", at, "p")]
    for took, still in ((at - 1, True), (at + 1, False)):
        [tool] = tools_of({"puller": 1}, [], waits, [("Puller", AtBench("Bench 1", took))])
        assert bool(tool.waits) is still
    [tool] = tools_of({"puller": 1}, [], waits, [("puller", AtBench("Bench 2", at + 1))])
    assert tool.waits


@given(st.lists(st.tuples(st.sampled_from(["out", "in"]), st.sampled_from(["puller", "reamer"])), max_size=25))
def test_never_more_is_out_than_was_borrowed_and_not_brought_back(presses: list[tuple[str, str]]) -> None:
    bench, balance = Bench(SMALL), Counter[str]()
    for way, tool in presses:
        press(bench, way, tool)
        balance[tool] = max(balance[tool] + (1 if way == "out" else -1), 0)
    assert Counter(name for name, _ in lent(bench.ledger)) == +balance, "what comes back that never went out is no debt"
