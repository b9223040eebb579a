"""The tightening sheet as it hangs on the wall: read back from the page by another library than made it."""

import ctypes
import hashlib
import math
import os
import re
import subprocess
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from fingertight.anatomy import read
from fingertight.cards.tighten.sheet import TighteningSheetCard, tightening_sheet
from fingertight.paper.lists.tightening import LEAST_MM, TOO_CLOSE, drawn, tightening_pdf
from fingertight.paper.sheets import CannotPrint
from tests.paper.cast import MARKUP
from tests.paper.pictures import drawn as as_pictures
from tests.paper.pictures import said

ROOT = Path(__file__).parents[2]
PUMP = ROOT / "examples" / "pump-engine.toml"
HASH = "0123456789abcdef" * 4
POINTS_PER_MM = 72 / 25.4
SCRIPT = """
import hashlib, sys
from tests.paper.test_tightening_pdf import pump_pdf
print(hashlib.sha256(pump_pdf()).hexdigest())
"""
HEAD = 'format = 1\n[machine]\nname = "Rig"\n'


class Written(NamedTuple):
    """A run of text on a page: what it says, its size [pt], its page, its box [mm from the lower left corner]."""

    text: str
    size_pt: float
    page: int
    left: float
    bottom: float
    right: float
    top: float


def sheet_of(text: str) -> TighteningSheetCard:
    reading = read(text)
    assert reading.anatomy is not None, reading.mistakes
    return tightening_sheet(reading.anatomy, HASH)


def part(name: str, held_by: str, more: str = "") -> str:
    """One part of a machine file, held by one set."""
    short = re.sub("[^a-z0-9]+", "-", name.lower())[:60].strip("-")
    return f'[[part]]\nid = "{short}"\nname = "{name}"\n{more}\n[[part.held_by]]\n{held_by}\n'


def ring(bolts: int) -> str:
    turn = 2 * math.pi / bolts
    return str([[round(80 * math.cos(k * turn), 3), round(80 * math.sin(k * turn), 3)] for k in range(bolts)])


@cache
def pump_pdf() -> bytes:
    return tightening_pdf(sheet_of(PUMP.read_text("utf-8")))


