"""`difference`: what changed from one machine file to another, as whole screens."""

import json
from pathlib import Path

import pytest

from tests.cli.conftest import HAND_PUMP, Typing

NEWER = HAND_PUMP.replace('id = "rod"', 'id = "rod"\nbehind = ["cover"]').replace("count = 4", "count = 5")


def test_what_changed_stands_under_what_it_is_about(fingertight: Typing, hand_pump: str) -> None:
    assert fingertight("difference", hand_pump, "-", sent=NEWER) == (
        0,
        f"2 changes from {hand_pump} to standard input.\n"
        "\n"
        "Parts\n"
        "  Cover, 4 × M6x20: count 5, was 4.\n"
        "  Rod: Cover must come off before it now.\n"
        "\n"
        "For a job that goes on with the new file\n"
        "  The bag of Cover should hold 5 × M6x20 now; before, 4 × M6x20.\n"
        "  Rod comes off after Cover now; before, it waited for nothing.\n",
        "",
    )


def test_programs_are_told_of_which_table(fingertight: Typing, hand_pump: str) -> None:
    said = json.loads(fingertight("difference", hand_pump, "-", "--json", sent=NEWER).out)
    assert said["changes"][1] == {
        "kind": "part",
        "id": "rod",
        "title": "Rod",
        "sentences": ["Rod: Cover must come off before it now."],
    }
    assert said["same"] is False


def test_a_file_and_itself_and_one_with_another_comment(fingertight: Typing, hand_pump: str) -> None:
    assert fingertight("difference", hand_pump, hand_pump).out == f"{hand_pump} is {hand_pump}, letter for letter.\n"
    said = fingertight("difference", hand_pump, "-", sent=f"# as measured\n{HAND_PUMP}")
    assert (said.status, said.out) == (
        0,
        f"standard input says the same of the machine as {hand_pump}; only how it is written has changed.\n",
    )


@pytest.mark.parametrize(
    ("new", "sentence"),
    [
        (b"\xff\xfe\x00", "standard input: this is UTF-16. Save it as UTF-8 text and try again."),
        (bytes(range(128, 256)), "standard input, line 1: this is not UTF-8 text."),
        (b"\x00\x01\x02", "standard input: this is UTF-16 or not text at all."),
        (b"format = 1", "standard input has 2 mistakes, mend what it says first:\n  line 1"),
        (b"", "standard input has"),
    ],
)
def test_what_is_no_machine_file_is_said_to_be_none(
    fingertight: Typing, hand_pump: str, new: bytes, sentence: str
) -> None:
    said = fingertight("difference", hand_pump, "-", sent=new)
    assert (said.status, said.out) == (2, "")
    assert sentence in said.err
    assert "Traceback" not in said.err


def test_a_file_that_is_not_there_and_standard_input_twice(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    nowhere = str(tmp_path / "nowhere.toml")
    assert f"{nowhere}: there is no such file." in fingertight("difference", nowhere, hand_pump).err
    assert "this is a folder" in fingertight("difference", hand_pump, str(tmp_path)).err
    assert "Only one of OLD and NEW" in fingertight("difference", "-", "-").err
