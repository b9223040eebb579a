"""An engine without carburettor and tank, partly stripped already: what is absent is never missed, the rest follows."""

import re
from pathlib import Path

from playwright.sync_api import Browser, Page, expect

from tests.journeys.people import Student, machine_file
from tests.journeys.served import Served

ABSENT = ("Fuel tank", "Carburettor")
OFF_ALREADY = ("Spark plug lead", "Fuel hose with its tap", "Air filter")
# The last two wait for tank and carburettor on an engine that has them.
TAKEN_OFF = (
    "Filter base with the breather hose",
    "Governor rod and springs",
    "Throttle lever and plate",
    "Insulator block",
)


def test_what_an_engine_lacks_is_never_missed_and_what_was_off_is_put_back(
    page: Page, browser: Browser, tmp_path: Path
) -> None:
    student = Student(page, machine_file("pump-engine"))
    student.starts("Bench 28")
    _tick(page, "Parts this very machine does not have", ABSENT)
    _tick(page, "Parts that are off already", OFF_ALREADY)
    student.begins()
    assert {tag.split("\n")[1] for tag in student.tags()} == set(OFF_ALREADY)
    assert student.off_by_the_picture()[0] == len(OFF_ALREADY)
    student.has_signed()
    assert student.open_flags() == []
    for part in TAKEN_OFF:
        student.takes_off(part)
    for part in ABSENT:
        assert part not in page.locator("main").inner_text()
        expect(page.locator("svg title", has_text=f"{part}: not on this one")).to_have_count(1)

    _same_elsewhere(student, browser, tmp_path)

    student.goes_to("Rebuild")
    assert sorted(student.rebuilds()) == sorted([*OFF_ALREADY, *TAKEN_OFF])
    assert student.says_finished() == "The job is finished: nothing is open."


def _tick(page: Page, heading: str, parts: tuple[str, ...]) -> None:
    box = page.locator("details", has_text=heading)
    box.locator("summary").click()
    for part in parts:
        box.get_by_label(part, exact=True).check()


def _same_elsewhere(student: Student, browser: Browser, folder: Path) -> None:
    """The job taken along as one zip and read in at another workshop shows the same picture there."""
    page, bench = student.page, student.page.url
    here = _picture(page)
    page.get_by_role("link", name="Log", exact=True).click()
    with page.expect_download() as download:
        page.get_by_role("link", name="The job as one zip").click()
    download.value.save_as(folder / "job.zip")
    page.goto(bench)
    with Served(folder / "elsewhere") as other:
        there = browser.new_context(base_url=other.address).new_page()
        there.goto("/")
        there.get_by_label("A job’s zip").set_input_files(folder / "job.zip")
        there.get_by_role("button", name="Read it in").click()
        there.get_by_role("heading", name="Bench 28", level=1).wait_for()
        assert _picture(there) == here
        there.goto("/")
        there.get_by_label("A job’s zip").set_input_files(folder / "job.zip")
        there.get_by_role("button", name="Read it in").click()
        expect(there.get_by_role("alert")).to_contain_text("This job is here already")
        there.context.close()


# What other benches got wrong is of this workshop, and does not travel with the job.
WORDS = """() => {
    const live = document.getElementById("live").cloneNode(true);
    for (const one of live.querySelectorAll(".mind")) one.remove();
    return live.textContent;
}"""


def _picture(page: Page) -> list[str]:
    """All a bench page shows: sentence by sentence, and what the ring picture says of each part."""
    seen = " ".join(page.evaluate(WORDS).split())
    # Its number among the jobs on this machine is the workshop's own.
    return [re.sub(r"case no\. \d+", "case", seen), *page.locator("svg title").all_text_contents()]
