"""Degree wheel and timing tape, measured on the rendered page: every mark where it belongs, at its true size."""

import math
from collections.abc import Callable
from dataclasses import replace

import pypdfium2
import pytest

from fingertight.cards.sums.asked import Typed
from fingertight.cards.sums.setting.timing.printed import (
    OVERLAP_MM,
    PAPERS,
    TAPE_FIELDS,
    WHEEL_FIELDS,
    PrintedTape,
    PrintedWheel,
    tape_card,
    wheel_card,
)
from fingertight.paper.labels import SAFETY
from fingertight.paper.sheets import EDGE_MM
from fingertight.paper.wheel import strip_at, tape_pdf, wheel_at, wheel_pdf
from tests.paper import pictures
from tests.paper.pictures import Picture, said

DPI = 600
TOLERANCE_MM = 0.05


def a_wheel(**typed: str) -> PrintedWheel:
    return wheel_card(Typed(WHEEL_FIELDS, typed), "wheel.pdf")


def a_tape(**typed: str) -> PrintedTape:
    return tape_card(Typed(TAPE_FIELDS, typed), "tape.pdf")


def drawn(pdf: bytes, dpi: int = DPI) -> list[Picture]:
    """Every page as a picture. A page is stretched to whole pixels when it is drawn, so its width says how many there
    are to a millimetre."""
    wide = [page.get_width() / 72 * 25.4 for page in pypdfium2.PdfDocument(pdf)]
    return [replace(one, per_mm=one.width / mm) for one, mm in zip(pictures.drawn(pdf, dpi), wide, strict=True)]


def ink(picture: Picture, x_mm: float, y_mm: float) -> float:
    """How dark the page is at a place, 0 to 1."""
    column, row = math.floor(x_mm * picture.per_mm), math.floor(y_mm * picture.per_mm)
    return 1 - picture.rows[row][column] / 255


def middle_of(picture: Picture, place: Callable[[float], tuple[float, float]], reach: float) -> float | None:
    """Where along a way the ink has its middle, from −reach to reach; None where there is none."""
    steps = [reach * (step / 100 - 1) for step in range(201)]
    darkness = [ink(picture, *place(step)) for step in steps]
    whole = sum(darkness)
    return sum(step * dark for step, dark in zip(steps, darkness, strict=True)) / whole if max(darkness) > 0.3 else None


@pytest.mark.parametrize("turns", ["clockwise", "anticlockwise"])
@pytest.mark.parametrize(("diameter", "paper"), [("120", "A4"), ("190", "A4"), ("80", "Letter")])
def test_every_degree_of_the_wheel_has_its_mark_where_it_belongs(diameter: str, paper: str, turns: str) -> None:
    card = a_wheel(diameter=diameter, paper=paper, turns=turns)
    (page,) = drawn(wheel_pdf(card))
    laid, rim = wheel_at(card), float(diameter) / 2

    def on(radius: float, turned_deg: float) -> tuple[float, float]:
        turned = math.radians(turned_deg)
        return laid.x + radius * math.sin(turned), laid.y - radius * math.cos(turned)

    long = card.diameter_mm / 120 if card.diameter_mm < 144 else 1.2
    for degree in range(360):
        reach = 0.45 * card.mm_per_deg
        found = middle_of(page, lambda step, at=degree: on(rim - 1.2, at + step / card.mm_per_deg), reach)
        assert found is not None, f"there is no mark at {degree}°"
        assert abs(found) < TOLERANCE_MM
        for depth, whole in ((4.5, 5), (6.8, 10)):
            is_there = max(ink(page, *on(rim - depth * long, degree + step / 100)) for step in range(-15, 16)) > 0.3
            assert is_there == (degree % whole == 0), f"the mark at {degree}° is as long as another kind"


@pytest.mark.parametrize("turns", ["clockwise", "anticlockwise"])
def test_what_comes_before_top_dead_centre_meets_the_pointer_first(turns: str) -> None:
    card = a_wheel(turns=turns)
    page = pypdfium2.PdfDocument(wheel_pdf(card))[0]
    laid = wheel_at(card)
    # The pointer stands at the top. 30° before top dead centre the wheel is turned back by 30°, so the mark under the
    # pointer lies 30° further on the way of turning than TDC: to the right where the crank turns clockwise.
    right = 1 if turns == "clockwise" else -1
    for words, side, below in (("before TDC", right, -1), ("after TDC", -right, -1), ("before BDC", -right, 1),
                               ("after BDC", right, 1)):  # fmt: skip
        x, y = _place_of(page, words)
        assert (x - laid.x) * side > 5
        assert (y - laid.y) * below > 5


def _place_of(page: pypdfium2.PdfPage, words: str) -> tuple[float, float]:
    """Where the middle of these words lies [mm from the upper left], the first time they stand on the page."""
    text = page.get_textpage()
    everything = text.get_text_range().replace("\u00a0", " ")
    start = everything.index(words)
    boxes = [text.get_charbox(letter) for letter in range(start, start + len(words))]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    low, high = min(box[1] for box in boxes), max(box[3] for box in boxes)
    return (left + right) / 2 / 72 * 25.4, (page.get_height() - (low + high) / 2) / 72 * 25.4


