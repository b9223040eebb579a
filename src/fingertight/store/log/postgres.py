"""PostgreSQL's side of the entry table: its SQL, connecting, a savepoint for each row, one lock for each workshop.

Traps these lines avoid:
- A statement that fails ends its transaction: each row has a savepoint of its own.
- Two processes may write: a job's last number is read only under the workshop's lock, held to the end.
- A trigger for each row is not asked by TRUNCATE: that has a trigger of its own. The owner of a table may still take
  triggers away; `ROLE` makes a role that may not (docs/keeping.md).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import psycopg
from psycopg.errors import CheckViolation, DataError, ForeignKeyViolation, IntegrityError

from fingertight.store.log.promise import Refused

if TYPE_CHECKING:
    from psycopg import Connection, Cursor

_LOCKS: Final = 0x66744E74
"""The first of the two numbers of our advisory locks; the second is the workshop."""

ENTRY_TABLE = """
CREATE TABLE entry (
    workshop BIGINT  NOT NULL,
    job      VARCHAR(200) NOT NULL,
    seq      INTEGER NOT NULL CHECK (seq >= 1),
    change   BIGINT  NOT NULL CHECK (change >= 1),
    id       TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 200),
    arrived  TEXT    NOT NULL,
    body     TEXT    NOT NULL CHECK ((body::json ->> 'id') IS NOT DISTINCT FROM id)
                              CHECK (position(chr(10) in body) = 0 AND position(chr(13) in body) = 0),
    "before" TEXT    NOT NULL CHECK (length("before") = 64),
    hash     TEXT    NOT NULL CHECK (length(hash) = 64),
    PRIMARY KEY (workshop, job, seq),
    UNIQUE (workshop, id),
    UNIQUE (workshop, change),
    FOREIGN KEY (workshop, job) REFERENCES store_job (workshop_id, id)
)
"""


def never(table: str, sentence: str) -> tuple[str, ...]:
    """The statements by which a table refuses UPDATE, DELETE and TRUNCATE with a sentence."""
    name = f"{table}_stays"
    return (
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION '{sentence}'; END $$",
        f"CREATE TRIGGER {name} BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()",
        f"CREATE TRIGGER {name}_whole BEFORE TRUNCATE ON {table} EXECUTE FUNCTION {name}()",
    )


NEVER_CHANGED = (
    *never("entry", "An entry is never changed or deleted. Write an undo entry: it strikes the entry through."),
    *never("store_machineversion", "A kept text of a machine is never changed. A new text is a new version."),
)

ROLE = (
    "GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO {role}",
    "GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO {role}",
    "REVOKE UPDATE, DELETE ON entry, store_machineversion, store_machinestep, store_classentry, store_recordedentry"
    " FROM {role}",
)
"""What a role may do that runs the app and owns nothing: add entries and read them, and no more."""


class PostgresSession:
    """One open connection to a PostgreSQL database."""

    ROW_FAULTS: Final[tuple[type[Exception], ...]] = (
        IntegrityError,
        DataError,
        psycopg.ProgrammingError,
        UnicodeError,
        OverflowError,
    )
    FAULTS: Final[tuple[type[Exception], ...]] = (psycopg.Error,)

    def __init__(self, connection: Connection[Any]) -> None:
        self.connection = connection

    @property
    def is_open(self) -> bool:
        """Whether the server still answers on it, as far as was seen."""
        return not (self.connection.closed or self.connection.broken)

    def execute(self, statement: str, values: Sequence[Any] = ()) -> Cursor[Any]:
        """Run one statement of `statements.py`: its marks are SQLite's."""
        return self.connection.execute(_marked(statement), values)

    def begin(self) -> None:
        """Begin a transaction."""
        self.connection.execute("BEGIN")

    def commit(self) -> None:
        """Everything since `begin` is on the disk."""
        self.connection.execute("COMMIT")

    def roll_back(self) -> None:
        """Nothing since `begin` happened; where the server is gone, it sees to that itself."""
        if self.is_open:
            self.connection.execute("ROLLBACK")

    def lock(self, workshop: int) -> None:
        """Until the transaction ends nobody else writes entries of this workshop."""
        self.connection.execute("SELECT pg_advisory_xact_lock(%s, %s)", (_LOCKS, workshop))

    def keep_row(self, statement: str, row: Sequence[Any]) -> int:
        """Write one row; how many there are now. A row that breaks a rule takes back only itself."""
        self.connection.execute("SAVEPOINT one_row")
        try:
            kept = self.connection.execute(_marked(statement), row).rowcount
        except BaseException:
            self.connection.execute("ROLLBACK TO SAVEPOINT one_row")
            raise
        self.connection.execute("RELEASE SAVEPOINT one_row")
        return kept

    def because(self, fault: Exception) -> str:
        """Which rule a row broke: foreign, check, or what the database says. A text that is no JSON breaks a check."""
        if isinstance(fault, ForeignKeyViolation):
            return "foreign"
        return "check" if isinstance(fault, (CheckViolation, DataError)) else str(fault)

    def close(self) -> None:
        """Close the connection."""
        self.connection.close()


def connect(address: str, *, only_read: bool = False) -> Connection[Any]:
    """An open connection, each statement a transaction of its own until `begin`.

    Raises Refused when there is no such database.
    """
    try:
        connection = psycopg.connect(address, autocommit=True)
    except psycopg.OperationalError as fault:
        raise Refused(f"The database does not answer ({str(fault).strip()}). Look at DATABASE_URL.") from None
    if only_read:
        connection.execute("SET default_transaction_read_only = on")
    return connection


def _marked(statement: str) -> Any:
    return statement.replace("?", "%s")
