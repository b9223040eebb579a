"""A teacher strips the winch in front of the class and taps what comes off; the questions are answered from the winch;
the machine that comes out moves as the written one does. All in Chromium, no file is written by hand."""

import random
import re
import tomllib
from typing import Any

from playwright.sync_api import Page, expect

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.order import Moves, Rules, strip_order
from tests.conftest import ROOT

WINCH = ROOT / "examples" / "hand-winch.toml"
MOST_QUESTIONS = 400
FIRST_QUESTIONS = 10
WALKS = 60


def winch() -> Anatomy:
    """The written winch."""
    return Anatomy.model_validate(tomllib.loads(WINCH.read_text("utf-8")))


def records(page: Page, anatomy: Anatomy) -> str:
    """Every part by its name and its first fasteners, in one order of removal; the address of the recording."""
    page.goto("/record")
    page.fill("#name", "Winch of the class")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.fill("#second", "0:12")
    page.get_by_role("button", name="Make the mark").click()
    for part_id in strip_order(anatomy).order or ():
        part = anatomy.part_by_id[part_id]
        page.fill("#name", part.title)
        if part.held_by:
            held = part.held_by[0]
            page.fill("#new-what-0", held.thread or held.kind or "")
            page.fill("#new-length-0", f"{held.length:g}" if held.length else "")
            page.fill("#new-count-0", str(held.how_many))
        page.get_by_role("button", name="It is off", exact=True).click()
        expect(page.locator("#name")).to_have_value("")
    for part in anatomy.parts:
        if part.stays:
            page.fill("#stays", part.title)
            page.get_by_role("button", name="It stays", exact=True).click()
    assert f"{len(strip_order(anatomy).order or ())} parts off." in page.locator("[role=status]").first.inner_text()
    return page.url.partition("#")[0]


def could(anatomy: Anatomy, part: str, on: list[str]) -> bool:
    """Whether the written winch lets a part come off with these on, everything else off as far as it will come."""
    moves = Moves(Rules.of(anatomy))
    while free := [one for one in moves.may_come_off() if one not in on and one != part]:
        for one in free:
            moves.took(one)
    return part in moves.may_come_off()


def ticks(page: Page, anatomy: Anatomy) -> int:
    """What is in the way of each part, as somebody does who knows the winch; how many presses it took."""
    ids, presses = {part.title: part.id for part in anatomy.parts}, 0
    while ": what had to be off before it?" in (question := page.locator("#question").inner_text()):
        title = question.removesuffix(": what had to be off before it?")
        part = anatomy.part_by_id[ids[title]]
        for place, way in enumerate(part.ways or ((),)):
            there = {str(one.get_attribute("value")) for one in page.locator("input[name=ticked]").all()}
            direct = [anatomy.part_by_id[one].title for one in (*part.behind, *way)]
            for one in set(direct) & there:
                page.locator(f"label.tick:has(input[value='{one}'])").click()
            last = place == len(part.ways or ((),)) - 1
            said = "These, or else" if not last else "That is every way" if place else "Only these"
            page.get_by_role("button", name=said).click()
            expect(page.locator("#question")).not_to_have_text(question)
            question = page.locator("#question").inner_text()
            presses += len(direct) + 1
        assert presses < MOST_QUESTIONS
    return presses


def answers(page: Page, anatomy: Anatomy, most: int = MOST_QUESTIONS) -> int:
    """Every question, as somebody does who knows the winch; how many there were."""
    ids = {part.title: part.id for part in anatomy.parts}
    asked = 0
    while (question := page.locator("#question").inner_text()) != "Nothing is left to ask":
        part = page.locator("input[name=part]").first.get_attribute("value") or ""
        on = [str(one.get_attribute("value")) for one in page.locator("input[name=on]").all()]
        said = "Yes, it could" if could(anatomy, ids[part], [ids[one] for one in on]) else "No"
        page.get_by_role("button", name=said, exact=True).click()
        expect(page.locator("#question")).not_to_have_text(question)
        asked += 1
        assert asked < MOST_QUESTIONS
        if asked == most:
            break
    return asked