def test_the_numbers_of_the_wheel_stand_at_their_marks_on_both_sides() -> None:
    card = a_wheel(diameter="125")
    page = pypdfium2.PdfDocument(wheel_pdf(card))[0]
    text, laid = page.get_textpage(), wheel_at(card)
    for degree in range(110, 180, 10):  # the shorter ones stand on the ruler too
        finds, sides = text.search(str(degree)), []
        while (found := finds.get_next()) is not None:
            boxes = [text.get_charbox(letter) for letter in range(found[0], found[0] + found[1])]
            x = sum(box[0] + box[2] for box in boxes) / 6 / 72 * 25.4 - laid.x
            y = (page.get_height() - sum(box[1] + box[3] for box in boxes) / 6) / 72 * 25.4 - laid.y
            sides.append(math.degrees(math.atan2(x, -y)))
        assert sorted(sides) == pytest.approx([-degree, degree], abs=1.0)


def _ruler_mm(page: Picture, y_mm: float) -> float:
    """How long the thick line of the ruler is, measured in a narrow strip about it."""
    strip = page.cut(20, y_mm - 0.4, page.width / page.per_mm - 40, 0.8)
    left, _, right, _ = strip.dark_box_mm()
    return right - left


@pytest.mark.parametrize("measured", ["100", "98", "101.5"])
def test_a_print_that_is_mended_has_a_ruler_of_100_mm_on_the_printer_that_was_wrong(measured: str) -> None:
    shrinks = float(measured) / 100
    wheel = a_wheel(printed=measured)
    (page,) = drawn(wheel_pdf(wheel))
    laid = wheel_at(wheel)
    under = laid.y + wheel.diameter_mm / 2 * laid.scale + 7
    # The line is 0.3 mm thick, half of it beyond either end.
    assert (_ruler_mm(page, under) - 0.3) * shrinks == pytest.approx(100, abs=0.1)
    across = page.cut(5, laid.y - 0.3, page.width / page.per_mm - 10, 0.6).dark_box_mm()
    assert (across[2] - across[0] - 0.15) * shrinks == pytest.approx(120, abs=0.15)
    tape = a_tape(flywheel="180", printed=measured)
    (sheet,) = drawn(tape_pdf(tape))
    assert (_ruler_mm(sheet, 54.0) - 0.3) * shrinks == pytest.approx(100, abs=0.1)
    assert _length_of(tape, [sheet]) * shrinks == pytest.approx(math.pi * 180, abs=0.06)


def _length_of(card: PrintedTape, pages: list[Picture]) -> float:
    """How long the whole tape is on paper: from joint to joint, strip by strip, just below their edges."""
    whole = 0.0
    for number, strip in enumerate(card.strips):
        laid, page = strip_at(card, number), pages[strip.page - 1]
        row = page.rows[math.floor((laid.y + 0.9) * page.per_mm)]
        dark = [(column + 0.5, 255 - row[column]) for column in range(round(5 * page.per_mm), page.width)]
        inked = [column for column, ink_there in dark if ink_there > 25]
        first, last = ([one for one in dark if abs(one[0] - end) < 0.4 * page.per_mm] for end in (inked[0], inked[-1]))
        left, right = (sum(c * d for c, d in line) / sum(d for _, d in line) for line in (first, last))
        whole += (right - left) / page.per_mm
    return whole


@pytest.mark.parametrize(
    ("flywheel", "paper", "strips", "sheets"),
    [("40", "A4", 1, 1), ("80", "Letter", 1, 1), ("180", "A4", 3, 1), ("180", "Letter", 3, 1), ("600", "A4", 9, 2),
     ("1000", "Letter", 13, 3)],
)  # fmt: skip
def test_a_tape_is_pi_times_the_diameter_long_in_as_many_strips_as_fit(
    flywheel: str, paper: str, strips: int, sheets: int
) -> None:
    card = a_tape(flywheel=flywheel, paper=paper)
    pages = drawn(tape_pdf(card))
    assert (len(card.strips), card.pages, len(pages)) == (strips, sheets, sheets)
    assert all(page.width / page.per_mm == pytest.approx(PAPERS[paper][1], abs=0.1) for page in pages)
    long = math.pi * float(flywheel)
    assert _length_of(card, pages) == pytest.approx(long, abs=0.02 * strips)
    assert card.length_mm == pytest.approx(long)


