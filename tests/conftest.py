"""What tests of several rooms share: the repository's own folder, and one browser for a file of tests."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tools.browser import existing

if TYPE_CHECKING:
    from playwright.sync_api import Browser

ROOT = Path(__file__).resolve().parent.parent

# As root there is no sandbox to be had; the rest keeps the browser from calling anybody.
BROWSER_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whole jobs in a browser take longest, so they begin first: else one core waits for the other at the end."""
    items.sort(key=lambda item: "journeys" not in item.path.parts)


@pytest.fixture(scope="session")
def root() -> Path:
    """The repository's folder."""
    return ROOT


@pytest.fixture(scope="module")
def browser() -> "Iterator[Browser]":
    """A headless Chromium: the one on this machine, else Playwright's own (`make test` sees to it).

    Not kept longer: Playwright's loop would be running in this thread while later tests use Django, which refuses that.
    """
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=existing(), args=BROWSER_FLAGS)
        yield chromium
        chromium.close()
