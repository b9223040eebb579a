"""Somebody who has never taught with this program goes from nothing to printed bench cards, and every page leads on."""

from collections.abc import Iterator

import pypdfium2
import pytest
from playwright.sync_api import Browser, Page

from tests.journeys.conftest import PATIENCE_MS, TABLET
from tests.journeys.served import Served

NAMES = "Anouk Invented\nBela Invented\nCira Invented\nDario Invented"
PASSWORD = "three invented words"
FEWER_THAN = 10


class Newcomer:
    """A browser in the hands of somebody new, who presses what a page says comes next, and counts."""

    def __init__(self, page: Page) -> None:
        self.page, self.clicks = page, 0

    def presses(self, words: str) -> None:
        """A link or a button, where it stands alone with these words."""
        found = self.page.get_by_role("link", name=words, exact=True).or_(
            self.page.get_by_role("button", name=words, exact=True)
        )
        found.click()
        self.clicks += 1

    def types(self, **fields: str) -> None:
        """What the form asks for; to type is no click, since Tab leads from field to field."""
        for name, typed in fields.items():
            self.page.locator(f"#{name.replace('_', '-')}").fill(typed)

    def comes_next(self) -> str:
        """What the page says of the next step."""
        return self.page.locator(".next-step .lead").inner_text()

    def prints(self, words: str) -> str:
        """Press what leads to a PDF, and read it."""
        address = self.page.get_by_role("link", name=words, exact=True).first.get_attribute("href") or ""
        self.clicks += 1
        answer = self.page.request.get(address)
        assert (answer.status, answer.headers["content-type"]) == (200, "application/pdf")
        sheets = pypdfium2.PdfDocument(answer.body())
        return "\n".join(sheet.get_textpage().get_text_range() for sheet in sheets)


@pytest.fixture
def window(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A window on a workshop that was started a moment ago."""
    with Served(tmp_path_factory.mktemp("workshop")) as served:
        context = browser.new_context(base_url=served.address, viewport={"width": TABLET[0], "height": TABLET[1]})
        context.set_default_timeout(PATIENCE_MS)
        yield context.new_page()
        context.close()


def sets_up(newcomer: Newcomer) -> None:
    """From the front page to the class and its printed cards, by what each page offers first."""
    newcomer.presses("Set up a class")
    newcomer.types(title="Friday class", benches="2", names=NAMES)
    newcomer.presses("Make this class")
    assert newcomer.comes_next() == (
        "Print the cards that stand on the benches, and the bag labels. Then open lesson 1."
    )
    printed = newcomer.prints("Print the bench cards")
    codes = newcomer.page.locator("h3 .soft").all_inner_texts()
    assert len(codes) == 2
    assert all(code in printed for code in codes)
    assert "Bench 2" in printed


def test_alone_on_the_own_laptop(window: Page) -> None:
    newcomer = Newcomer(window)
    window.goto("/")
    sets_up(newcomer)
    assert newcomer.clicks == 3
    newcomer.presses("Open a lesson")
    newcomer.presses("Open lesson 1")
    assert window.locator(".join-code").inner_text()
    assert newcomer.clicks < FEWER_THAN


def test_as_the_owner_who_adds_an_instructor_who_opens_the_link(window: Page) -> None:
    """Seven presses of the owner, four of who teaches, until the cards are printed."""
    owner = Newcomer(window)
    window.goto("/")
    owner.presses("Who teaches here")
    owner.types(name="Odo")
    owner.presses("Add, and make a link")
    window.locator("#link + p + p a").click()
    owner.clicks += 1
    owner.types(password=PASSWORD, password_again=PASSWORD, number="5937", again="5937")
    owner.presses("Keep both and sign in")
    owner.presses("Who teaches here")
    owner.types(name="Wim")
    window.locator("#role").select_option("instructor")
    owner.clicks += 1
    owner.presses("Add, and make a link")
    link = window.locator("#link + p + p a").get_attribute("href") or ""
    assert owner.clicks < FEWER_THAN
    own = window.context.browser
    assert own is not None
    page = own.new_page(base_url=link.partition("/teach")[0])
    page.set_default_timeout(PATIENCE_MS)
    newcomer = Newcomer(page)
    page.goto(link)
    newcomer.types(password=PASSWORD, password_again=PASSWORD, number="4826", again="4826")
    newcomer.presses("Keep both and sign in")
    sets_up(newcomer)
    assert newcomer.clicks == 4
    page.close()


def test_an_instructor_is_not_added_before_there_is_an_owner(window: Page) -> None:
    window.goto("/people")
    assert window.locator("#role").input_value() == "owner"
    newcomer = Newcomer(window)
    newcomer.types(name="Wim")
    window.locator("#role").select_option("instructor")
    newcomer.presses("Add, and make a link")
    assert "Nobody owns this workshop yet" in window.locator("[role=alert]").inner_text()
    window.goto("/class/new")
    assert window.locator("#title").is_visible()
