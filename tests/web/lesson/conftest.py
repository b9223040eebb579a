"""The demo class with people who can sign in."""

from pathlib import Path

import pytest

from tests.web.people.cast import Cast, gathered


@pytest.fixture
def cast(workshop: Path | str) -> Cast:
    """Everybody of the demo class."""
    return gathered()
