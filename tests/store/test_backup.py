"""A workshop into one file and back: every chain ends in the same head, and nothing half or damaged takes its place."""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from fingertight.store.backup import back_up, restore
from fingertight.store.log import rows, sqlite
from fingertight.store.log.promise import Head, Refused
from fingertight.store.writer import Writer
from tests.store.cast import BENCH_1, BENCH_2, NEXT_DOOR, NINE, WORKSHOP, entries, entry, outside, tampered

JOBS = [(WORKSHOP, BENCH_1), (WORKSHOP, BENCH_2), (NEXT_DOOR, BENCH_1)]


def _heads(database: Path) -> list[Head]:
    with closing(sqlite.connect(database, only_read=True)) as connection:
        return [rows.head(sqlite.SqliteSession(connection), *job) for job in JOBS]


@pytest.fixture
def used(writer: Writer) -> Writer:
    """A workshop some benches have worked in; its newest entries still stand beside the database file."""
    for many, (workshop, job) in enumerate(JOBS, start=3):
        writer.append(workshop, job, [entry(f"{job}-{number}") for number in range(many * 10)], NINE)
    return writer


def test_a_restored_workshop_has_every_chain_as_it_was(used: Writer, tmp_path: Path) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    heads = _heads(used.database)
    assert [head.seq for head in heads] == [30, 40, 50]
    assert _heads(tmp_path / "kept.sqlite3") == heads
    assert restore(tmp_path / "kept.sqlite3", tmp_path / "elsewhere.sqlite3") == (None, ())
    assert _heads(tmp_path / "elsewhere.sqlite3") == heads

    again = Writer(tmp_path / "elsewhere.sqlite3")
    assert again.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].seq == 31
    with again.reading() as connection:
        assert rows.faults(connection) == ()
    again.stop()


def test_a_backup_still_refuses_what_the_workshop_refuses(used: Writer, tmp_path: Path) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    with (
        closing(sqlite.connect(tmp_path / "kept.sqlite3")) as connection,
        pytest.raises(sqlite3.IntegrityError, match="never deleted"),
    ):
        connection.execute("DELETE FROM entry")


def test_a_backup_is_one_file_and_leaves_nothing_beside_it(used: Writer, tmp_path: Path) -> None:
    (tmp_path / "second place").mkdir()
    back_up(used.database, tmp_path / "second place" / "kept.sqlite3")
    assert [path.name for path in (tmp_path / "second place").iterdir()] == ["kept.sqlite3"]


def test_entries_go_on_being_kept_while_a_backup_is_made(used: Writer, tmp_path: Path) -> None:
    stop = threading.Event()
    answered: list[int] = []

    def tap() -> None:
        while not stop.is_set():
            answered.append(used.append(WORKSHOP, BENCH_1, [entry(f"late-{len(answered)}")], NINE)[0].seq)

    tapping = threading.Thread(target=tap)
    tapping.start()
    for number in range(5):
        before = used.log(WORKSHOP, BENCH_1).head()
        back_up(used.database, tmp_path / f"{number}.sqlite3")
        with closing(sqlite.connect(tmp_path / f"{number}.sqlite3", only_read=True)) as connection:
            assert rows.check(sqlite.SqliteSession(connection), WORKSHOP, BENCH_1, before).ended.value == "whole"
    stop.set()
    tapping.join()
    assert answered == list(range(31, 31 + len(answered)))


def test_restoring_sets_the_old_workshop_aside_whole(used: Writer, tmp_path: Path) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    used.append(WORKSHOP, BENCH_1, entries(7), NINE)
    newer = _heads(used.database)
    used.stop()
    aside = restore(tmp_path / "kept.sqlite3", used.database).aside
    assert aside is not None
    assert aside.name == "workshop.sqlite3.before-restore-1"
    assert _heads(aside) == newer
    assert [head.seq for head in _heads(used.database)] == [30, 40, 50]
    assert restore(aside, used.database).aside == aside.with_name("workshop.sqlite3.before-restore-2")
    assert _heads(used.database) == newer


