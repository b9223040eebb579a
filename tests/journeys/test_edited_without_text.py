"""A newcomer changes what must come off before the exhaust on the machine's page: no TOML is read or written."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.served import Served


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workshop of its own: other journeys strip the machine as it was."""
    with Served(tmp_path_factory.mktemp("workshop")) as server:
        yield server


def test_the_heat_shield_question_is_settled_by_ticking_one_box(page: Page) -> None:
    page.goto("/machine/pump-engine")
    before = page.request.get("/machine/pump-engine/anatomy.toml").text()
    page.locator("#parts > summary").click()
    page.get_by_role("link", name=re.compile(r"Change it ?: Exhaust$")).click()
    expect(page.locator("h1")).to_have_text("Exhaust")
    assert page.locator("textarea.file").count() == 0
    box = page.get_by_role("checkbox", name="Fuel tank", exact=True)
    assert not box.is_checked()
    page.locator("label", has_text="Fuel tank").first.click()
    assert box.is_checked()
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_role("status")).to_contain_text("Exhaust: Fuel tank must come off before it now.")
    after = page.request.get("/machine/pump-engine/anatomy.toml").text()
    changed = [line for line in after.splitlines() if line not in before.splitlines()]
    assert len(changed) == 1, "one line of the file, comments and all else as they were"
    assert "fuel-tank" in changed[0]
    page.goto("/machine/pump-engine/order?to=exhaust")
    expect(page.locator("#live")).to_contain_text("Fuel tank")
