"""The workshop's folder and database are as safe as platform choices ask: read back, not believed."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.parametrize(
    ("pragma", "value"), [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("recursive_triggers", 1)]
)
def test_the_database_itself_says_how_it_is_set(workshop: Path, pragma: str, value: object) -> None:
    from django.db import connection

    with connection.cursor() as cursor:
        assert cursor.execute(f"PRAGMA {pragma}").fetchone() == (value,)


def test_transactions_take_the_write_lock_at_once_and_requests_are_none(workshop: Path) -> None:
    from django.conf import settings

    database = settings.DATABASES["default"]
    assert database["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
    assert database["OPTIONS"]["timeout"] == 5
    assert database["CONN_MAX_AGE"] is None
    assert database["ATOMIC_REQUESTS"] is False
    assert settings.DEBUG is False
    assert settings.USE_THOUSAND_SEPARATOR is False
    assert "*" not in settings.ALLOWED_HOSTS


@pytest.mark.skipif(os.name == "nt", reason="modes are kept otherwise there")
def test_the_secret_key_is_made_once_and_only_its_owner_may_read_it(tmp_path: Path) -> None:
    home = tmp_path / "new" / "workshop"
    here = {**os.environ, "FINGERTIGHT_HOME": str(home)}
    ask = [sys.executable, "-c", "from fingertight.web import settings; print(settings.SECRET_KEY)"]
    first, second = (subprocess.run(ask, env=here, check=True, capture_output=True, text=True).stdout for _ in range(2))
    assert first == second
    assert len(first.strip()) > 50
    assert stat.S_IMODE((home / "secret-key").stat().st_mode) == 0o600
    assert stat.S_IMODE(home.stat().st_mode) == 0o700
    assert [file.name for file in home.iterdir()] == ["secret-key"]
