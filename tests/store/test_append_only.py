"""What the database itself refuses, and what the chain shows when somebody goes round it."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from fingertight.store.log import rows, sqlite, statements
from fingertight.store.log.promise import Chain
from fingertight.store.writer import Writer
from tests.store.cast import BENCH_1, BENCH_2, NEXT_DOOR, NINE, WORKSHOP, as_sent, entries, outside, tampered

COLUMNS = '(workshop, job, seq, change, id, arrived, body, "before", hash)'
ZEROS = "0" * 64
REPLACED = '{"id": "e2", "kind": "note"}'
SETTINGS = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "recursive_triggers": 1, "busy_timeout": 5000}


@pytest.fixture
def three_kept(writer: Writer) -> Path:
    """A database with e1, e2, e3 in bench 1's log."""
    writer.append(WORKSHOP, BENCH_1, entries(3), NINE)
    return writer.database


def _row(seq: int, change: int, entry_id: str, verb: str = "INSERT OR REPLACE") -> str:
    values = f"({WORKSHOP}, '{BENCH_1}', {seq}, {change}, '{entry_id}', '{NINE}', "
    return f"{verb} INTO entry {COLUMNS} VALUES {values} '{{\"id\": \"{entry_id}\"}}', '{ZEROS}', '{ZEROS}')"


@pytest.mark.parametrize(
    ("statement", "sentence"),
    [
        ("UPDATE entry SET body = body", "never changed"),
        ("UPDATE entry SET arrived = '' WHERE seq = 2", "never changed"),
        ("DELETE FROM entry WHERE seq = 3", "never deleted"),
        ("DELETE FROM entry", "never deleted"),
        (_row(2, 2, "e2"), "never deleted"),
        (_row(9, 9, "e2"), "never deleted"),
        (_row(2, 9, "e9"), "never deleted"),
        (_row(9, 2, "e9"), "never deleted"),
        (_row(2, 2, "e2", verb="REPLACE"), "never deleted"),
        (_row(2, 2, "e2", verb="INSERT") + " ON CONFLICT (workshop, id) DO UPDATE SET body = ''", "never changed"),
        ("UPDATE OR REPLACE entry SET seq = 1 WHERE seq = 2", "never changed"),
        ("UPDATE store_machineversion SET text = ''", "never changed"),
        ("DELETE FROM store_machineversion", "never deleted"),
        (
            "REPLACE INTO store_machineversion SELECT workshop_id, slug, version, name, sha256, '', kept"
            " FROM store_machineversion",
            "never deleted",
        ),
        ("DELETE FROM store_job", "FOREIGN KEY"),
    ],
)
def test_what_is_kept_is_neither_changed_nor_deleted_nor_replaced(
    three_kept: Path, statement: str, sentence: str
) -> None:
    with closing(sqlite.connect(three_kept)) as connection:
        before = list(connection.execute("SELECT * FROM entry")), list(connection.execute(_ALL_VERSIONS))
        with pytest.raises(sqlite3.IntegrityError, match=sentence):
            connection.execute(statement)
        assert (list(connection.execute("SELECT * FROM entry")), list(connection.execute(_ALL_VERSIONS))) == before


_ALL_VERSIONS = "SELECT * FROM store_machineversion"


@pytest.mark.parametrize(("seq", "change"), [(3, 9), (9, 3)])
def test_a_clash_of_numbers_is_loud_and_never_taken_for_a_known_id(three_kept: Path, seq: int, change: int) -> None:
    with closing(sqlite.connect(three_kept)) as connection:
        row = (WORKSHOP, BENCH_1, seq, change, "e9", NINE, '{"id": "e9"}', ZEROS, ZEROS)
        with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
            connection.execute(statements.KEEP, row)


def test_every_column_holds_one_type_only(three_kept: Path) -> None:
    with (
        closing(sqlite.connect(three_kept)) as connection,
        pytest.raises(sqlite3.IntegrityError, match="cannot store TEXT value in INTEGER column"),
    ):
        connection.execute(_row(9, 9, "e9", verb="INSERT").replace(", 9, 9,", ", 'nine', 9,"))


def test_the_writers_connection_has_every_setting_it_relies_on(database: Path) -> None:
    with closing(sqlite.connect(database)) as connection:
        read_back = {name: connection.execute(f"PRAGMA {name}").fetchone()[0] for name in SETTINGS}
    assert read_back == SETTINGS


def test_a_reading_connection_cannot_write(writer: Writer) -> None:
    with writer.reading() as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            connection.execute(_row(1, 1, "e1", verb="INSERT"))


@pytest.mark.parametrize(
    ("statement", "at", "because"),
    [
        (f"UPDATE entry SET body = '{REPLACED}' WHERE id = 'e2'", 2, "is not as it was kept"),
        ("UPDATE entry SET id = 'e7', body = replace(body, 'e3', 'e7') WHERE id = 'e3'", 3, "is not as it was kept"),
        (f"UPDATE entry SET hash = '{ZEROS}' WHERE id = 'e1'", 1, "is not as it was kept"),
        (f"UPDATE entry SET \"before\" = '{ZEROS}' WHERE id = 'e3'", 3, "was kept after another entry"),
        ("DELETE FROM entry WHERE id = 'e1'", 1, "is missing"),
        ("DELETE FROM entry WHERE id = 'e2'", 2, "is missing"),
        ("UPDATE entry SET seq = CASE seq WHEN 1 THEN 11 ELSE 12 END WHERE seq < 3", 1, "is missing"),
    ],
)
def test_tampering_past_the_refusals_is_seen_in_the_chain(
    writer: Writer, three_kept: Path, statement: str, at: int, because: str
) -> None:
    tampered(three_kept, statement)
    seen = writer.log(WORKSHOP, BENCH_1).check()
    assert (seen.ended, seen.at) == (Chain.BROKEN, at)
    assert because in seen.because
    with writer.reading() as connection:
        assert any(said.startswith(f"Bench fan no. 1: Entry {at} ") for said in rows.faults(connection))


def test_swapped_entries_are_seen_in_the_chain(writer: Writer, three_kept: Path) -> None:
    tampered(three_kept, "UPDATE entry SET seq = 20 WHERE seq = 2")
    outside(three_kept, "UPDATE entry SET seq = 2 WHERE seq = 3", "UPDATE entry SET seq = 3 WHERE seq = 20")
    seen = writer.log(WORKSHOP, BENCH_1).check()
    assert (seen.at, "was kept after another entry" in seen.because) == (2, True)


def test_a_replace_from_a_program_without_our_settings_is_seen_in_the_chain(writer: Writer, three_kept: Path) -> None:
    outside(three_kept, _row(2, 2, "e2"))
    assert writer.log(WORKSHOP, BENCH_1).check().at == 2


def test_a_lost_end_of_one_log_shows_by_the_workshops_own_numbers(writer: Writer, three_kept: Path) -> None:
    writer.append(WORKSHOP, BENCH_2, entries(1, start=4), NINE)
    tampered(three_kept, "DELETE FROM entry WHERE id IN ('e2', 'e3')")
    assert writer.log(WORKSHOP, BENCH_1).check().ended is Chain.WHOLE
    with writer.reading() as connection:
        (said,) = rows.faults(connection)
    assert said.startswith("2 entries that workshop 1 kept are gone.")


def test_an_untouched_database_has_no_faults(writer: Writer, three_kept: Path) -> None:
    writer.append(NEXT_DOOR, BENCH_1, entries(2), NINE)
    with writer.reading() as connection:
        assert rows.faults(connection) == ()
    assert as_sent(writer.log(WORKSHOP, BENCH_1).after()) == entries(3)
