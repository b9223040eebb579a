"""What `labels` writes and says; what stands on the paper is tested in tests/paper."""

import json
import os
from pathlib import Path

import pytest

from tests.cli.conftest import Typing
from tests.cli.test_machine import RING, RINGED

SHEET = "A4, 21 labels of 63.5 × 38.1 mm"


def test_labels_says_what_it_wrote_and_what_to_mind(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    file = tmp_path / "bags.pdf"
    expected = f"{file}: 6 labels, bags 1 to 6, on 1 sheet: {SHEET}. Print it at its own size (100 %).\n"
    assert fingertight("labels", hand_pump, "-o", str(file)) == (0, expected, "")
    assert file.read_bytes().startswith(b"%PDF-")
    assert [path.name for path in tmp_path.iterdir() if path.suffix != ".toml"] == ["bags.pdf"]


def test_a_part_with_places_has_a_label_for_each_piece(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    answer = json.loads(fingertight("labels", hand_pump, "-o", str(tmp_path / "l.pdf"), "--json").out)
    assert [label["place"] for label in answer["labels"] if label["part"] == "valve"] == ["inlet", "outlet"]
    assert len({label["code"] for label in answer["labels"]}) == 6


def test_a_begun_sheet_is_used_up_first(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    # 6 labels from label 17 of 21: five on the first sheet, one on the next.
    answer = json.loads(fingertight("labels", hand_pump, "-o", str(tmp_path / "l.pdf"), "--start", "17", "--json").out)
    assert answer["pages"] == 2


def test_the_ruler_page_comes_before_the_labels(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    file = tmp_path / "ruler.pdf"
    expected = f"{file}: the ruler page of {SHEET}. Print it at its own size (100 %).\n"
    assert fingertight("labels", hand_pump, "-o", str(file), "--ruler", "--nudge", "0.5,-1", "--scale", "1,1.002") == (
        0,
        expected,
        "",
    )
    assert file.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--sheet", "a4-9x9"), "There is no sheet “a4-9x9” here; choose one of a4-3x8, "),
        (("--start", "22"), "Sheet a4-3x7 has labels 1 to 21; start at one of them, not 22."),
        (("--start", "two"), "--start: “two” is no label; write its number on the sheet, counted from 1."),
        (("--nudge", "1"), "--nudge: “1” is not two numbers with a comma between; write for example 0.5,-1."),
        (("--scale", "1,1,1"), "--scale: “1,1,1” is not two numbers with a comma between; write for example 1,1.002."),
        (("--nudge", "a,b"), "--nudge: “a” is not a number;"),
        (("--nudge", "90,0"), "A nudge of 90 mm in x moves labels off the sheet;"),
    ],
)
def test_what_cannot_be_printed_is_a_sentence_and_no_file(
    fingertight: Typing, hand_pump: str, tmp_path: Path, options: tuple[str, ...], said: str
) -> None:
    file = tmp_path / "bags.pdf"
    screen = fingertight("labels", hand_pump, "-o", str(file), *options)
    assert (screen.status, screen.out) == (2, "")
    assert screen.err.startswith(f"fingertight: {said}")
    assert not file.exists()


def test_a_machine_without_an_order_has_no_labels(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "bags.pdf"
    assert fingertight("labels", "-", "-o", str(file), sent=RINGED) == (1, f"{RING}\n", "")
    assert not file.exists()


def test_a_folder_that_is_not_there_is_said(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    file = tmp_path / "nowhere" / "bags.pdf"
    expected = f"fingertight: {file}: this file cannot be written (no such file or directory).\n"
    assert fingertight("labels", hand_pump, "-o", str(file)) == (2, "", expected)


@pytest.mark.skipif(os.name == "nt", reason="a folder cannot be held against writing there")
def test_a_file_that_cannot_be_replaced_leaves_nothing_behind(
    fingertight: Typing, hand_pump: str, tmp_path: Path
) -> None:
    folder = tmp_path / "bags.pdf"
    folder.mkdir()
    screen = fingertight("labels", hand_pump, "-o", str(folder))
    assert (screen.status, screen.out) == (2, "")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bags.pdf", "hand-pump.toml"]
