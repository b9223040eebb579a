"""A demo workshop for each test, on a real database of its own, and a tablet to work with.

The database is a file of SQLite, or PostgreSQL where DATABASE_URL names a server (`make test-postgres`).
"""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import django
import pytest

from tests.web.tablet import Tablet

# Tests name models and addresses at their top: Django is ready before they are read.
os.environ.setdefault("FINGERTIGHT_HOME", tempfile.mkdtemp(prefix="django-"))
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fingertight.web.settings")
django.setup()

Whole = Path | str
"""The demo as it was made: a closed file, or the name of a database that others are copied from."""


def _settings() -> dict[str, Any]:
    from django.db import connection

    return connection.settings_dict


def _is_file() -> bool:
    return bool(_settings()["ENGINE"].endswith("sqlite3"))


@contextmanager
def _on(name: str) -> Iterator[None]:
    """Django on this database, and afterwards on the one before."""
    from django.db import connection

    before = _settings()["NAME"]
    connection.close()
    _settings()["NAME"] = name
    try:
        yield
    finally:
        connection.close()
        _settings()["NAME"] = before


def _says(statement: str) -> None:
    """One statement to the PostgreSQL server, outside any transaction."""
    import psycopg

    with psycopg.connect(os.environ["DATABASE_URL"], autocommit=True) as server:
        server.execute(statement)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Whole:
    """The database of a first start, made once and closed."""
    from django.core.management import call_command
    from django.db import connection

    from fingertight.store.demo.workshop import make_demo

    whole = tmp_path_factory.mktemp("demo") / "whole.sqlite3"
    name = str(whole.with_name("made.sqlite3")) if _is_file() else f"demo_{uuid4().hex}"
    if not _is_file():
        _says(f"CREATE DATABASE {name}")
    with _on(name):
        call_command("migrate", verbosity=0, skip_checks=True)
        make_demo(datetime.now(UTC))
        if not _is_file():
            return name
        with connection.cursor() as cursor:
            cursor.execute("VACUUM INTO %s", [str(whole)])
    return whole


@pytest.fixture
def workshop(demo: Whole, tmp_path: Path) -> Iterator[Whole]:
    """The demo workshop on a database of this test's own."""
    from fingertight.store.writer import writer_of
    from fingertight.web.jobs.ledgers import database

    name = str(tmp_path / "workshop.sqlite3") if isinstance(demo, Path) else f"test_{uuid4().hex}"
    if isinstance(demo, Path):
        Path(name).write_bytes(demo.read_bytes())
    else:
        _says(f"CREATE DATABASE {name} TEMPLATE {demo}")
    with _on(name):
        yield Path(name) if isinstance(demo, Path) else name
        writer_of(database()).stop()
    if not isinstance(demo, Path):
        _says(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(autouse=True)
def no_search_goes_on() -> Iterator[None]:
    """What a page looks for in the background ends with the test."""
    from fingertight.web.orders.looking import end_all

    yield
    end_all()


@pytest.fixture
def tablet(workshop: Whole) -> Tablet:
    """A tablet in that workshop."""
    return Tablet()
