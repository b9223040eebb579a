"""The entry table and every statement about it, in SQLite's SQL. Another database gets a module of this shape.

`ENTRY_TABLE` and `NEVER_CHANGED` are run by the first migration and stay as they are; a change is a new migration.
Traps these lines avoid:
- ON CONFLICT names its target. Without one a clash of numbers is swallowed like a known id, and a tap is lost.
- SQLite's REPLACE deletes without asking the triggers unless the connection has recursive_triggers ON.
- A table rebuilt by a later Django migration loses its triggers: the test that tries every one of them would see it.
"""

PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON")

ENTRY_TABLE = """
CREATE TABLE entry (
    workshop INTEGER NOT NULL,
    job      TEXT    NOT NULL,
    seq      INTEGER NOT NULL CHECK (seq >= 1),
    change   INTEGER NOT NULL CHECK (change >= 1),
    id       TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 200),
    arrived  TEXT    NOT NULL,
    body     TEXT    NOT NULL CHECK (CASE WHEN json_valid(body) THEN json_extract(body, '$.id') IS id ELSE 0 END)
                              CHECK (instr(body, char(10)) = 0 AND instr(body, char(13)) = 0),
    "before" TEXT    NOT NULL CHECK (length("before") = 64),
    hash     TEXT    NOT NULL CHECK (length(hash) = 64),
    PRIMARY KEY (workshop, job, seq),
    UNIQUE (workshop, id),
    UNIQUE (workshop, change),
    FOREIGN KEY (workshop, job) REFERENCES store_job (workshop_id, id)
) STRICT
"""


def never(table: str, act: str, sentence: str) -> str:
    """The trigger by which a table refuses an act (UPDATE or DELETE) with a sentence."""
    return (
        f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} BEGIN SELECT RAISE(ABORT, '{sentence}'); END"
    )


NEVER_CHANGED = (
    never("entry", "UPDATE", "An entry is never changed. Write an undo entry, and the right one after it."),
    never("entry", "DELETE", "An entry is never deleted. Write an undo entry: it strikes the entry through."),
    never("store_machineversion", "UPDATE", "A kept text of a machine is never changed. A new text is a new version."),
    never("store_machineversion", "DELETE", "A kept text of a machine is never deleted: jobs stand on it."),
)

LAST_OF_JOB = "SELECT seq, hash FROM entry WHERE workshop = ? AND job = ? ORDER BY seq DESC LIMIT 1"

LAST_CHANGE = "SELECT coalesce(max(change), 0) FROM entry WHERE workshop = ?"

KEEP = """
INSERT INTO entry (workshop, job, seq, change, id, arrived, body, "before", hash)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
ON CONFLICT (workshop, id) DO NOTHING
"""

HAD = "SELECT job, seq FROM entry WHERE workshop = ? AND id = ?"

AFTER = "SELECT seq, id, body, arrived FROM entry WHERE workshop = ? AND job = ? AND seq > ? ORDER BY seq"

LINKS = 'SELECT seq, id, body, "before", hash FROM entry WHERE workshop = ? AND job = ? ORDER BY seq'

JOBS = "SELECT workshop_id, id, title FROM store_job ORDER BY workshop_id, id"

LOST_CHANGES = "SELECT workshop, max(change) - count(*) FROM entry GROUP BY workshop HAVING max(change) <> count(*)"
