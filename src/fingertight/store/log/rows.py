"""A job's log as rows of the entry table: keeping within a transaction, reading, checking. No Django.

Two databases keep it: a file of SQLite (`sqlite.py`), or PostgreSQL (`postgres.py`), told apart by the address.
"""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

from fingertight.store.log import sqlite
from fingertight.store.log.chain import MEND, START, Link, follow, link
from fingertight.store.log.promise import Chain, ChainCheck, Ended, Head, Kept, Receipt, Refused, Sent
from fingertight.store.log.statements import AFTER, HAD, JOBS, KEEP, LAST_CHANGE, LAST_OF_JOB, LINKS, LOST_CHANGES

Address = Path | str
"""Where a workshop is kept: a file of SQLite, or the address of a PostgreSQL database."""


class Session(Protocol):
    """One open connection to whichever database it is."""

    @property
    def ROW_FAULTS(self) -> tuple[type[Exception], ...]:
        """What one row can do wrong by itself."""

    @property
    def FAULTS(self) -> tuple[type[Exception], ...]:
        """What the database can do wrong."""

    @property
    def is_open(self) -> bool:
        """Whether it still reaches the database; one that does not is opened anew."""

    def execute(self, statement: str, values: Sequence[Any] = ()) -> Any:
        """Run one statement; its cursor."""

    def begin(self) -> None:
        """Begin a transaction that writes."""

    def commit(self) -> None:
        """Everything since `begin` is on the disk."""

    def roll_back(self) -> None:
        """Nothing since `begin` happened."""

    def lock(self, workshop: int) -> None:
        """Until the transaction ends nobody else writes entries of this workshop."""

    def keep_row(self, statement: str, row: Sequence[Any]) -> int:
        """Write one row; how many there are now. A row that breaks a rule takes back only itself."""

    def because(self, fault: Exception) -> str:
        """Which rule a row broke: foreign, check, or what the database says."""

    def close(self) -> None:
        """Close the connection."""


def open_session(address: Address, *, only_read: bool = False) -> Session:
    """A connection to a workshop's database with every setting entries rely on. Threads may hand it on.

    Raises Refused when there is no such database.
    """
    if isinstance(address, Path):
        return sqlite.SqliteSession(sqlite.connect(address, only_read=only_read))
    from fingertight.store.log import postgres  # only where it is used: a laptop needs no PostgreSQL

    return postgres.PostgresSession(postgres.connect(address, only_read=only_read))


def session_on(vendor: str, connection: Any) -> Session:
    """A session on a connection that somebody else opened, within their transaction."""
    if vendor == "sqlite":
        return sqlite.SqliteSession(connection)
    from fingertight.store.log import postgres

    return postgres.PostgresSession(connection)


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

    A row that breaks a rule of the table takes back only itself.
    """

    def __init__(self, session: Session) -> None:
        self._session = session
        self._heads: dict[tuple[int, str], Head] = {}
        self._changes: dict[int, int] = {}

    def keep(self, workshop: int, job: str, entry: Sent, arrived: str) -> Receipt:
        """Keep one entry if its id is new to the workshop, and say how that ended."""
        if workshop not in self._changes:
            self._session.lock(workshop)
            self._changes[workshop] = change(self._session, workshop)
        if (workshop, job) not in self._heads:
            self._heads[workshop, job] = head(self._session, workshop, job)
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
            fresh = self._session.keep_row(KEEP, row) == 1
        except self._session.ROW_FAULTS as fault:
            return Receipt(entry.id, Ended.REFUSED, job, because=_because(self._session.because(fault)))
        if not fresh:
            had_job, had_seq = self._session.execute(HAD, (workshop, entry.id)).fetchone()
            return Receipt(entry.id, Ended.HAD, had_job, had_seq)
        self._heads[workshop, job] = after
        self._changes[workshop] += 1
        return Receipt(entry.id, Ended.NEW, job, after.seq)


def _because(broken: str) -> str:
    if broken == "foreign":
        return "There is no such job in this workshop. Start the job first, or open the right one."
    if broken == "check":
        return "The entry's text is not one JSON object on one line with this very id. Send it as the device wrote it."
    return f"The entry cannot be kept: {broken}."


def head(session: Session, workshop: int, job: str) -> Head:
    """How far the log of a job goes."""
    found = session.execute(LAST_OF_JOB, (workshop, job)).fetchone()
    return Head(*found) if found else START


def change(session: Session, workshop: int) -> int:
    """The number of the last entry kept anywhere in the workshop."""
    return int(session.execute(LAST_CHANGE, (workshop,)).fetchone()[0])


def after(session: Session, workshop: int, job: str, seq: int = 0) -> tuple[Kept, ...]:
    """The entries of a job after number `seq`, in the order of arrival."""
    return tuple(Kept(*row) for row in session.execute(AFTER, (workshop, job, seq)))


def check(session: Session, workshop: int, job: str, noted: Head | None = None) -> ChainCheck:
    """Follow the hash chain of a job."""
    return follow((Link(*row) for row in session.execute(LINKS, (workshop, job))), noted)


def damage(session: Session) -> tuple[str, ...]:
    """What is broken in the file itself, a sentence each: nothing can be made of it."""
    pages = [row[0] for row in session.execute("PRAGMA integrity_check")]
    return tuple(f"The database is damaged: {page}. Restore the last backup." for page in pages if page != "ok")


def faults(session: Session) -> tuple[str, ...]:
    """What is not as it was kept, a sentence each: references, every job's chain, entries that are gone."""
    lost = {row[0] for row in session.execute("PRAGMA foreign_key_check")}
    said = [f"Rows of the table {table} point at rows that are gone. {MEND}" for table in sorted(lost)]
    for workshop, job, title in session.execute(JOBS).fetchall():
        found = check(session, workshop, job)
        if found.ended is Chain.BROKEN:
            said.append(f"{title}: {found.because}")
    for workshop, missing in session.execute(LOST_CHANGES):
        said.append(f"{missing} entries that workshop {workshop} kept are gone. {MEND}")
    return tuple(said)
