"""Every page is clean by axe-core."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.journeys.every_page import HEIGHT, PAGES, everything_open

__all__ = ["everything_open"]

WIDTHS = (390,)
"""The narrowest layout; the widest is looked through in light and in dark by tests/web, page by page."""


def test_axe_finds_nothing_on_any_page_at_any_width(everything_open: Page) -> None:
    page, axe = everything_open, Axe()
    found = []
    for name, address in PAGES.items():
        page.goto(address)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            found += [
                f"{name} at {width} px: {fault['help']}: {fault['nodes'][0]['html'][:120]}"
                for fault in axe.run(page).response["violations"]
            ]
    assert found == []