@pytest.mark.parametrize("turns", ["clockwise", "anticlockwise"])
def test_every_degree_of_the_tape_has_its_mark_both_ways_from_top_dead_centre(turns: str) -> None:
    card = a_tape(flywheel="180", turns=turns)
    (page,) = drawn(tape_pdf(card))
    way, seen, per_deg = (-1 if turns == "clockwise" else 1), set(), math.pi * 180 / 360
    for number, strip in enumerate(card.strips):
        laid = strip_at(card, number)
        low, high = sorted((strip.from_deg, strip.to_deg))
        for degree in range(round(low), round(high) + 1):
            x = laid.x + way * (degree - strip.from_deg) * per_deg
            found = middle_of(page, lambda step, at=x, y=laid.y - 1.5: (at + step, y), 0.45 * per_deg)
            assert found is not None, f"there is no mark at {degree}°"
            assert abs(found) < TOLERANCE_MM
            is_long = max(ink(page, x + step / 100, laid.y - 7) for step in range(-8, 9)) > 0.3
            assert is_long == (degree % 10 == 0), f"the mark at {degree}° is as long as another kind"
            seen.add(degree)
    assert seen == set(range(-180, 181))


def test_the_tab_bears_the_first_marks_of_the_next_strip_so_that_they_can_be_laid_on_each_other() -> None:
    card = a_tape(flywheel="180")
    (page,) = drawn(tape_pdf(card))
    per_deg = math.pi * 180 / 360
    for number, strip in enumerate(card.strips):
        laid = strip_at(card, number)
        joint = laid.x + abs(strip.to_deg - strip.from_deg) * per_deg
        for beyond in range(1, math.floor(OVERLAP_MM / per_deg)):
            at = joint + beyond * per_deg
            found = middle_of(page, lambda step, at=at, y=laid.y - 1.5: (at + step, y), 0.45 * per_deg)
            assert found is not None
            assert abs(found) < TOLERANCE_MM


@pytest.mark.parametrize("turns", ["clockwise", "anticlockwise"])
def test_the_tape_says_which_side_is_before_and_it_runs_that_way(turns: str) -> None:
    card = a_tape(flywheel="180", turns=turns)
    words = said(tape_pdf(card))
    if turns == "clockwise":
        # Seen over the rim from its face, the top of a flywheel that turns clockwise goes to the right: what lies to
        # the right of TDC passes the pointer first.
        assert (
            "the rim runs to the right →. Left of TDC stands what is after it, right of it what is before it." in words
        )
        assert "Strip 2 of 3: 60° after TDC to 60° before TDC" in words
        assert card.strips[0].from_deg == 180
    else:
        assert (
            "the rim runs to the left ←. Left of TDC stands what is before it, right of it what is after it." in words
        )
        assert "Strip 2 of 3: 60° before TDC to 60° after TDC" in words
        assert card.strips[0].from_deg == -180


def test_both_sheets_say_what_to_measure_and_what_comes_first() -> None:
    wheel, tape = said(wheel_pdf(a_wheel(hole="17"))), said(tape_pdf(a_tape(flywheel="178")))
    for words in (wheel, tape):
        assert "Print at 100 % (“actual size”), never “fit to page”." in words
        assert "This must be 100 mm." in words
        assert "with a stop from both sides" in words
        assert SAFETY in words
    assert "never by looking for the highest point" in wheel
    assert "a tape 1 % too short is 1.8° out at the far end" in tape
    assert "Once round is 559.2 mm, π times 178 mm; one degree is 1.553 mm." in tape


@pytest.mark.parametrize(
    "pdf",
    [lambda: wheel_pdf(a_wheel(diameter="190")), lambda: wheel_pdf(a_wheel(diameter="195", paper="Letter")),
     lambda: tape_pdf(a_tape(flywheel="600", paper="Letter")), lambda: tape_pdf(a_tape(flywheel="260", printed="91"))],
    ids=["wheel A4", "wheel Letter", "tape Letter", "tape mended"],
)  # fmt: skip
def test_nothing_is_printed_where_many_printers_do_not_reach(pdf: Callable[[], bytes]) -> None:
    for page in drawn(pdf(), 100):
        left, top, right, bottom = page.dark_box_mm()
        assert left >= EDGE_MM
        assert top >= EDGE_MM
        assert right <= page.width / page.per_mm - EDGE_MM
        assert bottom <= len(page.rows) / page.per_mm - EDGE_MM


def test_words_and_ruler_do_not_lie_on_the_wheel_nor_on_each_other() -> None:
    for card in (a_wheel(diameter="190"), a_wheel(diameter="195", paper="Letter")):
        laid = wheel_at(card)
        (page,) = drawn(wheel_pdf(card), 100)
        bottom = laid.y + card.diameter_mm / 2 * laid.scale
        assert page.cut(10, bottom + 1, 180, 5).is_blank()
        assert page.cut(10, laid.y - card.diameter_mm / 2 * laid.scale - 6, 180, 5).is_blank()


def test_the_same_wheel_and_tape_give_the_same_bytes_tagged_and_titled() -> None:
    assert wheel_pdf(a_wheel()) == wheel_pdf(a_wheel())
    pdf = tape_pdf(a_tape(flywheel="178"))
    assert pdf == tape_pdf(a_tape(flywheel="178"))
    title = pypdfium2.PdfDocument(pdf).get_metadata_dict()["Title"]
    assert title == "Timing tape for a flywheel of 178 mm: 559.2 mm long"
    assert b"<pdfuaid:part>1</pdfuaid:part>" in pdf
