"""A workshop with two benches on a real PostgreSQL server, for each test anew (`make test-postgres` starts one)."""

import os
import subprocess
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from uuid import uuid4

import pytest

from tests.store.cast import ANATOMY, BENCH_1, BENCH_2, NINE, WORKSHOP

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Without a server these tests say so; with one none is left out."""
    if os.environ.get("DATABASE_URL"):
        return
    for item in items:
        if HERE in Path(item.fspath).parents:
            item.add_marker(pytest.mark.skip(reason="no PostgreSQL here: run make test-postgres"))


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The name of a database as `migrate` makes it, that others are copied from."""
    import psycopg
    from psycopg.conninfo import make_conninfo

    name, server = f"made_{uuid4().hex}", os.environ["DATABASE_URL"]
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    address = server.replace("/postgres?", f"/{name}?")
    assert address != server
    here = {
        **os.environ,
        "DATABASE_URL": address,
        "FINGERTIGHT_HOME": str(tmp_path_factory.mktemp("home")),
        "DJANGO_SETTINGS_MODULE": "fingertight.web.settings",
    }
    subprocess.run([sys.executable, "-m", "django", "migrate", "-v0", "--skip-checks"], env=here, check=True)
    hashed = sha256(ANATOMY.encode()).hexdigest()
    with psycopg.connect(make_conninfo(server, dbname=name), autocommit=True) as connection:
        connection.execute("INSERT INTO store_workshop (id, name) VALUES (%s, 'Workshop')", (WORKSHOP,))
        connection.execute(
            "INSERT INTO store_machineversion (workshop_id, slug, version, name, sha256, text, kept)"
            " VALUES (%s, 'bench-fan', 1, 'Bench fan', %s, %s, %s)",
            (WORKSHOP, hashed, ANATOMY, NINE),
        )
        for number, job in enumerate((BENCH_1, BENCH_2), start=1):
            connection.execute(
                "INSERT INTO store_job (workshop_id, id, slug, number, title, bench, started, machine, machine_sha256)"
                " VALUES (%s, %s, %s, %s, 'Bench fan', 'Bench', %s, 'bench-fan', %s)",
                (WORKSHOP, job, f"bench-fan-{number}", number, NINE, hashed),
            )
    return name


@pytest.fixture
def address(made: str) -> Iterator[str]:
    """A database of this test's own."""
    import psycopg
    from psycopg.conninfo import make_conninfo

    name, server = f"test_{uuid4().hex}", os.environ["DATABASE_URL"]
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {made}")
    yield make_conninfo(server, dbname=name)
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")
