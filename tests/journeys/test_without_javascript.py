"""A tablet on which no script runs: every entry can be made all the same."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.journeys.people import Student, machine_file
from tests.journeys.served import Served


class Plain(Student):
    """A student whose browser runs no script: each press loads a page."""

    def press(self, button: Locator) -> str:
        self.press_and_load(button)
        return self.said()


@pytest.fixture
def plain(browser: Browser, served: Served) -> Iterator[Page]:
    """A window without scripts."""
    context = browser.new_context(base_url=served.address, java_script_enabled=False)
    yield context.new_page()
    context.close()


def test_parts_come_off_are_measured_and_go_on_without_a_script(plain: Page) -> None:
    student = Plain(plain, machine_file("bench-vice"))
    student.starts("Bench 24")
    student.begins()
    student.has_signed()
    student.has_signed()
    off = ["Tommy bar", "Body with the fixed jaw", "Collar and split pin", "Opening spring"]
    said = [student.takes_off(part) for part in off]
    assert [tag.split("\n")[1] for tag in student.tags()] == off

    assert student.press(plain.get_by_role("button", name="Undo that")) == f"Undone: {said[-1]}"
    assert [tag.split("\n")[1] for tag in student.tags()] == off[:-1]
    assert student.takes_off(off[-1]) == said[-1]

    student.goes_to("Measure")
    student.measures("Free length of the spring")
    expect(student.size_row("Free length of the spring").locator(".verdict")).to_have_text(re.compile("^Good: "))

    student.goes_to("Rebuild")
    assert student.fits("Opening spring").startswith("Opening spring went on from bag")
    assert sorted(tag.split("\n")[1] for tag in student.tags()) == sorted(off[:-1])