def test_a_workshop_that_is_open_is_not_replaced_under_its_feet(used: Writer, tmp_path: Path) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    with pytest.raises(Refused, match="is open in a running fingertight"):
        restore(tmp_path / "kept.sqlite3", used.database)
    assert used.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].seq == 31
    assert not list(tmp_path.glob("*.before-restore-*"))


def test_a_damaged_workshop_can_be_restored(used: Writer, tmp_path: Path) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    used.stop()
    used.database.write_bytes(b"scratched " * 1000)
    used.database.with_name("workshop.sqlite3-wal").write_bytes(b"left over")
    restore(tmp_path / "kept.sqlite3", used.database)
    assert [head.seq for head in _heads(used.database)] == [30, 40, 50]


def _a_letter(path: Path) -> None:
    path.write_bytes(b"Dear workshop, " * 1000)


def _half_of_it(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def _scratched(path: Path) -> None:
    """Where entries stand: a page of an index of nothing would heal by itself."""
    with closing(sqlite3.connect(path)) as file:
        (root,) = file.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entry'").fetchone()
    raw = bytearray(path.read_bytes())
    middle = (root - 1) * 4096
    raw[middle : middle + 4096] = b"scratch " * 512
    path.write_bytes(raw)


def _some_other_database(path: Path) -> None:
    path.unlink()
    outside(path, "CREATE TABLE recipes (name TEXT)")


@pytest.mark.parametrize(
    ("spoil", "sentence"),
    [
        (_a_letter, "damaged or no workshop's database"),
        (_half_of_it, "damaged"),
        (_scratched, "damaged"),
        (_some_other_database, "no workshop's database"),
        (Path.unlink, "There is no workshop at"),
    ],
)
def test_a_backup_that_is_not_whole_is_not_restored(
    used: Writer, tmp_path: Path, spoil: Callable[[Path], None], sentence: str
) -> None:
    back_up(used.database, tmp_path / "kept.sqlite3")
    heads = _heads(used.database)
    used.stop()
    spoil(tmp_path / "kept.sqlite3")
    with pytest.raises(Refused, match=sentence):
        restore(tmp_path / "kept.sqlite3", used.database)
    assert _heads(used.database) == heads
    assert not list(tmp_path.glob("*not-whole*"))


@pytest.mark.parametrize(
    ("statement", "sentence"),
    [
        ("UPDATE entry SET body = replace(body, 'fan', 'fun') WHERE seq = 3", "Entry 3 is not as it was kept"),
        (f"DELETE FROM entry WHERE workshop = 1 AND job = '{BENCH_1}' AND seq > 5", "25 entries that workshop 1 kept"),
    ],
)
def test_a_tampered_workshop_is_still_backed_up_and_restored_and_said_to_be_tampered(
    used: Writer, tmp_path: Path, statement: str, sentence: str
) -> None:
    assert back_up(used.database, tmp_path / "honest.sqlite3") == ()
    tampered(used.database, statement)
    assert any(sentence in said for said in back_up(used.database, tmp_path / "kept.sqlite3"))
    restored = restore(tmp_path / "kept.sqlite3", tmp_path / "elsewhere.sqlite3")
    assert any(sentence in said for said in restored.faults)


def test_a_backup_is_never_written_over_another(used: Writer, tmp_path: Path) -> None:
    (tmp_path / "kept.sqlite3").write_text("something dear", "utf-8")
    with pytest.raises(Refused, match="is there already"):
        back_up(used.database, tmp_path / "kept.sqlite3")
    assert (tmp_path / "kept.sqlite3").read_text("utf-8") == "something dear"


def test_a_folder_that_is_not_there_is_a_sentence(used: Writer, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be written"):
        back_up(used.database, tmp_path / "no such folder" / "kept.sqlite3")
