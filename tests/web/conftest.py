"""A demo workshop for each test, on a real database file of its own, and a tablet to work with."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import django
import pytest

from tests.web.tablet import Tablet


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The database of a first start, made once and closed."""
    os.environ.setdefault("FINGERTIGHT_HOME", str(tmp_path_factory.mktemp("django")))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fingertight.web.settings")
    django.setup()
    from django.core.management import call_command
    from django.db import connection

    from fingertight.store.demo.workshop import make_demo

    whole = tmp_path_factory.mktemp("demo") / "whole.sqlite3"
    before = connection.settings_dict["NAME"]
    connection.close()
    connection.settings_dict["NAME"] = str(whole.with_name("made.sqlite3"))
    call_command("migrate", verbosity=0, skip_checks=True)
    make_demo(datetime.now(UTC))
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(whole)])
    connection.close()
    connection.settings_dict["NAME"] = before
    return whole


@pytest.fixture
def workshop(demo: Path, tmp_path: Path) -> Iterator[Path]:
    """The demo workshop on a database of this test's own."""
    from django.db import connection

    from fingertight.store.writer import writer_of

    path = tmp_path / "workshop.sqlite3"
    path.write_bytes(demo.read_bytes())
    before = connection.settings_dict["NAME"]
    connection.close()
    connection.settings_dict["NAME"] = str(path)
    yield path
    writer_of(path).stop()
    connection.close()
    connection.settings_dict["NAME"] = before


@pytest.fixture
def tablet(workshop: Path) -> Tablet:
    """A tablet in that workshop."""
    return Tablet()
