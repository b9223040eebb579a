"""People at a bench, with a finger on a tablet: they read the page, tap and type, and know the machine."""

import re
import tomllib
from typing import Any

from playwright.sync_api import Locator, Page

from tests.conftest import ROOT

BIG_BUTTON = re.compile(r"^(Off|On)\b")


def machine_file(name: str) -> dict[str, Any]:
    """An example machine as its file says it, read without this project's reader."""
    return tomllib.loads((ROOT / "examples" / f"{name}.toml").read_text("utf-8"))


def exactly(text: str) -> re.Pattern[str]:
    """This text and nothing else."""
    return re.compile(rf"^\s*{re.escape(text)}\s*$")


class Student:
    """Somebody who strips and rebuilds honestly: notes, signs, answers, settings, passes, all of it right."""

    def __init__(self, page: Page, machine: dict[str, Any]) -> None:
        self.page = page
        self.name = machine["machine"]["name"]
        self.right = {
            (part["name"], ask["question"]): ask["right"] for part in machine["part"] for ask in part.get("ask", ())
        }
        self.settings = {setting["name"]: setting for setting in machine["setting"]}
        self.checks = {check["name"]: check for check in machine["check"]}
        self.was_set: set[str] = set()
        self.presses = 0

    # -- what this person decides; a careless one decides otherwise --------------------------------------------------

    def answer(self, part: str, question: str) -> str:
        """Which answer to choose when this part (a piece's name begins with its part's) is fitted."""
        return next(right for (name, asked), right in self.right.items() if part.startswith(name) and asked == question)

    def notes(self, part: str, label: str) -> bool:
        """Whether to note what is asked for before the part comes off."""
        return True

    def renews(self, part: str) -> bool:
        """Whether to bring a new one where the old one is not to be fitted again."""
        return True

    def tightens(self, part: str, turn: str) -> bool:
        """Whether to do this pass."""
        return True

    def torque(self, part: str, turn: str) -> tuple[str, str] | None:
        """What is on the wrench and in which unit, where it is not what the page says."""
        return None

    def signs(self, sign: str) -> bool:
        """Whether the instructor is fetched, and signs."""
        return True

    def set_to(self, setting: dict[str, Any]) -> str:
        """What to set it to: the middle of its range, or the right answer."""
        if "range" in setting:
            return f"{sum(setting['range']) / 2:g}"
        return str(setting["right"])

    def reads(self, check: dict[str, Any], label: str) -> str:
        """What the instrument shows: the middle of what is new."""
        return f"{sum(check['new']) / 2:.3f}"

    # -- finger on glass ---------------------------------------------------------------------------------------------

    def press(self, button: Locator) -> str:
        """Tap, wait until the page is drawn anew, and read what it says was done."""
        before = self.page.locator("main").element_handle()
        button.click()
        before.wait_for_element_state("hidden")
        self.presses += 1
        return self.said()

    def press_and_load(self, button: Locator) -> None:
        """Tap where no script draws the page anew: the browser loads it."""
        with self.page.expect_navigation():
            button.click()
        self.presses += 1

    def said(self) -> str:
        """The sentence at the top about the last entry."""
        return self.page.get_by_role("main").get_by_role("status").inner_text()

    def starts(self, bench: str) -> None:
        """From the front page: a new job at this bench."""
        self.page.goto("/")
        here = self.page.locator(".card").filter(has=self.page.get_by_role("heading", name=self.name, exact=True))
        here.get_by_role("link", name="Start a job on one").click()
        self.page.get_by_label("Bench", exact=True).fill(bench)

    def begins(self) -> None:
        """Sends the form of a new job."""
        self.page.get_by_role("button", name="Start at this bench").click()
        self.page.get_by_role("heading", name="Can come off now").wait_for()

    def goes_to(self, stage: str) -> None:
        """A tap on one of the stages along the top."""
        stages = self.page.get_by_role("navigation", name="Stages")
        stages.get_by_role("link", name=stage).click()
        stages.locator("[aria-current=page]", has_text=stage).wait_for()

    def card(self, title: str) -> Locator:
        """The card of a move, opened."""
        title_line = self.page.locator("summary").filter(has=self.page.locator("b", has_text=exactly(title)))
        card = title_line.locator("xpath=..")
        if card.get_attribute("open") is None:
            title_line.click()
        return card

    def box(self, title: str) -> Locator:
        """The box under this heading."""
        return self.page.locator("section.card").filter(has=self.page.locator("h3", has_text=exactly(title)))

    def tags(self) -> list[str]:
        """What the tags in the row of bags say, as they hang."""
        return self.page.get_by_role("group", name="The bags").get_by_role("link").all_inner_texts()

    def off_by_the_picture(self) -> tuple[int, int]:
        """By the ring picture's own words: how many parts are off, and how many may move now."""
        said = self.page.get_by_role("img", name=re.compile(r"\d+ of \d+ off")).get_attribute("aria-label") or ""
        off, _, may = map(int, re.findall(r"\d+", said))
        return off, may

    def first_card(self) -> str:
        """The part whose card is the first on the page."""
        return self.page.locator("details:has(.act) > summary > b").first.inner_text()

    def open_card(self) -> str:
        """The part whose card is open."""
        return self.page.locator("details[open]:has(.act) > summary > b").inner_text()

    # -- strip -------------------------------------------------------------------------------------------------------

    def takes_off(self, title: str) -> str:
        """One part off by its card: what is to be noted is noted first."""
        card = self.card(title)
        for form in card.locator("form", has=self.page.get_by_role("button", name="Note it")).all():
            if self.notes(title, form.locator("label").inner_text()):
                form.get_by_role("textbox").fill("as on sketch 3, invented")
                self.press(form.get_by_role("button", name="Note it"))
                return self.takes_off(title)
        return self.press(card.get_by_role("button", name=BIG_BUTTON))

    def strips(self, until: str = "") -> list[str]:
        """Part after part by the first card on the page, until nothing is left or this part is next. What it took."""
        taken = []
        while True:
            self.has_signed()
            cards = self.page.get_by_role("region", name="Can come off now").locator("details:has(.act)")
            if not cards.count():
                return taken
            title = cards.first.locator("summary > b").inner_text()
            if title == until:
                return taken
            self.takes_off(title)
            taken.append(title)

    def has_signed(self) -> None:
        """The instructor signs what the moves of now wait for."""
        asked = self.page.get_by_role("region", name="To be signed").get_by_role("heading", level=3)
        for sign in asked.all_inner_texts():
            if self.signs(sign):
                self.press(self.box(sign).get_by_role("button", name="I looked, and I sign"))

    # -- measure -----------------------------------------------------------------------------------------------------

    def measures(self, check: str) -> None:
        """From the Measure stage to one check and back: a reading into every place of it, written down."""
        self.opens_size(check)
        for field in self.page.locator("input[data-reads]").all():
            label = self.page.locator(f"label[for='{field.get_attribute('id')}']").inner_text()
            field.fill(self.reads(self.checks[check], label))
        self.press(self.page.get_by_role("button", name="Write these down"))
        self.page.get_by_role("link", name="All sizes").click()
        self.page.get_by_role("navigation", name="Stages").wait_for()

    def size_row(self, check: str) -> Locator:
        """The line of one size in the list of the Measure stage."""
        return self.page.locator("a.size-row").filter(has=self.page.locator("b", has_text=exactly(check)))

    def opens_size(self, check: str) -> None:
        """From the list of sizes to the page of one."""
        self.size_row(check).click()
        self.page.get_by_role("heading", level=1, name=check, exact=True).wait_for()

    # -- rebuild -----------------------------------------------------------------------------------------------------

    def fits(self, title: str) -> str:
        """One part on by its card: new things brought, questions answered."""
        card = self.card(title)
        fresh = card.get_by_role("button", name=re.compile("is here$"))
        if fresh.count() and self.renews(title):
            self.press(fresh.first)
            return self.fits(title)
        for question in card.locator("fieldset").all():
            asked = question.locator("legend").inner_text()
            question.get_by_label(self.answer(title, asked), exact=True).check()
        return self.press(card.get_by_role("button", name=BIG_BUTTON))

    def rebuilds(self) -> list[str]:
        """Part after part, last off first; turns, settings and sign-offs as the page asks for them. What it fitted."""
        fitted = []
        while True:
            self.has_tightened()
            self.has_set()
            self.has_signed()
            now = self.page.get_by_role("region", name="Can go on now").locator("details:has(.act)")
            ready = now.filter(has_not_text="Before this,")
            cards = ready if ready.count() else now
            if not cards.count():
                return fitted
            title = cards.first.locator("summary > b").inner_text()
            self.fits(title)
            fitted.append(title)

    def has_tightened(self) -> None:
        """Every pass that is due, the part fitted first first."""
        due = self.page.get_by_role("region", name="To tighten now").locator("details")
        skipped = 0
        while due.count() > skipped:
            card = due.nth(skipped)
            part, turn = card.locator("summary").inner_text().split("\n")
            if not self.tightens(part, turn):
                skipped += 1
                continue
            if card.get_attribute("open") is None:
                card.locator("summary").click()
            self.does_a_pass(card, part, turn)

    def does_a_pass(self, card: Locator, part: str, turn: str) -> None:
        """One pass by its card."""
        otherwise = self.torque(part, turn)
        if otherwise:
            card.get_by_label("Set on the wrench").fill(otherwise[0])
            card.get_by_label("Unit").select_option(otherwise[1])
        self.press(card.get_by_role("button", name="Done"))

    def has_set(self) -> None:
        """What is to be set now, each once."""
        for name in (
            self.page.get_by_role("region", name="To set now").get_by_role("heading", level=3).all_inner_texts()
        ):
            if name in self.was_set:
                continue
            self.was_set.add(name)
            setting = self.settings[name]
            card = self.box(name)
            if "range" in setting:
                card.get_by_role("textbox").fill(self.set_to(setting))
            else:
                card.get_by_label(self.set_to(setting), exact=True).check()
            self.press(card.get_by_role("button", name="It is set"))

    # -- one part's page ---------------------------------------------------------------------------------------------

    def looks_at(self, part: str) -> None:
        """From the bench page to the page of one part, by its card or by the list of those that wait."""
        waits = self.page.locator("#waits")
        if waits.count() and waits.get_attribute("open") is None:
            waits.locator("> summary").click()
        self.card(part).get_by_role("link", name=f"More about {part}", exact=True).click()
        self.page.get_by_role("heading", name=re.sub(r" \(.*", "", part), level=1).wait_for()

    def says_it_moved(self, button: str, piece: str = "", bag: str = "") -> None:
        """On a part's page: it came off, or went on, though that was not its turn, or out of another bag."""
        form = (
            self.page.get_by_role("region", name="Say what happened")
            .locator("form")
            .filter(has=self.page.get_by_label(f"{piece}: bag" if piece else "Bag", exact=True))
        )
        if bag:
            form.get_by_role("textbox").first.fill(bag)
        self.press_and_load(form.get_by_role("button", name=button))

    def goes_back(self) -> None:
        """From a part's page to the bench."""
        self.page.get_by_role("link", name="Back to the bench").click()
        self.page.get_by_role("navigation", name="Stages").wait_for()

    # -- count and finish --------------------------------------------------------------------------------------------

    def counts(self, bag_of: str, thing: str, how_many: int) -> None:
        """Counts one thing in the bag of a part, and writes it down."""
        self.goes_to("Finish")
        bag = self.page.get_by_role("group", name=re.compile(rf"^Bag \d+: {re.escape(bag_of)}$"))
        bag.get_by_label(thing, exact=True).fill(str(how_many))
        self.press(self.page.get_by_role("button", name="Write the count down"))

    def open_flags(self) -> list[str]:
        """What the page says is not right yet, each as one text: how bad, what, how to mend it."""
        box = self.page.locator("details").filter(has=self.page.locator("summary", has_text="Not right yet"))
        if not box.count():
            return []
        if box.get_attribute("open") is None:
            box.locator("> summary").click()
        return [" ".join(flag.split()) for flag in box.locator("> ul > li").all_inner_texts()]

    def says_finished(self) -> str:
        """Presses Finish; what the page answers in words."""
        self.goes_to("Finish")
        self.press(self.page.get_by_role("button", name="Finish", exact=True))
        return self.page.get_by_role("region", name="Count and finish").locator(".card p").first.inner_text()
