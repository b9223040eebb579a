"""Label pages as a printer and a scanner see them: drawn by another library than made them, and read back."""

import random
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from fingertight.cards.labels import spaced
from fingertight.paper.labels import SAFETY, label_pdf
from fingertight.paper.sheets import EDGE_MM, RIM_MM, SHEETS, CannotPrint, Nudge, Sheet
from tests.paper.cast import HOSTILE, KIND, MACHINE, MARKUP, labels_of
from tests.paper.pictures import INK, OIL, Picture, drawn, said

each_sheet = pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS.keys())
SIXTY = labels_of(60)
LINE_MM = 0.4
# How many of 100 soiled labels were read: see-through oil on 60 % of the label, one black blot on 10 %, five drops
# on 5 %, anywhere on it. Fixed seeds make each a figure, not a chance. The goals (platform.md part 8: 100, 95, 80)
# were set on another tag; of the sheets with two codes three fall short for drops, and one reads 99 under oil.
# On a label with one code a blot often hides it: there the letters remain.
READ_OF_100 = {
    "a4-3x8": (100, 100, 79),
    "a4-3x7": (100, 100, 78),
    "a4-2x7": (100, 100, 80),
    "a4-4x10": (98, 53, 39),
    "a4-5x13": (100, 40, 35),
    "letter-3x10": (99, 100, 72),
    "a4-card": (100, 97, 91),
    "letter-card": (100, 96, 92),
}
OTHER_VERSIONS_OF_THE_READER = 2


@cache
def sixty_on(name: str) -> bytes:
    """Sixty labels with ordinary names."""
    return label_pdf(SIXTY, SHEETS[name])


def label_at(picture: Picture, sheet: Sheet, nth: int) -> Picture:
    return picture.cut(*sheet.places()[nth], *sheet.label)


@each_sheet
@pytest.mark.parametrize("dpi", [72, 300])
def test_every_code_of_sixty_labels_is_read_back_as_often_as_it_stands_there(sheet: Sheet, dpi: int) -> None:
    read = Counter(code for page in drawn(sixty_on(sheet.name), dpi) for code in page.codes())
    assert read == {label.code: len(sheet.face.codes) for label in SIXTY}


@each_sheet
def test_a_soiled_label_is_still_read(sheet: Sheet) -> None:
    clean = label_at(drawn(sixty_on(sheet.name))[0], sheet, 4)
    code = SIXTY[4].code
    stains = {"oil": (0.6, 1, OIL), "blot": (0.1, 1, INK), "drops": (0.05, 5, INK)}
    read = {
        name: sum(code in clean.stained(share, drops, through, random.Random(seed)).codes() for seed in range(100))
        for name, (share, drops, through) in stains.items()
    }
    assert all(
        got >= measured - OTHER_VERSIONS_OF_THE_READER
        for got, measured in zip(read.values(), READ_OF_100[sheet.name], strict=True)
    ), read


@each_sheet
def test_the_words_of_a_label_are_on_the_page(sheet: Sheet) -> None:
    words = said(sixty_on(sheet.name))
    assert all(spaced(label.code) in words for label in SIXTY)
    assert all(title in words for title, *_ in KIND[:3])
    assert "exhaust" in words
    assert ("2 × M6x20" in words) == (sheet.name != "a4-5x13"), "the smallest label has no list, and its name says so"
    assert ("no list" in sheet.says) == (sheet.name == "a4-5x13")


@each_sheet
@pytest.mark.parametrize("words", [KIND, HOSTILE], ids=["kind", "hostile"])
def test_nothing_is_printed_on_the_rim_of_a_label_whatever_it_is_called(
    sheet: Sheet, words: tuple[tuple[str, str | None, tuple[str, ...], str], ...]
) -> None:
    (page,) = drawn(label_pdf(labels_of(sheet.labels, words), sheet))
    wide, high = sheet.label
    line = LINE_MM if sheet.hole else 0.0
    for x, y in sheet.places():
        for rim in (
            (x + line, y + line, wide - 2 * line, RIM_MM - line),
            (x + line, y + high - RIM_MM, wide - 2 * line, RIM_MM - line),
            (x + line, y + line, RIM_MM - line, high - 2 * line),
            (x + wide - RIM_MM, y + line, RIM_MM - line, high - 2 * line),
        ):
            assert page.cut(*rim).is_blank(), (x, y)


@each_sheet
def test_names_of_any_length_hide_no_code(sheet: Sheet) -> None:
    labels = labels_of(sheet.labels, HOSTILE)
    (page,) = drawn(label_pdf(labels, sheet))
    assert Counter(page.codes()) == {label.code: len(sheet.face.codes) for label in labels}


@each_sheet
def test_the_edge_of_the_paper_stays_white(sheet: Sheet) -> None:
    page = drawn(sixty_on(sheet.name))[0]
    (wide, high), edge = sheet.paper, EDGE_MM - 0.1
    for strip in ((0, 0, wide, edge), (0, high - edge, wide, edge), (0, 0, edge, high), (wide - edge, 0, edge, high)):
        assert page.cut(*strip).is_blank()


