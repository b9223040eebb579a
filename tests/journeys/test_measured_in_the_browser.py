"""The measure stage of the pump engine: bores good, too close, worn and read in inches; order list, refit, papers."""

import json
import re
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Locator, Page, Request, expect

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.cards.measure.sheet import measuring_sheet
from fingertight.cli.frame import answer
from fingertight.ledger.entry import read_entry
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from tests.conftest import ROOT
from tests.journeys.people import Student, machine_file

# Each row along and across the crank: new 68.000 to 68.015, worn past 68.165, out of round and taper up to 0.05 mm.
GOOD = ("68.05", "68,06", "68.04", "68.05", "68.03", "68.04")
CLOSE = ("68.15", "68.16 68.16 68.17", "68.14", "68.15", "68.13", "68.14")
WORN = ("68.20", "68.21", "68.18", "68.19", "68.17", "68.18")


@pytest.fixture
def student(page: Page) -> Student:
    """Somebody at a bench with an engine that is all in pieces, at the Measure stage."""
    student = Student(page, machine_file("pump-engine"))
    student.starts("Bench 41")
    page.locator("#offs > summary").click()
    for tick in page.locator("input[name=off]").all():
        tick.check()
    student.begins()
    student.goes_to("Measure")
    return student


def test_bores_good_too_close_worn_and_in_inches_each_say_so(student: Student, tmp_path: Path) -> None:
    page = student.page
    student.opens_size("Cylinder bore")
    _reads(student, GOOD)
    verdict = page.locator(".verdict").first
    expect(verdict).to_have_text("Good: 0.105 mm inside the limit.")
    expect(page.get_by_text("The chance that it is worn all the same: less than 1 in 10,000.")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("^A bore cut open"))).to_have_attribute(
        "aria-label", re.compile("6 bottom, across the crank, read")
    )

    _reads(student, CLOSE)
    expect(verdict).to_contain_text("Too close to call: ")
    expect(page.get_by_text("Called good, it would be worn")).to_be_visible()
    expect(page.get_by_text(re.compile("would settle it"))).to_be_visible()
    page.locator("#budget > summary").click()
    for cause in ("reading to the nearest step", "error of the instrument", "scatter of the repeats"):
        expect(page.locator("#budget").get_by_role("cell", name=re.compile(cause)).first).to_be_visible()
    page.locator("#ways-to-decide > summary").click()
    expect(page.locator("#ways-to-decide")).to_contain_text("ISO 14253-1:2017")

    _reads(student, ("", "", "2.678", "", "", ""))
    flag = page.locator(".warnbox", has_text="Was it read in inches? Then it is 68.0212 mm. Read again.")
    expect(flag).to_be_visible()
    expect(page.locator("#value-1-0-asks")).to_have_text("Cannot be right: read it again.")
    _reads(student, ("", "", "2.682 in", "", "", ""))
    expect(flag).to_have_count(0)

    _reads(student, WORN)
    expect(verdict).to_have_text("Worn: 0.045 mm past the limit.")
    page.get_by_role("link", name="All sizes").click()
    _order_list_and_papers_agree(student, tmp_path)


def test_the_instrument_is_drawn_while_a_reading_is_typed(student: Student) -> None:
    page = student.page
    student.opens_size("Piston skirt")
    looks = page.locator("#looks")
    expect(looks).to_be_hidden()
    page.locator("#value-0-0").fill("67.93")
    expect(looks.get_by_role("img")).to_have_attribute("aria-label", re.compile("17.5 mm; line 43 of the thimble"))
    page.get_by_label("Read with").select_option("Calliper 150 mm")
    page.locator("#value-0-0").fill("67.94")
    expect(looks.get_by_role("img")).to_have_attribute("aria-label", re.compile("[Vv]ernier"))
    page.locator("#value-0-0").fill("not yet")
    expect(looks).to_be_hidden()