def walk(anatomy: Anatomy, chance: random.Random, names: dict[str, str]) -> list[tuple[set[str], str]]:
    """One strip at random: before each move, what may come off by name, and what was taken."""
    moves, seen = Moves(Rules.of(anatomy)), []
    while free := sorted(moves.may_come_off(), key=lambda part: names[part]):
        part = chance.choice(free)
        seen.append(({names[one] for one in free}, names[part]))
        moves.took(part)
    return seen


def test_the_winch_recorded_by_taps_moves_as_the_written_one_does(page: Page) -> None:
    anatomy = winch()
    recording = records(page, anatomy)
    page.get_by_role("link", name="Answer a few questions").click()
    asked = answers(page, anatomy, FIRST_QUESTIONS)
    page.goto(f"{recording}/ticks")
    presses = ticks(page, anatomy)
    page.get_by_role("link", name="On to the machine").click()
    asked += answers(page, anatomy)
    page.get_by_role("link", name="Ask about that too").click()
    expect(page.locator("#question")).not_to_contain_text("Does a part come off in more than one way")
    about_ways = answers(page, anatomy)
    parts = len(strip_order(anatomy).order or ())
    print(f"{parts} parts: {asked} questions, {presses} presses of ticks, {about_ways} questions about ways")
    assert presses <= 3 * parts
    assert asked + presses + about_ways < parts * (parts - 1) / 2, "fewer than there are pairs"
    page.get_by_role("button", name="Make the machine of what is known").click()
    page.wait_for_url("**/machine/winch-of-the-class")
    text = page.request.get("/machine/winch-of-the-class/anatomy.toml").text()
    found = read(text).anatomy
    assert found is not None
    written, learned = ({part.id: part.title for part in one.parts} for one in (anatomy, found))
    for seed in range(WALKS):
        assert walk(anatomy, random.Random(seed), written) == walk(found, random.Random(seed), learned)
    first = anatomy.part_by_id[(strip_order(anatomy).order or ())[0]]
    again = found.part_by_id[next(part for part, title in learned.items() if title == first.title)]
    assert [one.counted_as for one in again.held_by] == [one.counted_as for one in first.held_by[:1]]
    page.goto(recording)
    assert re.search(r"film 0:1\d", page.locator(".card summary").last.inner_text() + page.locator("main").inner_text())


def test_what_is_wrong_is_said_with_what_was_typed_still_there_and_nothing_is_lost(page: Page) -> None:
    page.goto("/record")
    page.fill("#name", "Another one")
    page.get_by_role("button", name="Begin", exact=True).click()
    typed: list[tuple[dict[str, Any], str]] = [
        ({"name": "Cover", "new-what-0": "banana"}, "“banana” is no thread"),
        ({"name": "Cover", "new-length-0": "long"}, "“long” is not a number"),
        ({"name": "Cover", "new-count-0": "2.5"}, "is no number of pieces"),
    ]
    for fields, sentence in typed:
        for field, value in fields.items():
            page.fill(f"#{field}", value)
        page.get_by_role("button", name="It is off", exact=True).click()
        assert sentence in page.locator("[role=alert]").inner_text()
        assert page.input_value("#name") == "Cover"
        for field in fields:
            page.fill(f"#{field}", "")
    page.fill("#name", "Cover")
    page.get_by_role("button", name="It is off", exact=True).click()
    page.fill("#name", "cover")
    page.get_by_role("button", name="It is off", exact=True).click()
    assert "Cover was recorded before." in page.locator("[role=alert]").inner_text()
    page.locator("summary", has_text="Cover").click()
    page.get_by_role("button", name="Take it back: Cover").click()
    assert "Taken back: Cover." in page.locator("main").inner_text()
