"""A school's room: the demo workshop of the web tests, and an owner who sets up a class of twelve benches in it."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from django.test import override_settings

from tests.web.conftest import demo, workshop  # which makes Django ready

if TYPE_CHECKING:
    from tests.journeys.lessons.room import Room

__all__ = ["demo", "workshop"]

QUICK = ["django.contrib.auth.hashers.MD5PasswordHasher"]
"""Some hundred sign-ins in a test: the costly hash that people get is tried in tests/web/people."""


@pytest.fixture
def room(workshop: Path | str) -> "Iterator[Room]":
    """A class of twelve bench vices and twenty-four students; nobody has joined yet."""
    from tests.journeys.lessons.room import Room

    with override_settings(PASSWORD_HASHERS=QUICK):
        yield Room.set_up()
