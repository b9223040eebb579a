"""SQLite's side of the entry table: connecting, one transaction at a time, which fault is one row's alone."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from fingertight.store.log.promise import Refused
from fingertight.store.log.statements import PRAGMAS

BUSY_TIMEOUT_S = 5.0


class SqliteSession:
    """One open connection to a workshop's file. Threads may hand it on."""

    # What one row can do wrong by itself; every other fault of SQLite is the whole transaction's.
    ROW_FAULTS: Final[tuple[type[Exception], ...]] = (
        sqlite3.IntegrityError,
        sqlite3.DataError,
        sqlite3.ProgrammingError,
        UnicodeError,
        OverflowError,
    )
    FAULTS: Final[tuple[type[Exception], ...]] = (sqlite3.Error,)

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection

    @property
    def is_open(self) -> bool:
        """A file does not go away."""
        return True

    def execute(self, statement: str, values: Sequence[Any] = ()) -> sqlite3.Cursor:
        """Run one statement of `statements.py`."""
        return self.connection.execute(statement, values)

    def begin(self) -> None:
        """Take the write lock: whoever reads first and writes later in it is not too late."""
        self.connection.execute("BEGIN IMMEDIATE")

    def commit(self) -> None:
        """Everything since `begin` is on the disk."""
        self.connection.execute("COMMIT")

    def roll_back(self) -> None:
        """Nothing since `begin` happened."""
        if self.connection.in_transaction:
            self.connection.execute("ROLLBACK")

    def lock(self, workshop: int) -> None:
        """SQLite has one writer at a time: `begin` was enough."""

    def keep_row(self, statement: str, row: Sequence[Any]) -> int:
        """Write one row; how many there are now. A row that breaks a rule takes back only itself."""
        return self.connection.execute(statement, row).rowcount

    def because(self, fault: Exception) -> str:
        """Which rule a row broke: foreign, check, or what the database says."""
        broken = getattr(fault, "sqlite_errorname", "")
        return {"SQLITE_CONSTRAINT_FOREIGNKEY": "foreign", "SQLITE_CONSTRAINT_CHECK": "check"}.get(broken, str(fault))

    def close(self) -> None:
        """Close the connection."""
        self.connection.close()


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
