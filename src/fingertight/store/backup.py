"""A whole workshop into one file, and back. Never copy the database by hand: the newest entries stand beside it."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from fingertight.store.log.promise import Refused
from fingertight.store.log.rows import damage, faults
from fingertight.store.log.sqlite import SqliteSession, connect


class Restored(NamedTuple):
    """Where the database is now that stood there before, and what is not as it was kept in the new one."""

    aside: Path | None
    faults: tuple[str, ...]


def back_up(database: Path, into: Path) -> tuple[str, ...]:
    """Write everything the workshop keeps into a new file, while entries go on being kept. It gets its name once whole.

    Returns a sentence for each thing in it that is not as it was kept (a broken chain): a copy of that is still a copy.
    Raises Refused when that file is there already or cannot be written, or what was written is damaged.
    """
    if into.exists():
        raise Refused(f"{into} is there already. Choose another name; a backup is never written over.")
    with _draft_of(into) as draft:
        said = _copy(database, draft)
        draft.rename(into)
    return said


def restore(backup: Path, database: Path) -> Restored:
    """Put a backup in the place of a workshop's database, and set aside what stands there.

    Raises Refused when the backup is damaged or no workshop's, or fingertight still has the workshop open.
    """
    with _draft_of(database) as draft:
        said = _copy(backup, draft)
        aside = _set_aside(database) if database.exists() else None
        draft.rename(database)
    return Restored(aside, said)


@contextmanager
def _draft_of(file: Path) -> Iterator[Path]:
    """Where the file is written until it is whole; nothing stays there when that fails."""
    draft = file.with_name(f"{file.name}.not-whole")
    try:
        draft.unlink(missing_ok=True)
        yield draft
    finally:
        draft.unlink(missing_ok=True)


def _copy(database: Path, into: Path) -> tuple[str, ...]:
    """A copy of a database as it is at one moment, on the disk and looked through; what is not as it was kept in it."""
    connection = connect(database, only_read=True)
    try:
        connection.execute("PRAGMA query_only=OFF")  # which minds the new file too
        connection.execute("VACUUM INTO ?", (str(into),))
        _sync(into)
    except (sqlite3.OperationalError, OSError) as fault:
        raise Refused(f"{into.parent} cannot be written ({fault}). Look at the folder and its disk.") from None
    except sqlite3.DatabaseError as fault:
        raise Refused(_no_workshop(database, fault)) from None
    finally:
        connection.close()
    return _looked_through(into, database)


def _looked_through(copy: Path, database: Path) -> tuple[str, ...]:
    connection = connect(copy, only_read=True)
    try:
        broken = damage(SqliteSession(connection))
        said = faults(SqliteSession(connection))
    except sqlite3.DatabaseError as fault:
        raise Refused(_no_workshop(database, fault)) from None
    finally:
        connection.close()
    if broken:
        raise Refused(*broken)
    return said


def _no_workshop(database: Path, fault: sqlite3.Error) -> str:
    return f"{database} is damaged or no workshop's database ({fault}). Take another one, perhaps an older backup."


def _set_aside(database: Path) -> Path:
    """Rename the database, after making sure that nobody has it open and that nothing of it stands in other files."""
    connection = sqlite3.connect(database, timeout=0.1, isolation_level=None)
    try:
        # Leaving WAL needs the file to oneself, and brings what stands beside it into it.
        connection.execute("PRAGMA journal_mode=DELETE")
    except sqlite3.DatabaseError as fault:
        if fault.sqlite_errorname == "SQLITE_BUSY":
            raise Refused(f"{database} is open in a running fingertight. Stop it, then restore.") from None
    finally:
        connection.close()
    number = 1
    while (aside := database.with_name(f"{database.name}.before-restore-{number}")).exists():
        number += 1
    for beside in ("-wal", "-shm"):  # there still when the database is too damaged to be opened
        left = database.with_name(database.name + beside)
        if left.exists():
            left.rename(aside.with_name(aside.name + beside))
    return database.rename(aside)


def _sync(file: Path) -> None:
    descriptor = os.open(file, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
