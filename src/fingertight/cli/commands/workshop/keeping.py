"""`backup` and `restore`: everything a workshop keeps in one file, and back."""

import os
import sys
from argparse import Namespace
from pathlib import Path
from typing import Any

from fingertight.cli.commands.workshop.home import add_home
from fingertight.cli.terminal import Misused, command, write

DATABASE = "workshop.sqlite3"


def add_parser(commands: Any) -> None:
    """Add `backup` and `restore` to the commands."""
    backup = command(
        commands,
        "backup",
        "everything a workshop keeps, into one new file",
        "Writes a whole copy while taps go on; a file that is there is never written over. Keep it on a second disk.\n"
        "Exit status 1 when a log in it is no longer what was kept.",
        "fingertight backup friday.sqlite3",
        with_json=False,
    )
    restore = command(
        commands,
        "restore",
        "a backup becomes the workshop; what stood there is set aside",
        "Stop fingertight serve first. The old database is set aside, not thrown away. A damaged backup is refused.\n"
        "Exit status 1 when a log in it is no longer what was kept.",
        "fingertight restore friday.sqlite3",
        with_json=False,
    )
    for parser, run in ((backup, run_backup), (restore, run_restore)):
        parser.add_argument("file", metavar="FILE", help="the backup")
        add_home(parser)
        parser.set_defaults(run=run)


def run_backup(options: Namespace) -> int:
    """Write the file, and say what in it is not as it was kept."""
    from fingertight.store.backup import back_up
    from fingertight.store.log.promise import Refused

    database = _database(options.home)
    try:
        faults = back_up(database, Path(options.file))
    except Refused as wrong:
        raise Misused(str(wrong)) from None
    write(sys.stdout, "\n".join((f"{options.file}: everything in {database.parent} is in it.", *faults)))
    return 1 if faults else 0


def run_restore(options: Namespace) -> int:
    """Put it in place, and say where the old one is now."""
    from fingertight.store.backup import restore
    from fingertight.store.log.promise import Refused

    database = _database(options.home)
    try:
        done = restore(Path(options.file), database)
    except Refused as wrong:
        raise Misused(str(wrong)) from None
    aside = (f"What stood there is {done.aside.name} now.",) if done.aside else ()
    write(sys.stdout, "\n".join((f"{options.file} is the workshop in {database.parent} now.", *aside, *done.faults)))
    return 1 if done.faults else 0


def _database(home: str | None) -> Path:
    """The file of the workshop. Raises Misused where PostgreSQL keeps it: that has its own tools."""
    if os.environ.get("DATABASE_URL"):
        raise Misused(
            "This workshop is kept by PostgreSQL: back it up with pg_dump -Fc, and restore it with pg_restore."
        )
    return Path(home or os.environ.get("FINGERTIGHT_HOME") or Path.home() / "fingertight-workshop") / DATABASE
