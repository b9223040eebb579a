"""The first look at a bench: what a browser that has nothing yet loads, in bytes and requests, and from whom."""

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Request, sync_playwright
from rows import Row
from served import Served

from tools.browser import existing

# The demo's half stripped engine: everything a bench page can show at once.
BUSY = "/bench/pump-engine-2/strip"
# Long enough for what a script asks for at its start, too short for the page's own look every 2 s.
SETTLED_MS = 1_000
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]


@dataclass(frozen=True)
class Asked:
    """One request: where, and how many bytes of body came back, packed as they were sent."""

    address: str
    size: int


def rows() -> Iterator[Row]:
    """The rows of this family."""
    with tempfile.TemporaryDirectory(prefix="fingertight-bench-") as folder, Served(Path(folder)) as served:
        own = f"http://localhost:{served.port}"
        asked = _first_load(own)
    kilobytes = sum(each.size for each in asked) / 1000
    elsewhere = sum(not each.address.startswith(f"{own}/") for each in asked)
    what = "first load of a bench page with a half stripped engine"
    yield Row(f"{what}: bodies as they are sent", "–", kilobytes, "at most", 60.0, unit="kB")
    yield Row(f"{what}: requests", "–", len(asked), "at most", 8, unit="requests")
    yield Row(f"{what}: requests to anybody else", "–", elsewhere, "at most", 0, unit="requests")


def _first_load(address: str) -> list[Asked]:
    asked: list[Request] = []

    def note(request: Request) -> None:
        asked.append(request)

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=existing(), args=FLAGS)
        page = chromium.new_context().new_page()
        page.on("request", note)
        page.goto(f"{address}{BUSY}")
        page.wait_for_load_state("load")
        page.wait_for_timeout(SETTLED_MS)
        found = [Asked(each.url, each.sizes()["responseBodySize"]) for each in asked]
        chromium.close()
    return found
