"""What `replay` prints, as whole screens, and what it says of lines that are no entries."""

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Typing


def log(*entries: dict[str, object]) -> str:
    """A log as text: each entry given its id, its time and who wrote it, unless it says so itself."""
    return "".join(
        json.dumps({"id": f"e{number}", "at": f"2026-03-05T09:{number:02}:00+01:00", "by": "s-07", **entry}) + "\n"
        for number, entry in enumerate(entries, 1)
    )


COVER_OFF = {"kind": "off", "part": "cover", "bag": "1", "counts": {"M6x20": 3}}
STRIP = log(
    COVER_OFF,
    {"kind": "off", "part": "valve", "place": "inlet", "bag": "2"},
    {"kind": "off", "part": "valve", "place": "outlet", "bag": "3"},
    {"kind": "off", "part": "rod"},
    {"kind": "reading", "check": "rod-length", "values": [{"value": 3.9}], "unit": "in"},
)


def test_a_log_shows_what_is_wrong_where_everything_lies_and_what_is_next(fingertight: Typing, hand_pump: str) -> None:
    assert fingertight("replay", hand_pump, "-", sent=STRIP) == (
        1,
        "Hand pump: not finished, 3 of 6 parts off, 1 flag open\n"
        "\n"
        "Not right yet\n"
        "  short (stops): Bag 1 of Cover holds 3 of 4 × M6x20.\n"
        "    Look for it under the bench and in the bags beside; count bag 1 again, or say found or renewed.\n"
        "\n"
        "Off\n"
        "  cover  Cover: bag 1 with 3 × M6x20\n"
        "  valve  Valve (inlet): bag 2\n"
        "  valve  Valve (outlet): bag 3\n"
        "  rod  Rod: nobody said where\n"
        "\n"
        "Measured\n"
        "  Rod length: good; 99.06 mm is 2.54 mm inside its limit (U is not known: no instrument is named)\n"
        "\n"
        "May come off now\n"
        "  piston  Piston\n"
        "  base    Base\n"
        "\n"
        "May go on now\n"
        "  valve  Valve\n"
        "  rod    Rod\n",
        "",
    )