def test_a_worn_part_that_goes_on_is_flagged_until_it_is_renewed_or_set_aside(student: Student) -> None:
    page, slug = student.page, student.page.url.split("/")[4]
    for check, gap in (("Top ring, end gap", "1.05"), ("Second ring, end gap", "0.60 + 0.40")):
        student.opens_size(check)
        _reads(student, (gap,))
        page.get_by_role("link", name="All sizes").click()
    page.locator("#order > summary").click()
    order = page.locator("#order li")
    expect(order.filter(has_text="Top ring, end gap: worn")).to_have_count(1)
    expect(order.filter(has_text="Second ring, end gap: too close to call")).to_contain_text("perhaps")

    _fits(student, f"/part/{slug}/ring-top", "Top ring")
    _fits(student, f"/part/{slug}/ring-second", "Second ring")
    page.goto(f"/bench/{slug}/measure")
    about = [flag for flag in student.open_flags() if "end gap is" in flag]
    assert len(about) == 2
    assert "Top ring went on, but Top ring, end gap is worn." in about[0]
    assert "To mend it: Renew Top ring, or let the instructor decide." in about[0]
    assert "Second ring went on, but Second ring, end gap is too close to call." in about[1]

    # One is taken off again and renewed, the other set aside with a reason: neither is open any more.
    page.goto(f"/part/{slug}/ring-top")
    student.press_and_load(_happened(student).get_by_role("button", name=re.compile("^(Off|It came off)")))
    student.press_and_load(page.get_by_role("button", name="A new one is here"))
    page.goto(f"/bench/{slug}/measure")
    (second,) = [flag for flag in student.open_flags() if "end gap is" in flag]
    assert second.startswith("Stops. Second ring")
    flag = page.locator("li.flag", has_text="Second ring, end gap is too close to call")
    flag.locator("summary").click()
    flag.get_by_role("textbox").fill("New rings come next term, the instructor saw it")
    student.press(flag.get_by_role("button", name="Set it aside"))
    assert not [flag for flag in student.open_flags() if "end gap is" in flag]
    expect(page.locator("#order li", has_text="Top ring, end gap")).to_have_count(0)


def _happened(student: Student) -> Locator:
    return student.page.get_by_role("region", name="Say what happened")


def _fits(student: Student, address: str, title: str) -> None:
    """On a part’s own page: it went on, its questions answered right, whether its turn has come or not."""
    student.page.goto(address)
    for question in _happened(student).locator("fieldset").all():
        asked = question.locator("legend").inner_text()
        question.get_by_label(student.answer(title, asked), exact=True).check()
    student.press_and_load(_happened(student).get_by_role("button", name=re.compile("^(On|It went on)")))


def _reads(student: Student, readings: tuple[str, ...]) -> None:
    """Types what is given into the boxes, one after the other, and writes it down in one go."""
    page, asked = student.page, []

    def is_of_the_press(request: Request) -> bool:
        """Not the look that the page takes every two seconds anyway: that one knows what it has seen."""
        return "/measure/" in request.url and "if-none-match" not in request.headers

    for field, reading in zip(page.locator("input[data-reads]").all(), readings, strict=True):
        field.fill(reading)
    page.on("request", lambda request: asked.append(request.url) if is_of_the_press(request) else None)
    before = page.locator("main").element_handle()
    page.get_by_role("button", name="Write these down").click()
    before.wait_for_element_state("hidden")
    expect(page.locator(".problem")).to_have_count(0)
    assert len(asked) == 1, "from readings to verdict is one round trip"


def _order_list_and_papers_agree(student: Student, folder: Path) -> None:
    """The stage, the sheet and the command say the same: verdicts, what decides, what to order."""
    page, slug = student.page, student.page.url.split("/")[4]
    page.locator("#order > summary").click()
    listed = [" ".join(line.split()) for line in page.locator("#order li b").all_inner_texts()]
    assert "1 × Crankcase with cylinder" in listed
    (folder / "log.jsonl").write_bytes(page.request.get(f"/log/{slug}/log.jsonl").body())
    machine, log = str(ROOT / "examples" / "pump-engine.toml"), str(folder / "log.jsonl")
    assert answer(["measured", machine, log, "-o", str(folder / "sheet.pdf")]) == 1
    typed, served = (folder / "sheet.pdf").read_bytes(), page.request.get(f"/measure/{slug}/sheet.pdf").body()
    plan = Plan(machine_of(Path(machine)))
    card = measuring_sheet(
        Ledger(plan, [read_entry(json.loads(line), plan) for line in Path(log).read_text().splitlines()]).state, ""
    )
    assert [f"{one.count} × {one.name}" for one in card.to_order] == listed
    (bore,) = card.measured
    assert (bore.title, bore.verdict, bore.size_says) == ("Cylinder bore", "worn", "68.21 ± 0.01 mm")
    for pdf in (typed, served):
        words = _words(pdf)
        for said in ("Cylinder bore", "68.21 ± 0.01 mm", "✕ worn", "top, across the crank: 68.21"):
            assert said in words
        for one in card.to_order:
            assert f"{one.count} {one.name}"[:40] in words
        for size in card.still:
            assert size.title in words


def machine_of(file: Path) -> Anatomy:
    """The machine of a file that has no mistakes."""
    anatomy = read(file.read_text("utf-8")).anatomy
    assert anatomy
    return anatomy


def _words(pdf: bytes) -> str:
    """All the words of a PDF, single spaces between them."""
    sheets = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(sheet.get_textpage().get_text_range().split()) for sheet in sheets)
