"""The server is killed in the middle of taps: every tap that was answered is there when it is served again."""

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.journeys.people import Student, machine_file
from tests.journeys.served import Served

ROUNDS = 3


@pytest.fixture
def served_alone(tmp_path: Path) -> Iterator[Served]:
    """A workshop that nobody else uses, so that it may be killed."""
    with Served(tmp_path / "workshop") as server:
        yield server


@pytest.fixture
def window(browser: Browser, served_alone: Served) -> Iterator[Page]:
    """A window on that workshop."""
    context = browser.new_context(base_url=served_alone.address)
    yield context.new_page()
    context.close()


def test_every_tap_that_was_answered_is_there_after_a_kill(window: Page, served_alone: Served) -> None:
    student = Student(window, machine_file("hand-winch"))
    student.starts("Bench 27")
    student.begins()
    answered: list[str] = []
    chance = random.Random(27)
    for _ in range(ROUNDS):
        for _ in range(chance.randint(2, 5)):
            answered.append(student.takes_off(student.first_card()))
        # The last tap is on its way when the server dies: it may be kept or not, but nothing before it is lost.
        window.locator("details[open] > .act button").click(no_wait_after=True)
        served_alone.kill()
        expect(window.get_by_text("The server does not answer.")).to_be_visible(timeout=10_000)
        served_alone.start()
        window.reload()
        kept = _came_off(window)
        assert answered == [said for said in kept if said in answered], "lost, doubled or out of order"
        assert len(kept) <= len(answered) + 1
        answered = kept
        assert len(student.tags()) == len(kept)


def _came_off(window: Page) -> list[str]:
    """What came off by the log page, oldest first; then back to the bench."""
    window.get_by_role("link", name="Log", exact=True).click()
    log = window.get_by_role("region", name="newest first")
    log.wait_for()  # what is read without waiting may still be the page before
    lines = log.locator("li span:not(.soft, .only-read)").all_inner_texts()
    window.get_by_role("link", name="Back to the bench").click()
    window.get_by_role("heading", name="Can come off now").wait_for()
    return [line for line in reversed(lines) if "came off" in line]
