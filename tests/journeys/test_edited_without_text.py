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
    page.locator("[data-goes='/machine/pump-engine/part/exhaust']").click()
    expect(page.locator("h1")).to_have_text("Exhaust")
    assert page.locator("textarea.file").count() == 0
    box = page.get_by_role("checkbox", name="Fuel tank", exact=True)
    assert not box.is_checked()
    drawn = page.locator("[data-ticks=fuel-tank]")
    page.locator("label", has_text="Fuel tank").first.click()
    assert box.is_checked()
    expect(drawn.locator(".sector")).to_have_class("sector sector-off")
    drawn.click()
    assert not box.is_checked()
    drawn.click()
    assert box.is_checked(), "a finger on the picture ticks as the list does"
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_role("status")).to_contain_text("Exhaust: Fuel tank must come off before it now.")
    after = page.request.get("/machine/pump-engine/anatomy.toml").text()
    changed = [line for line in after.splitlines() if line not in before.splitlines()]
    assert len(changed) == 1, "one line of the file, comments and all else as they were"
    assert "fuel-tank" in changed[0]
    page.goto("/machine/pump-engine/order?to=exhaust")
    expect(page.locator("#live")).to_contain_text("Fuel tank")


def test_a_newcomer_changes_a_torque_adds_fasteners_and_a_sign_off_and_sees_no_file(page: Page) -> None:
    page.goto("/machine/pump-engine")
    page.locator("#parts > summary").click()
    page.get_by_role("link", name=re.compile(r"Change it ?: Side cover$")).click()

    page.get_by_role("link", name="6 × M6x28, 10 N·m").click()
    page.locator("summary", has_text="How tight").click()
    page.get_by_label("Torque, N·m").fill("-11")
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_role("alert")).to_contain_text("it must be more than 0")
    assert page.get_by_label("Torque, N·m").input_value() == "-11"
    page.get_by_label("Torque, N·m").fill("11")
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_role("link", name="6 × M6x28, 11 N·m")).to_be_visible()

    page.get_by_role("link", name="Add fasteners").click()
    page.get_by_label("Size of the thread").fill("M5")
    page.get_by_label("How many").fill("2")
    page.get_by_role("combobox", name="Head").select_option("hex")
    page.get_by_role("button", name="Add fasteners").click()
    expect(page.get_by_role("link", name="2 × M5")).to_be_visible()
    no_file(page)

    page.goto("/machine/pump-engine")
    page.get_by_role("link", name="Its sizes, settings, sign-offs, instruments").click()
    page.get_by_role("link", name="Add a sign-off").click()
    page.get_by_label("What it is called").fill("Cover seen by two")
    page.get_by_label("When").select_option(label="when it is rebuilt")
    page.locator("summary", has_text="What waits for the signature").click()
    page.locator("label", has_text="Clutch case").click()
    page.get_by_role("button", name="Add a sign-off").click()
    expect(page.get_by_role("status")).to_contain_text("Cover seen by two: a new sign-off.")
    no_file(page)


def no_file(page: Page) -> None:
    """No line of the machine's file stands on the page."""
    assert page.locator("textarea.file").count() == 0
    for word in ("[[", "held_by", "TOML"):
        assert word not in page.locator("main").inner_text()
