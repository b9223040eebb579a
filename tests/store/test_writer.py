"""Many tablets tap at once and one thread writes: nothing is lost, no tap spoils another, a dead writer says so."""

import sqlite3
import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from fingertight.store.log import rows, sqlite
from fingertight.store.log.promise import Chain, Ended, NotKept, Receipt, Refused, Sent
from fingertight.store.writer import Writer, writer_of
from tests.store.cast import BENCH_1, BENCH_2, NEXT_DOOR, NINE, WORKSHOP, as_sent, entries, entry

Connect = Callable[..., sqlite3.Connection]


def _with_each(monkeypatch: pytest.MonkeyPatch, touch: Callable[[sqlite3.Connection], object]) -> None:
    """Have something done to every connection opened from here on."""
    plain: Connect = sqlite.connect

    def connect(database: Path, *, only_read: bool = False) -> sqlite3.Connection:
        connection = plain(database, only_read=only_read)
        touch(connection)
        return connection

    monkeypatch.setattr(sqlite, "connect", connect)


def _until(so: Callable[[], bool]) -> None:
    """Wait until it is so."""
    for _ in range(10_000):
        if so():
            return
        time.sleep(0.001)
    raise AssertionError("it never came to be")


def _handed_in_while_held(
    writer: Writer, ran: list[str], threads: ThreadPoolExecutor, sent: list[Sent]
) -> list[Future[tuple[Receipt, ...]]]:
    """While another program holds the database: one tap the writer is stuck with, and the rest waiting behind it."""
    ran.clear()
    taps = [threads.submit(writer.append, WORKSHOP, BENCH_1, sent[:1], NINE)]
    _until(lambda: "BEGIN IMMEDIATE" in ran)
    taps += [threads.submit(writer.append, WORKSHOP, BENCH_1, [one], NINE) for one in sent[1:]]
    _until(lambda: writer._handed_in.qsize() == len(sent) - 1)
    return taps


def test_eight_threads_on_one_job_lose_nothing(writer: Writer) -> None:
    def tap(number: int) -> tuple[Receipt, ...]:
        return writer.append(WORKSHOP, BENCH_1, [entry(f"{number}-{tap}") for tap in range(5)], NINE)

    with ThreadPoolExecutor(8) as threads:
        receipts = [one for answer in threads.map(tap, range(200)) for one in answer]
    log = writer.log(WORKSHOP, BENCH_1)
    assert {one.ended for one in receipts} == {Ended.NEW}
    assert {one.seq: one.id for one in receipts} == {kept.seq: kept.id for kept in log.after()}
    assert log.head().seq == writer.change(WORKSHOP) == 1000
    assert log.check().ended is Chain.WHOLE


def test_the_same_taps_from_eight_tablets_count_once(writer: Writer) -> None:
    with ThreadPoolExecutor(8) as threads:
        answers = list(threads.map(lambda _: writer.append(WORKSHOP, BENCH_1, entries(50), NINE), range(8)))
    assert as_sent(writer.log(WORKSHOP, BENCH_1).after()) == entries(50)
    assert sum(one.ended is Ended.NEW for answer in answers for one in answer) == 50


def test_taps_that_gathered_share_one_commit(database: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[str] = []
    _with_each(monkeypatch, lambda connection: connection.set_trace_callback(ran.append))
    writer = Writer(database)
    with closing(sqlite3.connect(database, isolation_level=None)) as other, ThreadPoolExecutor(40) as threads:
        other.execute("BEGIN IMMEDIATE")
        taps = _handed_in_while_held(writer, ran, threads, entries(40))
        other.execute("ROLLBACK")
        assert {tap.result()[0].ended for tap in taps} == {Ended.NEW}
    writer.stop()
    assert ran.count("COMMIT") == 2  # the first tap's, and one for all that gathered behind it


def test_an_entry_for_a_job_that_does_not_exist_is_refused_alone(writer: Writer) -> None:
    (refused,) = writer.append(WORKSHOP, "no-such-job", entries(1), NINE)
    assert (refused.ended, refused.because.split(".")[0]) == (Ended.REFUSED, "There is no such job in this workshop")
    assert writer.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].ended is Ended.NEW


def test_an_id_known_in_another_job_is_answered_with_that_job(writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(3), NINE)
    (had,) = writer.append(WORKSHOP, BENCH_2, [entry("e3")], NINE)
    assert had == Receipt("e3", Ended.HAD, BENCH_1, 3)
    assert writer.log(WORKSHOP, BENCH_2).after() == ()


def test_two_workshops_count_for_themselves(writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(3), NINE)
    (kept,) = writer.append(NEXT_DOOR, BENCH_1, entries(1), NINE)
    assert (kept.ended, kept.seq) == (Ended.NEW, 1)
    assert (writer.change(WORKSHOP), writer.change(NEXT_DOOR)) == (3, 1)


def test_the_change_number_grows_with_every_job_of_the_workshop(writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(2), NINE)
    writer.append(WORKSHOP, BENCH_2, entries(2, start=2), NINE)
    assert writer.log(WORKSHOP, BENCH_1).change() == writer.log(WORKSHOP, BENCH_2).change() == 3
    assert writer.log(WORKSHOP, BENCH_2).head().seq == 1


