"""Practice at drawn instruments: on a phone, told why, kept for the class's record."""

import re
from collections.abc import Iterator
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from fingertight.measure.scales.kinds import KINDS
from fingertight.measure.scales.misread import setting_for
from tests.journeys.served import Served

MICROMETER = KINDS["micrometer-0.01"]


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    yield context.new_page()
    context.close()


def seed_of(page: Page) -> int:
    return int(parse_qs(urlsplit(page.url).query)["seed"][0])


def test_a_reading_is_practised_on_a_phone_told_why_and_kept(phone: Page, served: Served) -> None:
    phone.goto(f"{served.address}/exercise")
    phone.get_by_role("link", name="Micrometer, 0.01 mm").click()
    set_to = setting_for(seed_of(phone), MICROMETER)
    expect(phone.get_by_role("img")).to_have_attribute("aria-label", "Micrometer, 0.01 mm, to be read by its lines.")
    phone.get_by_label("What does it show?").fill("seventeen")
    phone.get_by_label("Your mark").fill("Ada")
    phone.get_by_role("button", name="That is what I read").click()
    expect(phone.get_by_role("alert")).to_contain_text("“seventeen” is not a number")
    phone.get_by_label("What does it show?").fill(f"{set_to - 0.5:.2f}".replace(".", ","))
    phone.get_by_role("button", name="That is what I read").click()
    expect(phone.get_by_role("status")).to_contain_text(f"0.5 mm too little: it is set to {set_to:.2f} mm.")
    expect(phone.get_by_role("status")).to_contain_text("One turn was missed or counted twice")
    phone.get_by_role("link", name="The next one").click()
    set_to = setting_for(seed_of(phone), MICROMETER)
    expect(phone.get_by_label("Your mark")).to_have_value("Ada")
    phone.get_by_label("What does it show?").fill(f"{set_to:.2f}")
    phone.get_by_role("button", name="That is what I read").click()
    expect(phone.get_by_role("status")).to_contain_text(f"Right: {set_to:.2f} mm.")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
    phone.get_by_role("link", name="How the class gets on").click()
    expect(
        phone.get_by_text("1 of 2 readings were right to the line. What goes wrong most: a turn missed")
    ).to_be_visible()
    expect(phone.get_by_role("row", name=re.compile(r"Ada Micrometer, 0.01 mm 2 1 of 2 a turn missed"))).to_be_visible()


def test_every_instrument_can_be_practised_at_without_scrolling_sideways(phone: Page, served: Served) -> None:
    for name in KINDS:
        phone.goto(f"{served.address}/exercise/{name}?seed=11")
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360, name
        smallest = phone.evaluate(
            "Math.min(...[...document.querySelectorAll('svg.drawing text')].map(t => t.getBoundingClientRect().height))"
        )
        assert smallest >= 10, name


def test_an_instrument_that_is_not_drawn_is_not_there(phone: Page, served: Served) -> None:
    answer = phone.goto(f"{served.address}/exercise/tape")
    assert answer is not None
    assert answer.status == 404


def test_the_picture_of_a_typed_value_is_had_for_the_asking(phone: Page, served: Served) -> None:
    asked = "/instrument?kind=micrometer&unit=mm&resolution=0.01&value=67,96"
    drawn = phone.request.get(f"{served.address}{asked}").text()
    assert "line 46 of the thimble" in drawn
    assert phone.request.get(f"{served.address}/instrument?kind=micrometer&resolution=x&value=67").text() == ""
    assert phone.request.get(f"{served.address}/instrument?kind=feeler&resolution=0.01&value=0.2").text() == ""
