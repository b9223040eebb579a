"""The journey of a measurement (docs/map.md): typed, read, kept as read, judged with its uncertainty, shown."""

import json
import math
import sys
from io import BytesIO, StringIO
from pathlib import Path

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.cards.replay import ReadingCard, replay_card
from fingertight.cli.frame import answer
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.quantity import read_quantity

MACHINE = """\
format = 1
[machine]
name = "Small engine"

[[instrument]]
id = "bore-gauge"
resolution = 0.01
error = 0.005

[[part]]
id = "crankcase"
stays = true

[[part]]
id = "piston"

[[check]]
id = "bore"
name = "Cylinder bore"
part = "crankcase"
bare = ["piston"]
at = ["top"]
instrument = "bore-gauge"
new = [68.000, 68.015]
max = 68.165
"""

# GUM (JCGM 100:2008) 4.3.7 and F.2.2.1: half a step and the maker's limits, both rectangular, expanded with k = 2.
U_MM = 2 * math.sqrt((0.01 / 2) ** 2 / 3 + 0.005**2 / 3)


@pytest.fixture
def anatomy() -> Anatomy:
    """The engine, read from its text."""
    read_anatomy = read(MACHINE).anatomy
    assert read_anatomy is not None
    return read_anatomy


def _entries(typed: str) -> list[dict[str, object]]:
    value, unit = read_quantity(typed, "mm")
    return [
        {"id": "1", "kind": "off", "at": "2026-03-05T09:00:00+01:00", "by": "s-07", "part": "piston", "bag": "1"},
        {
            "id": "2",
            "kind": "reading",
            "at": "2026-03-05T09:05:00+01:00",
            "by": "s-07",
            "check": "bore",
            "values": [{"at": "top", "value": value}],
            "unit": unit,
            "instrument": "bore-gauge",
            "typed": typed,
        },
    ]


@pytest.mark.parametrize(
    ("typed", "verdict", "margin_mm"),
    [
        ("68,02", "good", 0.145),
        ("68.17", "too close to call", -0.005),
        ("68.18 mm", "worn", -0.015),
        ("2.684 in", "worn", 68.165 - 2.684 * 25.4),
    ],
)
def test_what_was_typed_becomes_a_verdict_with_its_margin(
    anatomy: Anatomy, typed: str, verdict: str, margin_mm: float
) -> None:
    ledger = Ledger(Plan(anatomy))
    for entry in _entries(typed):
        ledger.hear(entry)
    reading = replay_card(ledger).readings["bore"]
    assert isinstance(reading, ReadingCard)
    assert (reading.verdict.value, reading.unit) == (verdict, "mm")
    assert reading.margin == pytest.approx(margin_mm, abs=1e-9)
    assert reading.uncertainty == pytest.approx(U_MM, abs=1e-9)


def test_the_text_as_typed_is_still_in_the_log(anatomy: Anatomy) -> None:
    ledger = Ledger(Plan(anatomy))
    for entry in _entries("68,02"):
        ledger.hear(entry)
    assert [entry.said.get("typed") for entry in ledger.entries] == [None, "68,02"]


def test_a_corrected_limit_corrects_the_verdict(anatomy: Anatomy) -> None:
    corrected = read(MACHINE.replace("max = 68.165", "max = 68.200")).anatomy
    assert corrected is not None
    verdicts = []
    for machine in (anatomy, corrected):
        ledger = Ledger(Plan(machine))
        for entry in _entries("68.18"):
            ledger.hear(entry)
        verdicts.append(replay_card(ledger).readings["bore"].verdict.value)
    assert verdicts == ["worn", "good"]


def test_the_command_line_walks_the_same_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    machine = tmp_path / "engine.toml"
    machine.write_text(MACHINE, "utf-8")
    standard_input = StringIO()
    standard_input.buffer = BytesIO("\n".join(map(json.dumps, _entries("68.17"))).encode())  # type: ignore[attr-defined]
    monkeypatch.setattr(sys, "stdin", standard_input)
    assert answer(["replay", str(machine), "-", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["readings"] == {
        "bore": {
            "verdict": "too close to call",
            "worst": 68.17,
            "margin_mm": -0.005,
            "U_mm": pytest.approx(U_MM, abs=1e-9),
        }
    }