@pytest.mark.parametrize("arrived", ["", "yesterday", "2026-03-05T09:00:00", "2026-03-05"])
def test_an_arrival_without_its_offset_is_refused(writer: Writer, arrived: str) -> None:
    with pytest.raises(Refused, match="is not a time with its offset"):
        writer.append(WORKSHOP, BENCH_1, entries(1), arrived)
    assert writer.change(WORKSHOP) == 0


def test_an_entry_with_a_text_of_the_wrong_type_is_refused_alone(writer: Writer) -> None:
    odd = Sent("e2", object())  # type: ignore[arg-type]
    receipts = writer.append(WORKSHOP, BENCH_1, [entry("e1"), odd, entry("e3")], NINE)
    assert [one.ended for one in receipts] == [Ended.NEW, Ended.REFUSED, Ended.NEW]


def test_a_database_held_too_long_fails_the_tap_and_not_the_writer(
    database: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite, "BUSY_TIMEOUT_S", 0.05)
    writer = Writer(database)
    with closing(sqlite.connect(database)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(NotKept, match="database is locked"):
            writer.append(WORKSHOP, BENCH_1, entries(1), NINE)
        other.execute("ROLLBACK")
    assert writer.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].ended is Ended.NEW
    writer.stop()


def test_a_full_disk_keeps_nothing_of_the_batch_and_says_so(database: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[sqlite3.Connection] = []
    _with_each(monkeypatch, opened.append)
    writer = Writer(database)
    pages = opened[0].execute("PRAGMA page_count").fetchone()[0]
    opened[0].execute(f"PRAGMA max_page_count = {pages + 2}")
    with pytest.raises(NotKept, match="database or disk is full"):
        writer.append(WORKSHOP, BENCH_1, [entry("e1"), entry("e2", text="long " * 10_000)], NINE)
    assert writer.log(WORKSHOP, BENCH_1).after() == ()
    opened[0].execute(f"PRAGMA max_page_count = {pages + 1000}")
    assert [one.ended for one in writer.append(WORKSHOP, BENCH_1, entries(2), NINE)] == [Ended.NEW, Ended.NEW]
    writer.stop()


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_dead_writer_fails_every_tap_loudly(writer: Writer, monkeypatch: pytest.MonkeyPatch) -> None:
    def fall_over(*_: object) -> Receipt:
        raise RuntimeError("a fault nobody foresaw")

    monkeypatch.setattr(rows.Keeping, "keep", fall_over)
    with pytest.raises(NotKept, match="writer of this workshop has ended"):
        writer.append(WORKSHOP, BENCH_1, entries(1), NINE)
    monkeypatch.undo()
    with pytest.raises(NotKept):
        writer.append(WORKSHOP, BENCH_1, entries(1), NINE)
    assert writer.change(WORKSHOP) == 0


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_tap_handed_in_while_the_writer_dies_is_not_left_waiting(
    writer: Writer, monkeypatch: pytest.MonkeyPatch
) -> None:
    first_in, both_in = threading.Event(), threading.Event()

    def fall_over_late(*_: object) -> Receipt:
        first_in.set()
        both_in.wait(5)
        raise RuntimeError("a fault nobody foresaw")

    monkeypatch.setattr(rows.Keeping, "keep", fall_over_late)
    with ThreadPoolExecutor(2) as threads:
        taps = [threads.submit(writer.append, WORKSHOP, BENCH_1, entries(1), NINE)]
        assert first_in.wait(5)
        taps.append(threads.submit(writer.append, WORKSHOP, BENCH_1, entries(1), NINE))
        _until(lambda: writer._handed_in.qsize() == 1)
        both_in.set()
        assert {type(tap.exception(timeout=5)) for tap in taps} == {NotKept}


def test_stopping_keeps_what_was_handed_in_and_then_takes_no_more(
    database: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[str] = []
    _with_each(monkeypatch, lambda connection: connection.set_trace_callback(ran.append))
    writer = Writer(database)
    with closing(sqlite3.connect(database, isolation_level=None)) as other, ThreadPoolExecutor(20) as threads:
        other.execute("BEGIN IMMEDIATE")
        taps = _handed_in_while_held(writer, ran, threads, entries(20))
        stopping = threading.Thread(target=writer.stop)
        stopping.start()
        other.execute("ROLLBACK")
        assert {tap.result()[0].ended for tap in taps} == {Ended.NEW}
        stopping.join()
    with pytest.raises(NotKept, match="closing"):
        writer.append(WORKSHOP, BENCH_1, entries(1, start=99), NINE)
    writer.stop()
    again = Writer(database)
    assert again.change(WORKSHOP) == 20
    again.stop()


def test_a_process_has_one_writer_for_a_database(database: Path) -> None:
    with ThreadPoolExecutor(4) as threads:
        (writer,) = set(threads.map(writer_of, [database] * 20))
    assert writer.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].ended is Ended.NEW
    writer.stop()


def test_a_workshop_that_is_not_there_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="There is no workshop at"):
        Writer(tmp_path / "nowhere.sqlite3")
    assert not (tmp_path / "nowhere.sqlite3").exists()
    (tmp_path / "letter.sqlite3").write_text("Dear workshop, " * 100, "utf-8")
    with pytest.raises(Refused, match="is not a workshop's database"):
        Writer(tmp_path / "letter.sqlite3")
