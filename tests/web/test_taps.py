"""The pump engine stripped and built back in a browser with taps only: honestly, and with planted mistakes."""

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING
from urllib.request import urlopen

import pytest

from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger, replay
from tests.web.hands import Hands, Slips
from tests.web.honest import machine
from tests.web.serving import Served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

BENCH = "/bench/pump-engine-1"
PART = "/part/pump-engine-1"


@pytest.fixture
def page(browser: "Browser", tmp_path_factory: pytest.TempPathFactory) -> "Iterator[Page]":
    """A tablet's window on a workshop of this test's own; nothing may go wrong in the page's own programs."""
    served = Served(tmp_path_factory.mktemp("workshop"))
    context = browser.new_context(base_url=served.address, viewport={"width": 1024, "height": 768})
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    yield page
    context.close()
    served.stop()
    assert faults == []


def _ledger(page: "Page") -> Ledger:
    """What the exported log says, replayed apart from the web."""
    address = page.url.split("/", 3)
    with urlopen(f"{address[0]}//{address[2]}/log/pump-engine-1/log.jsonl", timeout=10) as lines:
        return replay(Plan(machine("pump-engine")), [json.loads(line) for line in lines])


def test_taps_alone_strip_the_pump_engine_and_build_it_back_and_finish_is_granted(page: "Page") -> None:
    hands = Hands(page, machine("pump-engine"))
    hands.strip(BENCH)
    assert page.get_by_text("Nothing is left to come off.").is_visible()
    hands.rebuild(BENCH)
    page.goto(f"{BENCH}/finish")
    hands.tap(page.get_by_role("button", name="Finish"))
    page.get_by_text("The job is finished: nothing is open.").wait_for()
    ledger = _ledger(page)
    assert ledger.state.finished
    assert len(ledger.state.flags) == 0
    assert hands.taps == len(ledger.entries)


def test_planted_mistakes_are_each_flagged_and_finish_is_refused_with_the_list(page: "Page") -> None:
    slips = Slips(
        not_noted={"governor-arm"},
        not_renewed={"head-gasket"},
        answered_wrong={"flywheel"},
        not_tightened={"head"},
        wrong_unit={"rod-cap"},
        not_set={"lash-inlet"},
        not_signed={"timing"},
        by_hand={"follower"},
    )
    hands = Hands(page, machine("pump-engine"), slips)
    page.goto(f"{BENCH}/strip")
    hands.tap(page.get_by_role("button", name="Off — bag 1", exact=True))
    hands.tap(page.get_by_role("button", name="I looked, and I sign"))
    page.goto(f"{PART}/exhaust")
    hands.tap(page.get_by_role("button", name="It came off all the same"))
    hands.strip(BENCH)
    page.goto(f"{BENCH}/measure")
    page.get_by_label("Valve springs, free length, inlet, mm").fill("3.41")
    hands.tap(page.locator("#check-valve-spring-length button", has_text="Write these down"))
    page.goto(f"{BENCH}/finish")
    page.get_by_label("M6x10").first.fill("3")
    hands.tap(page.get_by_role("button", name="Write the count down"))

    hands.rebuild(BENCH)
    _swap_the_followers(hands)
    hands.rebuild(BENCH)
    page.goto(f"{BENCH}/finish")
    hands.tap(page.get_by_role("button", name="Finish"))

    ledger = _ledger(page)
    assert not ledger.state.finished
    assert {(flag.kind, flag.part) for flag in ledger.state.flags} == {
        ("unrecorded", "governor-arm"),
        ("out-of-turn", "exhaust"),
        ("odd-reading", "valve-spring"),
        ("short", "heat-shield"),
        ("spent", "head-gasket"),
        ("wrong-way", "flywheel"),
        ("wrong-torque", "rod-cap"),
        ("loose", "head"),
        ("unset", "rocker-cover"),
        ("unsigned", "side-cover"),
        ("wrong-place", "follower"),
    }
    still_open = ledger.state.flags.open()
    page.get_by_text(f"Not right yet: {len(still_open)}").wait_for()
    listed = page.locator("#flags").inner_text()
    for flag in still_open:
        assert flag.text in listed


def _swap_the_followers(hands: Hands) -> None:
    """Each follower goes on out of the other's bag, as said on its page."""
    page = hands.page
    page.goto(f"{PART}/follower")
    bags = [page.locator("input[name=bag]").nth(number).input_value() for number in (0, 1)]
    for bag in reversed(bags):
        form = page.locator("form:has(input[name=bag])", has=page.locator("input[name=kind][value=on]")).first
        form.locator("input[name=bag]").fill(bag)
        hands.tap(form.locator("button"))
