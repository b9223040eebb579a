"""`learn` as it is typed: logs in, who blocks whom out, answers kept in a file, a machine file written."""

import json
import tomllib
from pathlib import Path

import pytest

from fingertight.anatomy.read import read
from tests.cli.conftest import Typing

STRIPS = (["guard", "fan", "exhaust"], ["guard", "exhaust", "fan"])


def log(folder: Path, number: int, *parts: str) -> str:
    """A bench log that takes these parts off; its name."""
    lines = [
        {"id": f"{number}-{nth}", "kind": "off", "at": "2026-03-05T09:00:00+00:00", "by": "p", "part": part, "bag": "1"}
        for nth, part in enumerate(parts)
    ]
    file = folder / f"bench-{number}.jsonl"
    file.write_text("".join(f"{json.dumps(line)}\n" for line in lines), "utf-8")
    return str(file)


def test_two_strips_tell_more_than_one(fingertight: Typing, tmp_path: Path) -> None:
    one, two = (log(tmp_path, nth, *parts) for nth, parts in enumerate(STRIPS))
    alone = json.loads(fingertight("learn", one, "--json").out)
    both = json.loads(fingertight("learn", one, two, "--json").out)
    assert alone["parts"][2] == {"part": "exhaust", "surely": [], "likely": ["fan"], "ways": []}
    assert both["parts"][2] == {"part": "exhaust", "surely": [], "likely": ["guard"], "ways": []}
    assert (alone["strips"], both["strips"]) == (1, 2)
    assert both["unsettled"] < alone["unsettled"]


def test_answers_are_asked_at_the_terminal_and_kept(fingertight: Typing, tmp_path: Path) -> None:
    first, answers = log(tmp_path, 1, *STRIPS[0]), tmp_path / "answers.jsonl"
    said = fingertight("learn", first, "--ask", "--answers", str(answers), sent="n\nperhaps\ny\n\n")
    assert "Could the fan have come off with the guard still on?" in said.err
    assert "Type y for yes, n for no, ? for don't know, or nothing to stop." in said.err
    kept = [json.loads(line) for line in answers.read_text("utf-8").splitlines()]
    assert [(one["part"], one["said"]) for one in kept] == [("fan", "no"), ("exhaust", "yes")]
    again = fingertight("learn", first, "--answers", str(answers))
    assert "2 answers" in again.out
    assert "fan      after guard" in again.out


def test_a_machine_file_is_written_and_is_one(fingertight: Typing, tmp_path: Path) -> None:
    first, made = log(tmp_path, 1, *STRIPS[0]), tmp_path / "pump.toml"
    assert fingertight("learn", first, "-o", str(made), "--name", "Pump").status == 0
    assert read(made.read_text("utf-8")).anatomy is not None
    assert tomllib.loads(made.read_text("utf-8"))["machine"]["name"] == "Pump"


def test_what_contradicts_a_strip_is_said_with_its_mend_and_the_answer_is_no(
    fingertight: Typing, tmp_path: Path
) -> None:
    first, answers = log(tmp_path, 1, *STRIPS[0]), tmp_path / "answers.jsonl"
    answers.write_text('{"part": "guard", "on": ["fan"], "said": "no", "by": "Ann"}\n', "utf-8")
    said = fingertight("learn", first, "--answers", str(answers))
    assert said.status == 1
    assert "This does not go together" in said.out
    assert "ask Ann again" in " ".join(said.out.split())


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (["learn", "nowhere.jsonl"], "there is no such file"),
        (["learn", "LOG", "-o", "pump.pdf"], "is no name of a machine file; write one that ends in .toml."),
        (["learn", "LOG", "--answers", "LOG"], "line 1: this is no answer. Write it as"),
        (["learn", "EMPTY", "-o", "pump.toml"], "No part came off in any of these logs"),
    ],
)
def test_what_cannot_be_is_a_sentence(fingertight: Typing, tmp_path: Path, typed: list[str], sentence: str) -> None:
    files = {"LOG": log(tmp_path, 1, *STRIPS[0]), "EMPTY": log(tmp_path, 2)}
    said = fingertight(*(files.get(word, word) for word in typed))
    assert said.status == 2
    assert sentence in said.err
