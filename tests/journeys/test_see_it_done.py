"""A film is kept on the laptop, its captions are dragged right, and a student sees a move done from the bench."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.journeys.served import Served
from tests.journeys.test_film_of_a_recording import film

CAPTIONS = """WEBVTT

00:00:08.000 --> 00:00:12.000
First the spark plug lead comes off.

00:00:40.000 --> 00:00:46.000
Now undo the clips and pull off the fuel hose.

00:01:30.000 --> 00:01:36.000
Then lift off the fuel tank.
"""
KEEP = "Keep what is ticked or changed"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workshop of this file's own, for it changes one, with a film that was copied into its folder by hand."""
    home: Path = tmp_path_factory.mktemp("filmed")
    (home / "films").mkdir()
    (home / "films" / "older film.webm").write_bytes(film())
    with Served(home) as server:
        yield server


def test_captions_are_dragged_right_and_the_bench_plays_one_move_to_its_end(page: Page) -> None:
    page.goto("/machine/pump-engine/film")
    page.get_by_role("button", name="This is its film").click()
    page.set_input_files("#captions", {"name": "older.vtt", "mimeType": "text/vtt", "buffer": CAPTIONS.encode()})
    page.get_by_role("button", name="Look for moves in them").click()
    expect(page.get_by_text("the captions propose 3.")).to_be_visible()
    expect(page.locator("#film")).to_have_js_property("readyState", 4)
    _is_in_order_for_everybody(page)

    hose = page.locator("#at-off-fuel-hose")
    box = page.locator("#line").bounding_box() or {}
    length_s = page.locator("#film").evaluate("(film) => film.duration")
    across = box["x"] + box["width"] * _seconds(hose.input_value()) / length_s  # the line is as long as the film
    page.mouse.move(across, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 4, box["y"] + 20, steps=6)
    page.mouse.up()
    expect(page.locator("#row-off-fuel-hose [data-unkept]")).to_be_visible()
    assert abs(_seconds(hose.input_value()) - length_s / 4) < 0.5
    assert abs(page.locator("#film").evaluate("(film) => film.currentTime") - 60) < 1

    page.locator("#film").evaluate("(film) => { film.currentTime = 98; }")
    page.locator("#row-off-fuel-tank").get_by_role("button", name="Here").click()
    expect(page.locator("#at-off-fuel-tank")).to_have_value("1:38")
    page.get_by_role("button", name=KEEP).click()
    expect(page.get_by_text("3 moves in the film’s log. Students see older film.webm")).to_be_visible()

    page.goto("/bench/pump-engine-1/strip")
    link = page.get_by_role("link", name="See it done").first
    assert (link.bounding_box() or {"height": 0})["height"] >= 56
    link.click()
    page.get_by_role("link", name="Then: Fuel hose with its tap off").click()
    seen = page.locator("#seen")
    expect(seen).to_have_js_property("readyState", 4)
    assert 11 < seen.evaluate("(film) => film.currentTime") < 15
    _is_in_order_for_everybody(page)
    seen.evaluate("(film) => { film.currentTime = 59; return film.play(); }")
    expect(seen).to_have_js_property("paused", True)
    assert 59.5 < seen.evaluate("(film) => film.currentTime") < 61.5, "it stops at the end of its chapter"
    page.get_by_role("button", name="Once more").click()
    expect(seen).to_have_js_property("paused", False)
    assert seen.evaluate("(film) => film.currentTime") < 15
    page.get_by_role("link", name="Back to the bench").click()
    expect(page).to_have_url(f"{page.url.split('/bench')[0]}/bench/pump-engine-1")


def test_without_javascript_the_address_of_the_film_says_which_piece(browser: Browser, served: Served) -> None:
    context = browser.new_context(base_url=served.address, java_script_enabled=False)
    page = context.new_page()
    page.goto("/machine/pump-engine/film")
    page.fill("#at-off-plug-lead", "0:13")
    page.get_by_role("button", name="Keep what was changed", exact=True).click()
    assert page.locator("#at-off-plug-lead").input_value() == "0:13"
    page.goto("/film/pump-engine?part=plug-lead&way=off&bench=pump-engine-1")
    assert (page.locator("video").get_attribute("src") or "").endswith("/older%20film.webm#t=0.000,13.000")
    context.close()


def test_a_film_that_is_shorter_than_its_captions_is_said_to_be(page: Page) -> None:
    page.goto("/machine/pump-engine/film")
    page.get_by_role("button", name="Begin with another film").click()
    page.get_by_role("button", name="This is its film").click()
    late = CAPTIONS.replace("00:01:30", "00:09:30").replace("00:01:36", "00:09:36")
    page.set_input_files("#captions", {"name": "later.vtt", "mimeType": "text/vtt", "buffer": late.encode()})
    page.get_by_role("button", name="Look for moves in them").click()
    expect(page.get_by_text("The film ends at 4:0")).to_contain_text("moves or captions stand until 9:36")


def _seconds(typed: str) -> float:
    minutes, seconds = typed.split(":")
    return 60 * int(minutes) + float(seconds)


def _is_in_order_for_everybody(page: Page) -> None:
    """Nothing scrolls sideways from a phone to a tablet, and axe finds nothing."""
    size = page.viewport_size
    for width in (360, 390, 768, 1024):
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    page.set_viewport_size(size or {"width": 1024, "height": 768})