def test_a_name_that_looks_like_typesetting_prints_as_it_was_typed() -> None:
    words = said(label_pdf(labels_of(1, HOSTILE), SHEETS["a4-card"]))
    assert MARKUP in words
    assert f"2 × {MARKUP}" in words


def test_what_does_not_fit_is_cut_with_a_mark_that_says_so() -> None:
    words = said(label_pdf(labels_of(3, HOSTILE), SHEETS["a4-4x10"]))
    assert "…" in words
    assert " more" in words


def test_characters_that_steer_a_printer_are_printed_as_spaces() -> None:
    label = labels_of(1, (("Air\x00\x1b\r\nfilter\u2028cover", None, (), ""),))
    assert "Air filter cover" in said(label_pdf(label, SHEETS["a4-card"]))


def test_a_letter_that_no_font_has_is_named_in_a_sentence() -> None:
    with pytest.raises(CannotPrint, match=r"^No font on this machine has “.+”; install one that has it, or write the"):
        label_pdf(labels_of(1, (("Cover \u0378", None, (), ""),)), SHEETS["a4-3x7"])


def test_labels_begin_where_the_half_used_sheet_begins() -> None:
    sheet = SHEETS["a4-3x7"]
    first, second = drawn(label_pdf(labels_of(10), sheet, start_at=15))
    assert all(label_at(first, sheet, nth).is_blank() for nth in range(14))
    assert set(label_at(first, sheet, 14).codes()) == {SIXTY[0].code}
    assert set(label_at(second, sheet, 2).codes()) == {SIXTY[9].code}
    assert all(label_at(second, sheet, nth).is_blank() for nth in range(3, 21))


def test_a_start_the_sheet_does_not_have_is_refused() -> None:
    for start in (0, 22, -1):
        with pytest.raises(CannotPrint) as refusal:
            label_pdf(labels_of(1), SHEETS["a4-3x7"], start_at=start)
        assert str(refusal.value) == f"Sheet a4-3x7 has labels 1 to 21; start at one of them, not {start}."


def test_a_machine_from_which_nothing_comes_off_is_told_so() -> None:
    with pytest.raises(CannotPrint, match="no part of this machine comes off"):
        label_pdf([], SHEETS["a4-3x7"])


def test_a_nudge_moves_every_label_by_what_it_says() -> None:
    sheet = SHEETS["a4-4x10"]
    (plain,), (nudged,) = (
        drawn(label_pdf(labels_of(40), sheet, nudge), 300) for nudge in (Nudge(), Nudge(x_mm=3, y_mm=-2.5))
    )
    moved = [new - old for old, new in zip(plain.dark_box_mm(), nudged.dark_box_mm(), strict=True)]
    assert moved == pytest.approx([3, -2.5, 3, -2.5], abs=0.1)


def test_a_scale_stretches_the_distance_between_labels_and_not_the_labels() -> None:
    sheet = SHEETS["a4-4x10"]
    (page,) = drawn(label_pdf(labels_of(40), sheet, Nudge(scale_x=1.02, scale_y=0.98)), 300)
    corners = {code.text: code.position for code in page.found()}
    first, last = (corners[SIXTY[nth].code] for nth in (0, 39))
    across, down = sheet.pitch
    assert (last.top_left.x - first.top_left.x) / page.per_mm == pytest.approx(3 * across * 1.02, abs=0.2)
    assert (last.top_left.y - first.top_left.y) / page.per_mm == pytest.approx(9 * down * 0.98, abs=0.2)
    assert (first.top_right.x - first.top_left.x) / page.per_mm == pytest.approx(21 * 0.7, abs=0.2)


@pytest.mark.parametrize("sheet", [SHEETS["a4-card"], SHEETS["letter-card"]], ids=["a4", "letter"])
def test_a_page_of_card_has_lines_to_cut_a_hole_and_the_safety_sentence(sheet: Sheet) -> None:
    page = drawn(label_pdf(labels_of(1), sheet), 300)[0]
    assert SAFETY in said(label_pdf(labels_of(1), sheet))
    x, y = sheet.places()[9]
    hole = page.cut(x + sheet.hole[0] - 3, y + sheet.hole[1] - 3, 6, 6) if sheet.hole else None
    assert hole is not None
    left, top, right, bottom = hole.dark_box_mm()
    assert (left, top, right, bottom) == pytest.approx((0.4, 0.4, 5.6, 5.6), abs=0.3)
    assert not page.cut(x - 0.3, y + 5, 0.6, 5).is_blank()


def test_the_title_names_the_machine() -> None:
    assert f"Bag labels: {MACHINE}".encode() in sixty_on("a4-3x7")


def test_the_page_about_labels_says_what_was_read_of_soiled_labels(root: Path) -> None:
    oil, blot, drops = zip(
        *(read for name, read in READ_OF_100.items() if "4x10" not in name and "5x13" not in name), strict=True
    )
    page = " ".join((root / "docs" / "labels.md").read_text("utf-8").split())
    assert f"it read {min(oil)} to {max(oil)} under see-through oil, {min(blot)} to {max(blot)} with a black" in page
    assert f"{min(drops)} to {max(drops)} with five drops on a twentieth" in page
    assert all(f"| {name}" in page and f"| {sheet.labels} |" in page for name, sheet in SHEETS.items())
