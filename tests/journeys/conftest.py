"""What the journeys in a browser share: one served workshop, one page for each test, nothing asked of anybody else."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request, sync_playwright

from tests.conftest import BROWSER_FLAGS
from tests.journeys.served import Served
from tools.browser import existing

TABLET = (1024, 768)
PATIENCE_MS = 15_000


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A headless Chromium for one file of journeys.

    Not kept longer: Playwright's loop would be running in this thread while later tests use Django, which refuses that.
    """
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=existing(), args=BROWSER_FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workshop that has just been made, with its demo, being served."""
    with Served(tmp_path_factory.mktemp("workshop")) as server:
        yield server


@pytest.fixture
def page(browser: Browser, served: Served) -> Iterator[Page]:
    """A tablet's window on the workshop; nothing may be asked of any other machine, no script may fail."""
    context = browser.new_context(base_url=served.address, viewport={"width": TABLET[0], "height": TABLET[1]})
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    elsewhere: list[str] = []
    faults: list[str] = []

    def asked(request: Request) -> None:
        if not request.url.startswith((served.address, "data:", "blob:")):
            elsewhere.append(request.url)

    context.on("request", asked)
    context.on("weberror", lambda error: faults.append(str(error.error)))
    yield page
    context.close()
    assert (elsewhere, faults) == ([], [])


@pytest.fixture
def downloads(tmp_path: Path) -> Path:
    """Where a test keeps what it took along."""
    return tmp_path
