"""Two windows on one bench: what is tapped in one is seen in the other, without anybody loading the page again."""

import time

from playwright.sync_api import Browser, Page, expect

from tests.journeys.people import Student, machine_file
from tests.journeys.served import Served

TAPS = 4
# The page looks every 2 s; the rest is what a busy machine may take to draw it.
NO_LATER_THAN_S = 4.0


def test_a_tap_in_one_window_is_seen_in_the_other(page: Page, browser: Browser, served: Served) -> None:
    here = Student(page, machine_file("bench-vice"))
    here.starts("Bench 23")
    here.begins()
    context = browser.new_context(base_url=served.address)
    there = Student(context.new_page(), machine_file("bench-vice"))
    there.page.goto(page.url)
    opened = there.page.locator("details:has(.act) > summary > b").last.inner_text()
    there.card(opened)

    late = []
    for tap in range(TAPS):
        tapping, looking = (here, there) if tap % 2 == 0 else (there, here)
        said = tapping.takes_off(tapping.first_card())
        tapped = time.monotonic()
        expect(looking.page.get_by_role("main").get_by_role("status")).to_have_text(said, timeout=20_000)
        late.append(time.monotonic() - tapped)
        assert looking.tags() == tapping.tags()
        if tap == 0:
            assert there.open_card() == opened, "a card somebody is reading is not closed under their eyes"
    print("\nseen in the other window after", ", ".join(f"{each:.1f} s" for each in late))
    assert max(late) < NO_LATER_THAN_S
    context.close()
