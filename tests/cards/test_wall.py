"""The wall: who waits longest, which tool is where, what stops, bench by bench."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from fingertight.cards.bench.page import JobName
from fingertight.cards.lesson.tools import tool_line
from fingertight.cards.pictures.dial import depth_dial
from fingertight.cards.workshop.wall import MOST_FLAGS, WallCard, on_the_wall, wall_card
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.lesson.tools import AtBench, lent, tools_of
from tests.conftest import ROOT
from tests.web.honest import machine

NOON = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)
PLAN = Plan(machine("bench-vice"))


def ledger(*said: dict[str, Any], first: datetime = NOON - timedelta(minutes=30)) -> Ledger:
    """A bench vice on which this was done, an entry a minute."""
    found = Ledger(PLAN)
    for number, each in enumerate(said):
        at = (first + timedelta(minutes=number)).isoformat()
        found.hear({"id": f"{id(found)}-{number}", "at": at, "by": "s-07", "as": "instructor", **each})
    return found


def job(name: str) -> JobName:
    """What a bench is called."""
    return JobName(name, name.replace("_", " "), "Bench vice", "bench-vice")


def wall(**benches: Ledger) -> WallCard:
    """The wall at noon."""
    return wall_card("Workshop", [on_the_wall(job(name), found, NOON.timestamp()) for name, found in benches.items()])


def test_benches_stand_in_the_order_of_their_numbers() -> None:
    found = wall(Bench_10=ledger(), Bench_2=ledger())
    assert [bench.job.bench for bench in found.benches] == ["Bench 2", "Bench 10"]
    assert found.sentence == "2 benches"


def test_who_waits_longest_stands_first_with_the_minutes() -> None:
    early = ledger({"kind": "help", "state": "asked"})
    late = ledger({"kind": "help", "state": "asked"}, first=NOON - timedelta(minutes=4))
    found = wall(Bench_1=late, Bench_2=early)
    helps = [(need.job.bench, need.minutes) for need in found.needs if need.text == "asks for help"]
    assert helps == [("Bench 2", 30), ("Bench 1", 4)]
    given = ledger({"kind": "help", "state": "asked"}, {"kind": "help", "state": "given"})
    assert not [need for need in wall(Bench_1=given).needs if need.text == "asks for help"]


def test_a_sign_off_that_the_next_moves_wait_for_is_asked_for() -> None:
    found = wall(Bench_1=ledger({"kind": "note", "part": "tommy-bar", "text": "greasy"}))
    assert [need.text for need in found.needs if need.text.startswith("to sign: ")]
    assert found.benches[0].needs


def test_nobody_waits_at_a_bench_that_was_left_long_ago_or_has_not_begun() -> None:
    left = ledger({"kind": "help", "state": "asked"}, first=NOON - timedelta(days=2))
    assert wall(Bench_1=left, Bench_2=ledger()).needs == ()


def test_a_bench_leaves_the_wall_a_day_after_it_was_finished_and_a_term_after_it_was_left() -> None:
    done = Ledger(PLAN)
    for line in (ROOT / "examples" / "logs" / "bench-vice.jsonl").read_text("utf-8").splitlines():
        done.hear(json.loads(line))
    assert done.state.finished
    ended = done.entries[-1].when
    brought = [on_the_wall(job("Bench_1"), done, ended + hours * 3600) for hours in (1, 25)]
    assert [one is not None for one in brought] == [True, False]
    left = ledger({"kind": "help", "state": "asked"}, first=NOON - timedelta(days=119))
    forgotten = ledger({"kind": "help", "state": "asked"}, first=NOON - timedelta(days=121))
    assert [bench.job.bench for bench in wall(Bench_1=left, Bench_2=forgotten, Bench_3=ledger()).benches] == [
        "Bench 1",
        "Bench 3",
    ]


def test_a_tool_that_is_out_stands_with_its_bench_until_it_is_back() -> None:
    out = {"kind": "tool", "tool": "torque wrench", "way": "out"}
    borrowed = [(name, AtBench("Bench 3", at.since, at.by)) for name, at in lent(ledger(out))]
    lines = [tool_line(tool, NOON.timestamp()) for tool in tools_of({"bore gauge": 1}, borrowed, ())]
    found = wall_card("Workshop", [on_the_wall(job("Bench_3"), ledger(out), NOON.timestamp())], lines)
    assert [(tool.name, tool.out[0].bench, tool.out[0].minutes) for tool in found.tools] == [
        ("torque wrench", "Bench 3", 30)
    ]
    assert lent(ledger(out, {**out, "way": "in"})) == []


def test_what_stops_stands_before_what_can_wait_and_no_more_than_fit_are_shown() -> None:
    pump = Ledger(Plan(machine("pump-engine")))
    for line in (ROOT / "examples" / "logs" / "pump-engine-mistakes.jsonl").read_text("utf-8").splitlines():
        pump.hear(json.loads(line))
    found = wall_card("Workshop", [on_the_wall(job("Bench_1"), pump, NOON.timestamp())])
    open_flags = len(pump.state.flags.open())
    assert len(found.flags) == min(open_flags, MOST_FLAGS)
    assert found.more_flags == open_flags - len(found.flags)
    stops = [flag.stops for flag in found.flags]
    assert stops == sorted(stops, reverse=True)
    assert "would break an engine or hurt someone" in found.sentence
    bench = found.benches[0]
    assert bench.stops + bench.rest == open_flags


@pytest.mark.parametrize(("off", "share"), [([], 1.0), (["tommy-bar"], 0.8)])
def test_the_dial_empties_as_parts_come_off(off: list[str], share: float) -> None:
    found = wall(Bench_1=ledger(*({"kind": "off", "part": part, "bag": str(nth)} for nth, part in enumerate(off, 1))))
    dial = found.benches[0].dial
    assert dial.says == f"{len(off)} of 10 parts off."
    assert dial.shapes[1] == depth_dial([share], "").shapes[1]
