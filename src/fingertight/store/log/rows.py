"""A job's log as rows of the entry table: connecting, keeping within a transaction, reading, checking. No Django."""

import sqlite3
from datetime import datetime
from pathlib import Path

from fingertight.store.log.chain import MEND, START, Link, follow, link
from fingertight.store.log.promise import Chain, ChainCheck, Ended, Head, Kept, Receipt, Refused, Sent
from fingertight.store.log.statements import (
    AFTER,
    HAD,
    JOBS,
    KEEP,
    LAST_CHANGE,
    LAST_OF_JOB,
    LINKS,
    LOST_CHANGES,
    PRAGMAS,
)

BUSY_TIMEOUT_S = 5.0
# What one row can do wrong by itself; every other fault of SQLite is the whole transaction's.
ROW_FAULTS = (sqlite3.IntegrityError, sqlite3.DataError, sqlite3.ProgrammingError, UnicodeError, OverflowError)


def connect(database: Path, *, only_read: bool = False) -> sqlite3.Connection:
    """An open connection to a workshop's database with every setting entries rely on. Threads may hand it on.

    Raises Refused when there is no such file or it is not a database.
    """
    if not database.is_file():
        raise Refused(f"There is no workshop at {database}. Start `fingertight serve` once: it makes one.")
    address = f"{database.absolute().as_uri()}?mode=rw"
    connection = sqlite3.connect(
        address, uri=True, timeout=BUSY_TIMEOUT_S, isolation_level=None, check_same_thread=False
    )
    try:
        for pragma in ("query_only=ON",) if only_read else PRAGMAS:
            connection.execute(f"PRAGMA {pragma}")
    except sqlite3.DatabaseError as fault:
        connection.close()
        if isinstance(fault, sqlite3.OperationalError):
            raise
        raise Refused(f"{database} is not a workshop's database ({fault}). Restore the last backup.") from None
    return connection


def checked_time(arrived: str) -> str:
    """The same arrival time, if it is one.

    >>> checked_time("2026-03-05T09:00:00+01:00")
    '2026-03-05T09:00:00+01:00'

    Raises Refused when it is not RFC 3339 with an offset.
    """
    try:
        known = datetime.fromisoformat(arrived).tzinfo is not None
    except ValueError:
        known = False
    if not known:
        raise Refused(f"{arrived!r} is not a time with its offset. Write it like 2026-03-05T09:00:00+01:00.")
    return arrived


class Keeping:
    """Entries being kept within one open transaction, under the write lock: heads are read once and carried on.

    A row that breaks a rule of the table takes back only itself: SQLite undoes that statement, not the transaction.
    """

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self._heads: dict[tuple[int, str], Head] = {}
        self._changes: dict[int, int] = {}

    def keep(self, workshop: int, job: str, entry: Sent, arrived: str) -> Receipt:
        """Keep one entry if its id is new to the workshop, and say how that ended."""
        if (workshop, job) not in self._heads:
            self._heads[workshop, job] = head(self._connection, workshop, job)
        if workshop not in self._changes:
            self._changes[workshop] = change(self._connection, workshop)
        before = self._heads[workshop, job]
        try:
            after = Head(before.seq + 1, link(before.hash, entry.id, entry.body))
            row = (
                workshop,
                job,
                after.seq,
                self._changes[workshop] + 1,
                entry.id,
                arrived,
                entry.body,
                before.hash,
                after.hash,
            )
            fresh = self._connection.execute(KEEP, row).rowcount == 1
        except ROW_FAULTS as fault:
            return Receipt(entry.id, Ended.REFUSED, job, because=_because(fault))
        if not fresh:
            had_job, had_seq = self._connection.execute(HAD, (workshop, entry.id)).fetchone()
            return Receipt(entry.id, Ended.HAD, had_job, had_seq)
        self._heads[workshop, job] = after
        self._changes[workshop] += 1
        return Receipt(entry.id, Ended.NEW, job, after.seq)


def _because(fault: Exception) -> str:
    broken = getattr(fault, "sqlite_errorname", "")
    if broken == "SQLITE_CONSTRAINT_FOREIGNKEY":
        return "There is no such job in this workshop. Start the job first, or open the right one."
    if broken == "SQLITE_CONSTRAINT_CHECK":
        return "The entry's text is not one JSON object on one line with this very id. Send it as the device wrote it."
    return f"The entry cannot be kept: {fault}."


def head(connection: sqlite3.Connection, workshop: int, job: str) -> Head:
    """How far the log of a job goes."""
    found = connection.execute(LAST_OF_JOB, (workshop, job)).fetchone()
    return Head(*found) if found else START


def change(connection: sqlite3.Connection, workshop: int) -> int:
    """The number of the last entry kept anywhere in the workshop."""
    return int(connection.execute(LAST_CHANGE, (workshop,)).fetchone()[0])


def after(connection: sqlite3.Connection, workshop: int, job: str, seq: int = 0) -> tuple[Kept, ...]:
    """The entries of a job after number `seq`, in the order of arrival."""
    return tuple(Kept(*row) for row in connection.execute(AFTER, (workshop, job, seq)))


def check(connection: sqlite3.Connection, workshop: int, job: str, noted: Head | None = None) -> ChainCheck:
    """Follow the hash chain of a job."""
    return follow((Link(*row) for row in connection.execute(LINKS, (workshop, job))), noted)


def damage(connection: sqlite3.Connection) -> tuple[str, ...]:
    """What is broken in the file itself, a sentence each: nothing can be made of it."""
    pages = [row[0] for row in connection.execute("PRAGMA integrity_check")]
    return tuple(f"The database is damaged: {page}. Restore the last backup." for page in pages if page != "ok")


def faults(connection: sqlite3.Connection) -> tuple[str, ...]:
    """What is not as it was kept, a sentence each: references, every job's chain, entries that are gone."""
    lost = {row[0] for row in connection.execute("PRAGMA foreign_key_check")}
    said = [f"Rows of the table {table} point at rows that are gone. {MEND}" for table in sorted(lost)]
    for workshop, job, title in connection.execute(JOBS).fetchall():
        found = check(connection, workshop, job)
        if found.ended is Chain.BROKEN:
            said.append(f"{title}: {found.because}")
    for workshop, missing in connection.execute(LOST_CHANGES):
        said.append(f"{missing} entries that workshop {workshop} kept are gone. {MEND}")
    return tuple(said)
