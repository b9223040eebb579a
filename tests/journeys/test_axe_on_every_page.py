"""Every page is clean by axe-core."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.journeys.every_page import HEIGHT, PAGES, everything_open
from tests.web.test_in_the_browser import PAGES as LOOKED_THROUGH

__all__ = ["everything_open"]

WIDEST, NARROWEST = 1024, 390


def test_axe_finds_nothing_on_any_page_at_any_width(everything_open: Page) -> None:
    page, axe = everything_open, Axe()
    found = []
    for name, address in PAGES.items():
        page.goto(address)
        # What tests/web looks through at the widest, in light and in dark, is left out there.
        for width in (NARROWEST,) if address in LOOKED_THROUGH else (WIDEST, NARROWEST):
            page.set_viewport_size({"width": width, "height": HEIGHT})
            found += [
                f"{name} at {width} px: {fault['help']}: {fault['nodes'][0]['html'][:120]}"
                for fault in axe.run(page).response["violations"]
            ]
    assert found == []
