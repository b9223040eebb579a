"""A teacher copies a recoil starter into a machine, sees it in the file, undoes it; the versions tell both."""

import re
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.journeys.served import Served

WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workshop of its own: other journeys strip the machine as it was."""
    with Served(tmp_path_factory.mktemp("workshop")) as server:
        yield server


def test_a_recoil_starter_is_copied_and_the_copy_is_undone(page: Page) -> None:
    page.goto("/machine/hand-winch")
    before = page.request.get("/machine/hand-winch/anatomy.toml").text()
    page.get_by_role("link", name="Copy from common assemblies").click()
    page.get_by_role("link", name=re.compile(r"Copy it ?: Recoil starter$")).click()
    page.locator("label.tick", has_text="Crank handle").first.click()
    page.get_by_role("button", name="Copy it into the machine").click()
    expect(page.get_by_role("status")).to_contain_text("Recoil starter: 7 new parts.")
    text = page.request.get("/machine/hand-winch/anatomy.toml").text()
    assert 'id = "starter-spring"' in text
    assert 'behind = ["handle"]' in text.partition('id = "starter-housing"')[2].partition("[[part]]")[0]
    page.get_by_role("button", name="Undo the last change").click()
    expect(page.get_by_role("status")).to_contain_text("This is version 3 now.")
    assert page.request.get("/machine/hand-winch/anatomy.toml").text() == before
    page.get_by_role("link", name="Its versions").click()
    expect(page.locator("#version-2")).to_contain_text("Starter housing: a new part.")
    expect(page.locator("#version-3")).to_contain_text("the text of version 1 again")
    expect(page.locator("#version-3")).to_contain_text("Starter housing: this part is gone.")
    page.select_option("#new", "2")
    page.select_option("#old", "1")
    page.get_by_role("button", name="Show them").click()
    expect(page.locator("#beside")).to_have_text("Version 1 and version 2")
    expect(page.locator(".sides .side-new").first).to_be_visible()
    for width in (1024, 768, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(WIDE) <= 0
    assert Axe().run(page).response["violations"] == []
