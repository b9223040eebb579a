"""The sheets: they add up to the paper, and nothing on a label lies where it must not."""

from itertools import combinations

import pytest

from fingertight.paper.sheets import EDGE_MM, MODULES, QUIET_MODULES, RIM_MM, SHEETS, Box, CannotPrint, Nudge, Sheet
from fingertight.paper.sheets import sheet_named as named

each_sheet = pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS.keys())
HOLE_RADIUS_MM = 2.5


def _codes(sheet: Sheet, quiet: int = 0) -> list[Box]:
    """The codes of a label as boxes, with so many modules of quiet around."""
    more, side = quiet * sheet.face.module, MODULES * sheet.face.module
    return [Box(x - more, y - more, side + 2 * more, side + 2 * more) for x, y in sheet.face.codes]


def _words(sheet: Sheet) -> list[Box]:
    return [sheet.face.number, sheet.face.name, sheet.face.words]


def _within(box: Box, sheet: Sheet, rim: float) -> bool:
    wide, high = sheet.label
    ends = (box.x, box.y, wide - box.x - box.width, high - box.y - box.height)
    return min(ends) >= rim - 1e-9


def _apart(one: Box, other: Box) -> bool:
    gaps = (
        other.x - one.x - one.width,
        one.x - other.x - other.width,
        other.y - one.y - one.height,
        one.y - other.y - other.height,
    )
    return max(gaps) >= -1e-9


@each_sheet
def test_margins_and_labels_and_gaps_add_up_to_the_paper(sheet: Sheet) -> None:
    (paper_wide, paper_high), (wide, high), (across, down) = sheet.paper, sheet.label, sheet.pitch
    assert sheet.left + sheet.columns * across - (across - wide) + sheet.right == pytest.approx(paper_wide, abs=1e-9)
    assert sheet.top + sheet.rows * down - (down - high) + sheet.bottom == pytest.approx(paper_high, abs=1e-9)
    assert across >= wide
    assert down >= high


def test_the_sheets_are_those_that_were_promised() -> None:
    promised = {
        "a4-3x8": (24, (70, 37)),
        "a4-3x7": (21, (63.5, 38.1)),
        "a4-2x7": (14, (99.1, 38.1)),
        "a4-4x10": (40, (48.5, 25.4)),
        "a4-5x13": (65, (38.1, 21.2)),
        "letter-3x10": (30, (66.675, 25.4)),
        "a4-card": (10, (95, 55.4)),
        "letter-card": (10, (95, 51)),
    }
    assert {name: (sheet.labels, sheet.label) for name, sheet in SHEETS.items()} == promised


@each_sheet
def test_nothing_on_a_label_lies_on_its_rim_or_on_something_else(sheet: Sheet) -> None:
    assert all(_within(box, sheet, RIM_MM) for box in _codes(sheet) + _words(sheet))
    assert all(_apart(one, other) for one, other in combinations(_codes(sheet) + _words(sheet), 2))


@each_sheet
def test_a_code_has_its_four_modules_of_quiet_within_the_label(sheet: Sheet) -> None:
    for nth, code in enumerate(_codes(sheet, QUIET_MODULES)):
        assert _within(code, sheet, 0)
        others = [box for other, box in enumerate(_codes(sheet)) if other != nth] + _words(sheet)
        assert all(_apart(code, other) for other in others)


@each_sheet
def test_a_module_is_at_least_seven_tenths_of_a_millimetre_on_every_sheet(sheet: Sheet) -> None:
    assert sheet.face.module >= 0.7


@each_sheet
def test_the_code_stands_twice_where_the_label_has_room(sheet: Sheet) -> None:
    assert len(sheet.face.codes) == (1 if sheet.name in {"a4-4x10", "a4-5x13"} else 2)
    assert ("one code" in sheet.says) == (len(sheet.face.codes) == 1)


@each_sheet
def test_no_code_or_word_comes_where_printers_cannot_print(sheet: Sheet) -> None:
    for x, y in sheet.places():
        for box in _codes(sheet) + _words(sheet):
            left, top = x + box.x, y + box.y
            right, bottom = sheet.paper[0] - left - box.width, sheet.paper[1] - top - box.height
            assert min(left, top, right, bottom) >= EDGE_MM - 0.001


@each_sheet
def test_the_hole_is_clear_of_codes_and_words(sheet: Sheet) -> None:
    if sheet.hole is None:
        assert "hole" not in sheet.says
        return
    x, y = sheet.hole
    hole = Box(x - HOLE_RADIUS_MM - 2, y - HOLE_RADIUS_MM - 2, 2 * HOLE_RADIUS_MM + 4, 2 * HOLE_RADIUS_MM + 4)
    assert _within(hole, sheet, 2)
    assert all(_apart(hole, box) for box in _codes(sheet, QUIET_MODULES) + _words(sheet))


def test_an_unknown_sheet_is_refused_with_those_there_are() -> None:
    assert named(" A4-3x7 ").name == "a4-3x7"
    with pytest.raises(CannotPrint) as refusal:
        named("round")
    assert str(refusal.value) == f"There is no sheet “round” here; choose one of {', '.join(SHEETS)}."


@pytest.mark.parametrize(
    ("nudge", "sentence"),
    [
        ({"x_mm": 21}, "A nudge of 21 mm in x moves labels off the sheet; write −20 to 20 mm."),
        ({"y_mm": float("nan")}, "A nudge of nan mm in y moves labels off the sheet; write −20 to 20 mm."),
        ({"scale_y": 100}, "A scale of 100 in y is no printer's fault; write 0.9 to 1.1."),
        ({"scale_x": float("-inf")}, "A scale of -inf in x is no printer's fault; write 0.9 to 1.1."),
    ],
)
def test_a_slip_in_the_nudge_is_refused_before_paper_is_spoilt(nudge: dict[str, float], sentence: str) -> None:
    with pytest.raises(CannotPrint) as refusal:
        Nudge(**nudge)
    assert str(refusal.value) == sentence
