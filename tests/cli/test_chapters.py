"""`chapters` as people type it: a list, a file for a browser or for ffmpeg, a log from captions; and every slip."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from tests.cli.conftest import Typing

VICE = ("chapters", "examples/bench-vice.toml", "examples/logs/bench-vice.jsonl")
ENGINE = "examples/pump-engine.toml"
WORDS = ("chapters", ENGINE, "--captions", "examples/captions/pump-engine.vtt")
NINE = "0:00=2026-03-05T09:00:00+01:00"


def test_a_list_of_chapters_and_of_what_has_none(fingertight: Typing) -> None:
    assert fingertight(*VICE, "--mark", "0:42=slide", "--length", "9:00") == (
        0,
        "Bench vice, 100 mm jaws: 5 chapters\n"
        "\n"
        "  0:00 – 0:42  Slide with the moving jaw off\n"
        "  0:42 – 4:19  Collar and split pin off\n"
        "  4:19 – 5:51  Opening spring off\n"
        "  5:51 – 6:48  Thrust washer off\n"
        "  6:48 – 8:48  Screw off\n"
        "\n"
        "The film begins after its log: 4 moves come before its start.\n"
        "The film is shorter than its log: 11 moves come after its end at 9:00.\n",
        "",
    )


def test_the_file_is_printed_or_written_the_same(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "vice.vtt"
    mark = ("--mark", "0:42=slide")
    printed = fingertight(*VICE, *mark, "--format", "vtt").out
    assert printed.startswith("WEBVTT\n\n00:00:00.000 --> 00:00:42.000\nSlide with the moving jaw off\n\n")
    assert fingertight(*VICE, *mark, "-o", str(file)).out.startswith(
        f"{file}: 16 chapters of Bench vice, 100 mm jaws.\n"
    )
    assert file.read_text("utf-8") == printed
    assert fingertight(*VICE, *mark, "--format", "ffmetadata").out.startswith(";FFMETADATA1\ntitle=Bench vice")


def test_a_film_before_or_after_everything_has_no_chapters_and_that_is_a_no(fingertight: Typing) -> None:
    assert fingertight(*VICE, "--mark", "0:00=2020-01-01T09:00:00Z", "--length", "10:00") == (
        1,
        "Bench vice, 100 mm jaws: 0 chapters\n\n"
        "The film is shorter than its log: 20 moves come after its end at 10:00.\n",
        "",
    )


def test_captions_become_a_log_and_the_log_becomes_chapters(fingertight: Typing, tmp_path: Path) -> None:
    log = tmp_path / "demo.jsonl"
    screen = fingertight(*WORDS, "--mark", NINE, "-o", str(log))
    assert screen.status == 0
    assert screen.out.startswith("Pump engine, 163 cm³, with reduction case: 38 moves found in the captions\n\n")
    assert screen.out.endswith(f"{log}: a log of 38 moves, to be looked through before it is used.\n")
    once = log.read_bytes()
    fingertight(*WORDS, "--mark", NINE, "-o", str(log))
    assert log.read_bytes() == once, "made anew it is the same log, with the same ids"
    said = json.loads(fingertight("chapters", ENGINE, str(log), "--mark", NINE, "--json").out)
    found = json.loads(fingertight(*WORDS, "--json").out)
    ends = {one["part"]: one["ends_s"] for one in said["chapters"]}
    assert ends == {one["part"]: one["at_s"] for one in found["proposals"]}


def test_what_is_dragged_gets_an_id_of_its_own(fingertight: Typing, tmp_path: Path) -> None:
    ids = []
    for put in ((), ("--put", "coil=8:40"), ("--put", "coil=no")):
        log = tmp_path / "demo.jsonl"
        fingertight(*WORDS, "--mark", NINE, *put, "-o", str(log))
        entries = [json.loads(line) for line in log.read_text("utf-8").splitlines()]
        ids.append([one["id"] for one in entries if one["part"] == "coil"])
    assert [len(one) for one in ids] == [1, 1, 0]
    assert ids[0] != ids[1]


def test_a_proposal_that_is_less_sure_says_why(fingertight: Typing) -> None:
    assert (
        "   8:59  0.35 look     Ignition coil off\n        “coil” is said. No word says that it comes off.\n"
    ) in fingertight(*WORDS).out


def test_captions_about_something_else_are_a_no(fingertight: Typing) -> None:
    captions = "WEBVTT\n\n00:01.000 --> 00:04.000\nHello and welcome to this.\n"
    assert fingertight("chapters", ENGINE, "--captions", "-", sent=captions) == (
        1,
        "Pump engine, 163 cm³, with reduction case: 0 moves found in the captions\n\n"
        "The captions name no part that comes off or goes on. Is this the film of this machine?\n",
        "",
    )


@pytest.mark.parametrize(
    "arguments",
    [
        (*VICE, "--mark", "0:42=slide", "--length", "9:00"),
        (*VICE, "--mark", "0:00=2020-01-01T09:00:00Z"),
        WORDS,
        (*WORDS, "--put", "coil=8:40", "--also", "fan=the blades"),
    ],
)
def test_every_answer_fits_its_schema(fingertight: Typing, arguments: tuple[str, ...]) -> None:
    schema: dict[str, Any] = json.loads(fingertight("schema", "chapters").out)
    answer = json.loads(fingertight(*arguments, "--json").out)
    jsonschema.validate(answer, schema)
    for key in answer:
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate({name: value for name, value in answer.items() if name != key}, schema)


MARKED = ("--mark", "0:42=slide")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (VICE, "--mark is missing. --mark lines the film up with the log: FILM=LOG, for example 0:42="),
        (VICE[:2], "Give a LOG to make chapters from, or --captions to find the moves of one: one of the two."),
        ((*VICE, *MARKED * 3), "--mark: one mark is enough, two where the film runs off; leave the others out."),
        ((*VICE, *MARKED, *MARKED), "--mark: The marks 0:42 and 0:42 of the film are not in the order of the log."),
        (
            (*VICE, "--mark", "0:42=slid"),
            "--mark: “slid” is neither a time nor a move; write ",
        ),
        ((*VICE, *MARKED, "--length", "long"), "--length: “long” is no time of a film; write it as 12:34, 1:02:03.5"),
        (
            (*VICE, *MARKED, "-o", "a.txt"),
            "--output: a.txt does not end in .vtt; say --format ",
        ),
        (
            (*VICE, *MARKED, "-o", "a.toml"),
            "--output: a.toml is a name of a machine file or a log; ",
        ),
        ((*VICE, *MARKED, "-o", VICE[2]), f"--output: {VICE[2]} is read here and would be written over. "),
        ((*VICE, *MARKED, "--put", "nut=1"), "--put and --also belong to --captions; a log "),
        (("chapters", "-", "-", *MARKED), "Only one file can come from standard input. Give the others as files."),
        ((*WORDS, "-o", "a.vtt"), "--output: a.vtt is no name of a log; write one that ends in .jsonl."),
        ((*WORDS, "-o", "a.jsonl"), "--mark is missing: a log needs the time of day. --mark lines the film up"),
        (
            (*WORDS, "--mark", "0=coil"),
            "--mark: “coil” is not a time with its offset; write it as ",
        ),
        (
            (*WORDS, "--length", "9:00"),
            "--format and --length belong to a LOG: write the log first ",
        ),
        ((*WORDS, "--put", "coil"), "--put: “coil” is no move; write PART=TIME: coil=8:40, on:coil="),
        ((*WORDS, "--put", "coil=soon"), "--put: “soon” is no time of a film; write it as 12:34, 1:02:03.5 or, in "),
        ((*WORDS, "--put", "col=1:00"), "--put: Pump engine, 163 cm³, with reduction case has no part “col”. "),
        (
            (*WORDS, "--put", "crankcase=1:00"),
            "--put: Crankcase with cylinder (crankcase) stays, ",
        ),
        ((*WORDS, "--also", "coil"), "--also: “coil” says no words; write PART=WORDS, for example coil=magneto."),
        (
            ("chapters", ENGINE, "--captions", "README.md"),
            "README.md: these are no captions: no line ",
        ),
    ],
)
def test_every_slip_is_answered_with_a_sentence_and_nothing_is_written(
    fingertight: Typing, arguments: tuple[str, ...], said: str
) -> None:
    status, out, err = fingertight(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith(f"fingertight: {said}")
