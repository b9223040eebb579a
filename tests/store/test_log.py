"""What every log promises, tried on a JSON Lines file and on the database alike."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from fingertight.store.log.chain import START, link
from fingertight.store.log.lines import LinesLog
from fingertight.store.log.promise import Chain, Ended, Head, Log, Sent
from fingertight.store.writer import Writer
from tests.store.cast import BENCH_1, NINE, WORKSHOP, as_sent, entries, entry, tampered

KINDS = ("a JSON Lines file", "the database")


class Bench(NamedTuple):
    """A log, and what somebody can do to it behind our back."""

    log: Log
    change_entry: Callable[[int, str], None]
    lose_last: Callable[[], None]


@pytest.fixture(params=KINDS)
def bench(request: pytest.FixtureRequest, tmp_path: Path) -> Bench:
    return _lines_bench(tmp_path) if request.param == KINDS[0] else _rows_bench(request.getfixturevalue("writer"))


def _lines_bench(folder: Path) -> Bench:
    path = folder / "fan.jsonl"

    def rewrite(new: Callable[[list[str]], list[str]]) -> None:
        path.write_text("".join(new(path.read_text("utf-8").splitlines(keepends=True))), "utf-8")

    return Bench(
        LinesLog(path),
        lambda seq, body: rewrite(lambda lines: [*lines[: seq - 1], f"{body}\n", *lines[seq:]]),
        lambda: rewrite(lambda lines: lines[:-1]),
    )


def _rows_bench(writer: Writer) -> Bench:
    here = f"workshop = {WORKSHOP} AND job = '{BENCH_1}'"
    last = f"(SELECT max(seq) FROM entry WHERE {here})"
    return Bench(
        writer.log(WORKSHOP, BENCH_1),
        lambda seq, body: tampered(writer.database, f"UPDATE entry SET body = '{body}' WHERE {here} AND seq = {seq}"),
        lambda: tampered(writer.database, f"DELETE FROM entry WHERE {here} AND seq = {last}"),
    )


def test_entries_come_back_as_they_were_sent_in_the_order_they_arrived(bench: Bench) -> None:
    sent = [
        Sent("e2", '  {"id":"e2",  "kind" : "note","text":"Öl \u2028 läuft: \\u00e4 ✓", "unknown":[1.50, null] } '),
        entry("e1", skew_s=-7.5),
    ]
    receipts = bench.log.append(sent, NINE)
    assert [(one.ended, one.seq) for one in receipts] == [(Ended.NEW, 1), (Ended.NEW, 2)]
    assert as_sent(bench.log.after()) == sent


def test_a_new_log_is_empty_and_whole(bench: Bench) -> None:
    assert bench.log.after() == ()
    assert bench.log.head() == START
    assert bench.log.change() == 0
    assert bench.log.check() == bench.log.check(START)
    assert bench.log.check().ended is Chain.WHOLE


def test_an_entry_delivered_again_changes_nothing_and_is_answered_as_had(bench: Bench) -> None:
    bench.log.append(entries(3), NINE)
    before = bench.log.head(), bench.log.change()
    again = bench.log.append([entry("e2", part="another part"), entry("e4"), entry("e4"), entry("e1")], NINE)
    assert [(one.id, one.ended, one.seq) for one in again] == [
        ("e2", Ended.HAD, 2),
        ("e4", Ended.NEW, 4),
        ("e4", Ended.HAD, 4),
        ("e1", Ended.HAD, 1),
    ]
    assert as_sent(bench.log.after()) == entries(4)
    assert (bench.log.head().seq, bench.log.change()) == (before[0].seq + 1, before[1] + 1)


def test_only_what_is_new_since_an_entry_is_read(bench: Bench) -> None:
    bench.log.append(entries(5), NINE)
    assert [one.seq for one in bench.log.after(3)] == [4, 5]
    assert bench.log.after(5) == ()
    assert bench.log.after(99) == ()


@pytest.mark.parametrize(
    "body",
    [
        '{"id": "bad", "kind": "of',
        '{"id": "bad"}\n{"id": "worse"}',
        '{"id": "bad",\r"kind": "off"}',
        '{"id": "another"}',
        '{"kind": "off"}',
        '{"id": 7}',
        '["bad"]',
        '{"id": "bad", "value": NaN}',
        '{"id": "bad", "text": "\ud800"}',
        "",
    ],
)
def test_an_entry_that_cannot_be_kept_is_refused_alone(bench: Bench, body: str) -> None:
    receipts = bench.log.append([entry("e1"), Sent("bad", body), entry("e2")], NINE)
    assert [one.ended for one in receipts] == [Ended.NEW, Ended.REFUSED, Ended.NEW]
    assert receipts[1].because.endswith(".")
    assert receipts[1].seq == 0
    assert as_sent(bench.log.after()) == [entry("e1"), entry("e2")]
    assert bench.log.check().ended is Chain.WHOLE


def test_a_refused_entry_may_come_again_mended(bench: Bench) -> None:
    bench.log.append([Sent("e1", "half of i")], NINE)
    assert bench.log.append([entry("e1")], NINE)[0].ended is Ended.NEW


def test_the_head_stands_for_all_entries_before_it(bench: Bench) -> None:
    first, second = entries(2)
    bench.log.append([first], NINE)
    bench.log.append([second], NINE)
    expected = link(link(START.hash, first.id, first.body), second.id, second.body)
    assert bench.log.head() == Head(2, expected)


def test_a_log_that_grew_still_fits_every_head_noted_on_the_way(bench: Bench) -> None:
    heads = []
    for batch in (entries(2), entries(1, start=3), entries(4, start=4)):
        bench.log.append(batch, NINE)
        heads.append(bench.log.head())
    assert [head.seq for head in heads] == [2, 3, 7]
    assert {bench.log.check(head).ended for head in heads} == {Chain.WHOLE}


@pytest.mark.parametrize("seq", [1, 3, 5])
def test_a_changed_entry_is_seen_against_a_head_noted_elsewhere(bench: Bench, seq: int) -> None:
    bench.log.append(entries(5), NINE)
    noted = bench.log.head()
    bench.change_entry(seq, entry(f"e{seq}", part="never touched").body)
    seen = bench.log.check(noted)
    assert seen.ended is Chain.BROKEN
    assert seen.at in (seq, noted.seq)
    assert f"Entry {seen.at} " in seen.because


def test_a_lost_last_entry_is_seen_against_a_head_noted_elsewhere(bench: Bench) -> None:
    bench.log.append(entries(5), NINE)
    noted = bench.log.head()
    bench.lose_last()
    seen = bench.log.check(noted)
    assert (seen.ended, seen.at) == (Chain.BROKEN, 5)
    assert seen.because.startswith("The log ends with entry 4, though entry 5 was kept in it.")


def test_file_and_database_give_the_same_chain_for_the_same_entries(writer: Writer, tmp_path: Path) -> None:
    lines, rows = LinesLog(tmp_path / "moved.jsonl"), writer.log(WORKSHOP, BENCH_1)
    rows.append(entries(20), NINE)
    lines.append(as_sent(rows.after()), NINE)
    assert lines.head() == rows.head()
    assert rows.check(lines.head()).ended is Chain.WHOLE


@pytest.mark.parametrize("seed", range(5))
def test_any_mix_of_batches_keeps_the_first_of_each_id(bench: Bench, seed: int) -> None:
    chance = random.Random(seed)
    first: dict[str, Sent] = {}
    for _ in range(12):
        batch = [entry(f"e{chance.randrange(20)}", part=f"part-{chance.random()}") for _ in range(chance.randrange(8))]
        fresh = [one.ended is Ended.NEW for one in bench.log.append(batch, NINE)]
        expected = []
        for one in batch:
            expected.append(one.id not in first)
            first.setdefault(one.id, one)
        assert fresh == expected
    assert as_sent(bench.log.after()) == list(first.values())
