"""The ruler page: what is measured on it is what it says, and it says how to mend a printer."""

import pypdfium2
import pytest

from fingertight.paper.labels import RULER_ACROSS_MM, RULER_DOWN_MM, RULER_FROM_MM, SAFETY, ruler_pdf
from fingertight.paper.sheets import EDGE_MM, SHEETS, Nudge, Sheet
from tests.paper.pictures import Picture, drawn, said

each_sheet = pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS.keys())


def _ends(page: Picture, nudge: Nudge) -> tuple[float, float, float, float]:
    """Where the two lines begin and end on the page: the thick lines are the darkest within a narrow strip."""
    from_, across, down = RULER_FROM_MM, RULER_ACROSS_MM, RULER_DOWN_MM
    (left, top), (right, bottom) = nudge.moved(from_, from_), nudge.moved(from_ + across, from_ + down)
    edge = page.cut(left - 1.5, top - 1.5, right - left + 3, 2.2)
    side = page.cut(left - 1.5, top - 1.5, 2.2, bottom - top + 3)
    first, _, last, _ = edge.dark_box_mm()
    _, up, _, low = side.dark_box_mm()
    return left - 1.5 + first, top - 1.5 + up, left - 1.5 + last, top - 1.5 + low


@pytest.mark.parametrize("nudge", [Nudge(), Nudge(1.5, -2, 1.01, 0.99)], ids=["as drawn", "nudged"])
def test_the_lines_are_as_far_from_the_edge_and_as_long_as_the_page_says(nudge: Nudge) -> None:
    (page,) = drawn(ruler_pdf(SHEETS["a4-5x13"], nudge), 300)
    measured = _ends(page, nudge)
    expected = (*nudge.moved(20, 20), *nudge.moved(20 + 170, 20 + 240))
    assert measured == pytest.approx(expected, abs=0.25)


def test_following_the_page_once_makes_the_next_print_right() -> None:
    # A printer that prints 1 % short and 2 mm too far right: what is measured on its page, put into the page's sums.
    printed_x = lambda x: 2 + 0.99 * x  # noqa: E731 - the printer, in one line
    first = Nudge()
    length = printed_x(first.moved(190, 20)[0]) - printed_x(first.moved(20, 20)[0])
    scaled = Nudge(scale_x=first.scale_x * RULER_ACROSS_MM / length)
    from_edge = printed_x(scaled.moved(20, 20)[0])
    mended = Nudge(x_mm=scaled.x_mm + RULER_FROM_MM - from_edge, scale_x=scaled.scale_x)
    assert printed_x(mended.moved(20, 20)[0]) == pytest.approx(20, abs=0.05)
    assert printed_x(mended.moved(190, 20)[0]) == pytest.approx(190, abs=0.05)


@each_sheet
def test_the_ruler_page_says_what_to_measure_and_what_comes_first(sheet: Sheet) -> None:
    words = said(ruler_pdf(sheet, Nudge(0.5, -1, 1.002, 1)))
    assert f"Ruler page for sheet {sheet.name}" in words
    assert "Printed with --nudge=0.5,-1 --scale=1.002,1." in words
    assert "at 100 %" in words
    assert "Scale x = 1.002 × 170 ÷ what you measured." in words
    assert "Nudge y = -1 + 20 − what you measured." in words
    assert SAFETY in words


@each_sheet
def test_the_words_of_the_ruler_page_stay_off_its_edge(sheet: Sheet) -> None:
    document = pypdfium2.PdfDocument(ruler_pdf(sheet, Nudge(-12.25, -12.25, 1.0125, 1.0125)))
    assert len(document) == 1
    page = document[0]
    edge = EDGE_MM / 25.4 * 72
    words = page.get_textpage()
    for letter in range(words.count_chars()):
        left, bottom, right, top = words.get_charbox(letter)
        assert left >= edge
        assert bottom >= edge
        assert right <= page.get_width() - edge
        assert top <= page.get_height() - edge
