"""A whole workshop into one file, and back. Never copy the database by hand: the newest entries stand beside it."""

import os
import sqlite3
from pathlib import Path

from fingertight.store.log.promise import Refused
from fingertight.store.log.rows import connect, faults


def back_up(database: Path, into: Path) -> None:
    """Write everything the workshop keeps into a new file, while entries go on being kept. It gets its name once whole.

    Raises Refused when that file is there already, cannot be written, or what was written does not pass its check.
    """
    if into.exists():
        raise Refused(f"{into} is there already. Choose another name; a backup is never written over.")
    draft = into.with_name(f"{into.name}.not-whole")
    connection = connect(database, only_read=True)
    try:
        draft.unlink(missing_ok=True)
        connection.execute("VACUUM INTO ?", (str(draft),))
    except (sqlite3.Error, OSError) as fault:
        raise Refused(f"{into} cannot be written ({fault}). Look at the folder and its disk.") from None
    finally:
        connection.close()
    refuse_damaged(draft)
    _sync(draft)
    draft.rename(into)


def refuse_damaged(database: Path) -> None:
    """Raise Refused with a sentence for each fault of a workshop's database: its pages, references and hash chains."""
    connection = connect(database, only_read=True)
    try:
        said = faults(connection)
    except sqlite3.DatabaseError as fault:
        said = (f"{database} is damaged or not a workshop's database ({fault}).",)
    finally:
        connection.close()
    if said:
        raise Refused(*said)


def restore(backup: Path, database: Path) -> Path | None:
    """Put a backup in the place of a workshop's database. Returns where the old database is now, if there was one.

    Raises Refused when the backup does not pass its check, or fingertight still has the workshop open.
    """
    draft = database.with_name(f"{database.name}.not-whole")
    refuse_damaged(backup)
    draft.unlink(missing_ok=True)
    back_up(backup, draft)
    aside = _set_aside(database) if database.exists() else None
    draft.rename(database)
    return aside


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