def test_a_log_tells_programs_the_same(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(fingertight("replay", hand_pump, "-", "--json", sent=STRIP).out)
    (flag,) = answer.pop("flags")
    assert (flag["kind"], flag["part"], flag["entry"], flag["open"]) == ("short", "cover", "e1", True)
    assert answer == {
        "off": {
            "cover": {"bag": "1"},
            "valve": {"places": {"inlet": {"bag": "2"}, "outlet": {"bag": "3"}}},
            "rod": {"bag": None},
        },
        "on": ["body", "piston", "base"],
        "absent": [],
        "may_come_off": ["piston", "base"],
        "may_go_on": ["valve", "rod"],
        "bags": {
            "1": {"parts": ["cover"], "holds": {"M6x20": 3}},
            "2": {"parts": ["valve"], "holds": {}},
            "3": {"parts": ["valve"], "holds": {}},
        },
        "readings": {"rod-length": {"verdict": "good", "worst": 99.06, "margin_mm": 2.54, "U_mm": 0.0}},
        "finished": False,
    }


def test_a_part_with_one_piece_off_may_go_either_way_and_counts_as_off(fingertight: Typing, hand_pump: str) -> None:
    sent = log(COVER_OFF, {"kind": "off", "part": "valve", "place": "outlet", "bag": "2"})
    answer = json.loads(fingertight("replay", hand_pump, "-", "--json", sent=sent).out)
    assert answer["off"]["valve"] == {"places": {"outlet": {"bag": "2"}}}
    assert "valve" not in answer["on"]
    assert "valve" in answer["may_come_off"]
    assert "valve" in answer["may_go_on"]


def test_a_job_built_back_whole_is_finished_with_status_0(fingertight: Typing, hand_pump: str) -> None:
    sent = log(
        {**COVER_OFF, "counts": {"M6x20": 4}},
        {"kind": "on", "part": "cover", "bag": "1"},
        {"kind": "finish", "as": "instructor"},
    )
    screen = fingertight("replay", hand_pump, "-", sent=sent)
    assert screen.status == 0
    assert screen.out.startswith("Hand pump: finished, 0 of 6 parts off, 0 flags open\n")


def test_a_mended_flag_is_told_but_is_not_open(fingertight: Typing, hand_pump: str) -> None:
    counted_again = {"kind": "count", "bags": {"1": {"M6x20": 4}}}
    screen = fingertight("replay", hand_pump, "-", sent=log(COVER_OFF, counted_again))
    assert screen.status == 0
    assert "1 flag was mended or set aside.\n" in screen.out
    answer = json.loads(fingertight("replay", hand_pump, "-", "--json", sent=log(COVER_OFF, counted_again)).out)
    assert [flag["open"] for flag in answer["flags"]] == [False]


def test_an_absent_part_is_neither_on_nor_off(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(
        fingertight("replay", hand_pump, "-", "--json", sent=log({"kind": "absent", "part": "base"})).out
    )
    assert answer["absent"] == ["base"]
    assert "base" not in answer["on"]
    assert "base" not in answer["off"]


def test_an_empty_log_is_a_machine_nobody_touched(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(fingertight("replay", hand_pump, "-", "--json").out)
    assert (answer["off"], answer["flags"], answer["finished"]) == ({}, [], False)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('{"id": "e9", "kind": "off", "at": ', "line 2: The line ends in the middle of an entry."),
        ("strip the cover", "line 2: The entry is not JSON from character 1 on."),
        (
            log({"kind": "off", "part": "pistn"}).strip(),
            "line 2: `part`: this machine has no part 'pistn'; did you mean 'piston'?",
        ),
        (log({"kind": "of", "part": "rod"}).strip(), "line 2: There is no entry of kind 'of'"),
        (log({"kind": "off", "part": "rod", "at": "9 o'clock"}).strip(), "line 2: `at` is not a time with an offset"),
        (
            log({"kind": "reading", "check": "rod-length", "values": [{"value": "long"}], "unit": "in"}).strip(),
            "line 2: `values`: readings are a list like",
        ),
        (
            log({"kind": "reading", "check": "rod-length", "values": [{"value": 3.9}], "unit": "N·m"}).strip(),
            "line 2: N·m is a torque, in a length: write it in in.",
        ),
        (
            log({"kind": "reading", "check": "rod-length", "values": [{"value": 3.9}], "unit": ["in"]}).strip(),
            "line 2: `unit`: the name of a unit belongs here, not ['in'].",
        ),
        (log({"kind": ["off"], "part": "rod"}).strip(), "line 2: There is no entry of kind ['off']"),
    ],
)
def test_a_line_that_is_no_entry_is_named_and_nothing_is_printed(
    fingertight: Typing, hand_pump: str, line: str, said: str
) -> None:
    screen = fingertight("replay", hand_pump, "-", sent=log(COVER_OFF) + line)
    assert (screen.status, screen.out) == (2, "")
    assert screen.err.startswith(f"fingertight: standard input, {said}")
    assert screen.err.count("\n") == 1


def test_every_wrong_line_is_named_by_its_number_past_blank_ones(fingertight: Typing, hand_pump: str) -> None:
    wrong = log({"kind": "off", "part": "nose"}).strip()
    screen = fingertight("replay", hand_pump, "-", sent=f"\n{wrong}\n\n{wrong}\n")
    assert [line.split(":")[-3].strip() for line in screen.err.splitlines()] == [
        "standard input, line 2",
        "standard input, line 4",
    ]


def test_a_log_of_a_thousand_wrong_lines_is_not_a_thousand_sentences(fingertight: Typing, hand_pump: str) -> None:
    screen = fingertight("replay", hand_pump, "-", sent=log({"kind": "off", "part": "nose"}) * 1000)
    assert len(screen.err.splitlines()) == 21
    assert screen.err.endswith("standard input: 980 more lines are no entries of this machine.\n")


def test_a_utf_16_log_is_said_to_be_one(fingertight: Typing, hand_pump: str, tmp_path: Path) -> None:
    file = tmp_path / "log.jsonl"
    file.write_bytes(STRIP.encode("utf-16"))
    screen = fingertight("replay", hand_pump, str(file))
    assert (screen.status, screen.out) == (2, "")
    assert "is not UTF-8 text (perhaps UTF-16). Save the file as UTF-8 and try again.\n" in screen.err


def test_standard_input_cannot_be_two_files(fingertight: Typing) -> None:
    expected = "fingertight: Only one of ANATOMY and LOG can come from standard input. Give the other as a file.\n"
    assert fingertight("replay", "-", "-") == (2, "", expected)
