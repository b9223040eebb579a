"""A pair of hands on a tablet's screen: they tap what the bench page shows, honestly or with planted slips."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from fingertight.anatomy.model import Anatomy

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

MOST_TAPS = 1000
KINDS = ("tighten", "set", "sign", "note", "renew", "off", "on")  # what is done first when several are shown
FORMS = """() => [...document.querySelectorAll("main form[data-tap]")].map((form, number) =>
  ({number, ...Object.fromEntries(new FormData(form))}))"""


@dataclass
class Slips:
    """What these hands forget or do wrong: ids of parts, settings and sign-offs."""

    not_noted: set[str] = field(default_factory=set)
    not_renewed: set[str] = field(default_factory=set)
    answered_wrong: set[str] = field(default_factory=set)
    not_tightened: set[str] = field(default_factory=set)
    wrong_unit: set[str] = field(default_factory=set)
    not_set: set[str] = field(default_factory=set)
    not_signed: set[str] = field(default_factory=set)
    by_hand: set[str] = field(default_factory=set)

    def forget(self, form: dict[str, Any]) -> bool:
        """Whether these hands never press this form."""
        forgotten = {
            "note": self.not_noted,
            "renew": self.not_renewed,
            "tighten": self.not_tightened,
            "set": self.not_set,
            "sign": self.not_signed,
            "on": self.by_hand,
        }
        names = [str(form.get(name)) for name in ("part", "setting", "sign") if form.get(name)]
        return any(name in forgotten.get(form["kind"], ()) for name in names)


class Hands:
    """Taps until nothing is left to tap."""

    def __init__(self, page: "Page", anatomy: Anatomy, slips: Slips | None = None) -> None:
        self.page, self.anatomy, self.slips = page, anatomy, slips or Slips()
        self.taps = 0

    def strip(self, bench: str) -> None:
        """Take everything off."""
        self._until_done(f"{bench}/strip", ("sign", "note", "off"))

    def rebuild(self, bench: str) -> None:
        """Put everything back."""
        self._until_done(f"{bench}/rebuild", ("tighten", "set", "sign", "renew", "on"))

    def tap(self, button: "Locator") -> None:
        """Press, and wait until the page shows the answer."""
        self.taps += 1
        if not button.evaluate("one => 'tap' in one.form.dataset && !!one.closest('#live')"):
            with self.page.expect_navigation():
                button.click()
            return
        with self.page.expect_response(lambda answer: answer.request.method == "POST") as answered:
            button.click()
        assert answered.value.status == 200, self.page.locator("main").inner_text()[:400]
        self.page.locator("[aria-busy]").first.wait_for(state="detached")

    def _until_done(self, path: str, kinds: tuple[str, ...]) -> None:
        self.page.goto(path)
        for _ in range(MOST_TAPS):
            forms = [form for form in self.page.evaluate(FORMS) if form.get("kind") in kinds]
            wanted = [form for form in forms if not self.slips.forget(form)]
            if not wanted:
                return
            self._do(min(wanted, key=lambda form: (kinds.index(form["kind"]), form["number"])))
        raise AssertionError("the work has no end")

    def _do(self, form: dict[str, Any]) -> None:
        shown = self.page.locator("main form[data-tap]").nth(form["number"])
        card = shown.locator("xpath=ancestor::details[1]")
        if card.count() and not card.evaluate("one => one.open"):
            card.locator("summary").first.click()
        for what in ("photo", "wiring"):
            if what in form:
                shown.locator(f"input[name={what}]").fill("as on the sketch")
        if form["kind"] == "set":
            self._adjust(shown, form["setting"])
        if form["kind"] == "on":
            self._answer(shown, form["part"])
        if form["kind"] == "tighten" and form["part"] in self.slips.wrong_unit:
            self.slips.wrong_unit.discard(form["part"])
            shown.locator("select[name=unit]").select_option("lb·ft")
        self.tap(shown.locator("button").first)

    def _adjust(self, shown: "Locator", setting_id: str) -> None:
        setting = self.anatomy.setting_by_id[setting_id]
        if setting.range:
            shown.locator("input[name=value]").fill(f"{sum(setting.range) / 2:.3f}")
        else:
            shown.get_by_label(setting.right, exact=True).check()

    def _answer(self, shown: "Locator", part_id: str) -> None:
        for number, ask in enumerate(self.anatomy.part_by_id[part_id].ask):
            wrong = next(answer for answer in ask.answers if answer != ask.right)
            answer = wrong if part_id in self.slips.answered_wrong else ask.right
            shown.locator(f'input[name="answer-{number}"][value="{answer}"]').check()
