"""The folder of a workshop is opened, its database brought up to date."""

import os
from pathlib import Path
from typing import Any

from fingertight.cli.terminal import Misused

HOME_HELP = "the workshop's folder (FINGERTIGHT_HOME, else ~/fingertight-workshop)"


def add_home(parser: Any) -> None:
    """Add `--home` to a command."""
    parser.add_argument("--home", metavar="DIR", help=HOME_HELP)


def opened(home: str | None, *, hosts: tuple[str, ...] = (), beyond: bool = False, make: bool = False) -> Path:
    """The workshop's folder, with Django on its database. make: a folder that is none yet becomes one.

    Raises Misused where there is no workshop, or it cannot be used.
    """
    if home is not None:
        os.environ["FINGERTIGHT_HOME"] = home
    os.environ["FINGERTIGHT_HOSTS"] = ",".join(hosts)
    os.environ["FINGERTIGHT_BEYOND"] = "1" if beyond else ""
    os.environ["DJANGO_SETTINGS_MODULE"] = "fingertight.web.settings"
    folder = Path(os.environ.get("FINGERTIGHT_HOME") or Path.home() / "fingertight-workshop")
    if not make and not os.environ.get("DATABASE_URL") and not (folder / "workshop.sqlite3").exists():
        raise Misused(
            f"There is no workshop in {folder}. Name its folder with --home, or start fingertight serve once."
        )
    import django
    from django.core.exceptions import ImproperlyConfigured

    try:
        django.setup()
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Misused(
            f"The workshop's folder {fault.filename} cannot be used ({why}). Name another with --home."
        ) from None
    except ImproperlyConfigured as wrong:
        raise Misused(str(wrong)) from None
    return _up_to_date()


def _up_to_date() -> Path:
    from django.conf import settings
    from django.core.management import call_command
    from django.db import DatabaseError, connections

    try:
        call_command("migrate", verbosity=0)
    except DatabaseError as fault:
        raise Misused(
            f"The workshop's database in {settings.HOME} cannot be used ({fault}). Restore the last backup."
        ) from None
    finally:
        connections.close_all()
    return Path(settings.HOME)