def written(pdf: bytes) -> list[Written]:
    """Every run of text."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(pdf), 1):
        words = page.get_textpage()
        for piece in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=9):
            size = pdfium.FPDFTextObj_GetText(piece, words, None, 0)
            letters = (ctypes.c_ushort * size)()
            pdfium.FPDFTextObj_GetText(piece, words, letters, size)
            points = ctypes.c_float()
            pdfium.FPDFTextObj_GetFontSize(piece, points)
            box = [edge / POINTS_PER_MM for edge in piece.get_bounds()]
            text = bytes(letters).decode("utf-16-le").rstrip("\0")
            found.append(Written(text, points.value * piece.get_matrix().d, number, *box))
    return found


def test_every_set_stands_there_with_its_torque_in_each_unit_and_the_numbers_of_its_order() -> None:
    card, words = sheet_of(PUMP.read_text("utf-8")), said(pump_pdf())
    assert len(card.sets) >= 25
    starts, at = [], words.index("come first.")
    for one in card.sets:
        at = words.index(one.title, at + 1)
        starts.append(at)
    for one, (start, end) in zip(card.sets, pairwise([*starts, len(words)]), strict=True):
        cell = words[start:end]
        assert one.name in cell
        assert one.turned_by in cell
        for unit, reads in one.reads.items():
            assert f"{reads} {unit}" in cell, (one.title, unit)
        numbers = [str(number) for number in range(1, len(one.order) + 1)]
        runs = [cell.split()[nth : nth + len(numbers)] for nth in range(len(cell.split()))]
        # The reader goes through the drawing line by line, so the numbers stand together in any order.
        assert not numbers or any(sorted(run) == numbers for run in runs), one.title
        if len(one.passes) > 1:
            assert f"Passes {' → '.join(each.says for each in one.passes)} N·m" in cell


def test_the_numbers_lie_where_the_bolts_sit_in_the_order_they_are_tightened() -> None:
    at = [(-75, 60), (0, 74), (75, 60), (75, -60), (0, -74), (-75, -60)]
    held = f'thread = "M6"\ntorque = 25\nat = {[list(point) for point in at]}'
    card = sheet_of(HEAD + part("Cover", held))
    order = card.sets[0].order
    numbers = {int(one.text): one for one in written(tightening_pdf(card)) if one.text in set("123456")}
    assert sorted(numbers) == [1, 2, 3, 4, 5, 6]
    middles = {number: ((one.left + one.right) / 2, (one.bottom + one.top) / 2) for number, one in numbers.items()}
    # One scale for x and y, and y goes up: what lies in between is in proportion.
    scale = math.dist(middles[1], middles[2]) / math.dist(at[order[0] - 1], at[order[1] - 1])
    for number, position in enumerate(order, 1):
        across = (at[position - 1][0] - at[order[0] - 1][0]) * scale
        up = (at[position - 1][1] - at[order[0] - 1][1]) * scale
        assert middles[number] == pytest.approx((middles[1][0] + across, middles[1][1] + up), abs=0.6)


def test_every_full_torque_is_20_points_high_or_more_and_nothing_else_is() -> None:
    large = [one.text.strip() for one in written(pump_pdf()) if one.size_pt >= 20]
    torques = [one.reads["N·m"] for one in sheet_of(PUMP.read_text("utf-8")).sets]
    assert sorted(large) == sorted([*torques, *("N·m" for _ in torques)])


def test_two_sets_stand_side_by_side_and_no_set_is_split_over_two_pages() -> None:
    text = HEAD
    for number in range(1, 41):
        held = f'thread = "M6"\ntorque = {number}\nnote = "{"a word of note " * (number * 7 % 50)}"'
        more = f'cautions = ["end of {number}."]'
        text += part(f"Begins {number}.", held + (f"\nat = {ring(4 + number % 5)}" if number % 3 == 0 else ""), more)
    card = sheet_of(text)
    runs = written(tightening_pdf(card))
    begins = [_named(runs, one.title) for one in card.sets]
    assert len(begins) == 40
    assert begins[-1].page > 3
    for one, begin in zip(card.sets, begins, strict=True):
        end = _named(runs, one.cautions[0])
        assert begin.page == end.page
        assert begin.bottom > end.top
        # Above the foot, which has its hash 9 mm from the edge.
        assert end.bottom > 13
    for left, right in zip(begins[::2], begins[1::2], strict=True):
        assert left.page == right.page
        assert left.top == pytest.approx(right.top, abs=1)
        assert right.left - left.left > 80


def _named(runs: list[Written], text: str) -> Written:
    (found,) = (one for one in runs if one.text.strip().endswith(text))
    return found


def test_a_set_that_is_higher_than_a_page_is_set_smaller_and_stays_whole() -> None:
    more = f'places = ["{"W" * 150}", "{"W" * 149}"]\ncautions = ["{"W" * 190}", "{"W" * 189}", "ends here"]'
    held = f'thread = "M8"\ntorque = 20\nnote = "{"W" * 900}"\nat = {ring(64)}'
    pdf = tightening_pdf(sheet_of(HEAD + part("W" * 200, held, more)))
    end = _named(written(pdf), "ends here")
    assert end.bottom > 13
    assert "64" in {one.text.strip() for one in written(pdf) if one.page == end.page}
    for page in as_pictures(pdf, 75):
        assert page.cut(0, 0, 9, 297).is_blank()
        assert page.cut(201, 0, 9, 297).is_blank()


@pytest.mark.parametrize("bolts", [2, 3, 4, 8, 10, 16, 24, 40, 64])
def test_bolts_are_drawn_apart_with_numbers_that_can_be_read(bolts: int) -> None:
    picture = sheet_of(HEAD + part("Flange", f'thread = "M8"\ntorque = 20\nat = {ring(bolts)}')).sets[0].picture
    assert picture is not None
    drawing = drawn(picture)
    assert drawing is not None
    assert drawing.radius >= LEAST_MM
    assert {number for number, _, _ in drawing.dots} == set(range(1, bolts + 1))
    places = [(x, y) for _, x, y in drawing.dots]
    assert min(math.dist(one, other) for k, one in enumerate(places) for other in places[:k]) >= 2 * drawing.radius
    for x, y in places:
        assert drawing.radius <= x <= drawing.width - drawing.radius
        assert drawing.radius <= y <= drawing.height - drawing.radius


def test_bolts_too_close_to_be_numbered_are_left_to_the_bench_page_in_a_sentence() -> None:
    pdf = tightening_pdf(sheet_of(HEAD + part("Flange", f'thread = "M8"\ntorque = 20\nat = {ring(200)}')))
    assert TOO_CLOSE in said(pdf)


def test_every_page_says_which_it_is_and_from_which_text_it_was_printed() -> None:
    document = pypdfium2.PdfDocument(pump_pdf())
    assert len(document) > 1
    for number, page in enumerate(document, 1):
        words = page.get_textpage().get_text_range()
        assert f"Page {number} of {len(document)}" in words
        assert "Printed from machine file 0123456789ab" in words
        assert "Makers’ data, the workshop’s rules, local law and licensed practice come first." in words
        assert (page.get_width(), page.get_height()) == pytest.approx((210 * POINTS_PER_MM, 297 * POINTS_PER_MM))


def test_the_top_says_the_machine_where_the_figures_come_from_and_how_it_is_done() -> None:
    assert said(pump_pdf()).startswith(
        "Tightening sheet: Pump engine, 163 cm³, with reduction case "
        "Figures: Invented for the examples. "
        "Torques, where nothing else is said: invented for the examples, of the usual size for the thread. "
        "Finger-tight all round first; passes in the numbered order; a last round at the full torque. "
        "Makers’ data, the workshop’s rules, local law and licensed practice come first."
    )


def test_what_has_no_torque_stands_in_one_line_at_the_end() -> None:
    last = said(pump_pdf()).rpartition("By hand or by feel: ")[2]
    assert last.startswith("Governor arm: 1 × M6x22 bolt, 8.8 (Clamp bolt: snug by feel once the governor is set; ")
    assert "; Air filter: 1 × M6 nut; Dipstick: 1 × M20x1.5." in last


def test_what_people_typed_prints_as_they_typed_it() -> None:
    typed = MARKUP.replace("\\", "\\\\").replace('"', '\\"')
    held = f'thread = "M8"\ntorque = 20\nnote = "{typed}"\nleft_hand = true'
    words = said(tightening_pdf(sheet_of(HEAD.replace("Rig", typed) + part("Lid", held))))
    assert words.startswith(f"Tightening sheet: {MARKUP} ")
    assert words.count(MARKUP) >= 3
    assert "Left-hand thread: turn anticlockwise to tighten." in words


def test_the_sheet_is_tagged_and_titled_in_a_language() -> None:
    document = pypdfium2.PdfDocument(pump_pdf())
    assert document.get_metadata_dict()["Title"] == "Tightening sheet: Pump engine, 163 cm³, with reduction case"
    assert pdfium.FPDFCatalog_IsTagged(document)
    language = (ctypes.c_ushort * 8)()
    pdfium.FPDFCatalog_GetLanguage(document, language, 16)
    assert bytes(language).decode("utf-16-le").rstrip("\0") == "en"
    assert b"<pdfuaid:part>1</pdfuaid:part>" in pump_pdf()


def test_units_signs_and_arrows_are_in_the_font_that_came_with_the_program() -> None:
    assert set("·×’→³") <= set(said(pump_pdf()))
    fonts = set()
    for page in pypdfium2.PdfDocument(pump_pdf()):
        for piece in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=9):
            name = ctypes.create_string_buffer(200)
            pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(piece), name, 200)
            fonts.add(name.value.decode().partition("+")[2])
    assert fonts == {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}


def test_the_same_machine_gives_the_same_bytes_in_another_process_on_another_day() -> None:
    again = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "SOURCE_DATE_EPOCH": "2000000000", "LANG": "C"},
        capture_output=True,
        check=True,
        text=True,
    ).stdout
    assert again.strip() == hashlib.sha256(pump_pdf()).hexdigest()
    assert tightening_pdf(sheet_of(PUMP.read_text("utf-8"))) == pump_pdf()


def test_a_machine_without_torques_and_a_letter_without_a_font_are_refused_in_a_sentence() -> None:
    with pytest.raises(CannotPrint, match="No fastener set of Rig states a torque"):
        tightening_pdf(sheet_of(HEAD + '[[part]]\nid = "lid"\n'))
    with pytest.raises(CannotPrint, match="No font on this machine has"):
        tightening_pdf(sheet_of(HEAD + part("Lid \uffff", 'thread = "M8"\ntorque = 20')))
