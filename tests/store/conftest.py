"""A workshop's database for each test, made as the program makes it, and a writer on it."""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from types import ModuleType

import django
import pytest

from fingertight.store.writer import Writer
from tests.store.cast import ANATOMY, BENCH_1, BENCH_2, NEXT_DOOR, NINE, WORKSHOP


@pytest.fixture(scope="session")
def new_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database as `migrate` makes it, with two workshops and two jobs in each, in one closed file."""
    home = tmp_path_factory.mktemp("home")
    here = {**os.environ, "FINGERTIGHT_HOME": str(home), "DJANGO_SETTINGS_MODULE": "fingertight.web.settings"}
    subprocess.run([sys.executable, "-m", "django", "migrate", "-v0", "--skip-checks"], env=here, check=True)
    whole = home / "whole.sqlite3"
    hashed = sha256(ANATOMY.encode()).hexdigest()
    with closing(sqlite3.connect(home / "workshop.sqlite3", isolation_level=None)) as connection:
        for workshop, name in ((WORKSHOP, "Workshop"), (NEXT_DOOR, "Next door")):
            connection.execute("INSERT INTO store_workshop (id, name) VALUES (?, ?)", (workshop, name))
            connection.execute(
                "INSERT INTO store_machineversion VALUES (?, 'bench-fan', 1, 'Bench fan', ?, ?, ?)",
                (workshop, hashed, ANATOMY, NINE),
            )
            for number, job in enumerate((BENCH_1, BENCH_2), start=1):
                connection.execute(
                    "INSERT INTO store_job (workshop_id, id, slug, number, title, bench, started, machine,"
                    " machine_sha256) VALUES (?, ?, ?, ?, ?, ?, ?, 'bench-fan', ?)",
                    (workshop, job, f"bench-fan-{number}", number, f"Bench fan no. {number}", "Bench", NINE, hashed),
                )
        connection.execute("VACUUM INTO ?", (str(whole),))
    return whole


@pytest.fixture
def database(new_database: Path, tmp_path: Path) -> Path:
    """A workshop's database of this test's own."""
    path = tmp_path / "workshop.sqlite3"
    path.write_bytes(new_database.read_bytes())
    return path


@pytest.fixture
def kept(database: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[ModuleType]:
    """The room's module `kept`, with Django on this test's database."""
    os.environ.setdefault("FINGERTIGHT_HOME", str(tmp_path_factory.mktemp("django")))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fingertight.web.settings")
    django.setup()
    from django.db import connection

    before = connection.settings_dict["NAME"]
    connection.close()
    connection.settings_dict["NAME"] = str(database)
    yield import_module("fingertight.store.kept")
    connection.close()
    connection.settings_dict["NAME"] = before


@pytest.fixture
def writer(database: Path) -> Iterator[Writer]:
    """The writer of that database."""
    writer = Writer(database)
    yield writer
    writer.stop()
