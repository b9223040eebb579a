"""Every answer and every file fits its published schema, by another library's judgement than the one that made it."""

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from fingertight.cli.frame import all_parsers
from tests.cli.conftest import HAND_PUMP, Typing
from tests.cli.test_machine import RINGED
from tests.cli.test_replay import STRIP

COMMANDS = all_parsers()[1]
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.fixture
def schemas(fingertight: Typing) -> dict[str, dict[str, Any]]:
    """What `fingertight schema` prints, files and answers together."""
    said = json.loads(fingertight("schema").out)
    return {**said["files"], **said["answers"]}


WITHOUT = {"schema", "serve", "people", "classes", "backup", "restore"}
"""They print no JSON: a schema is JSON itself, the owner reads the others."""


def test_every_schema_is_one(schemas: dict[str, dict[str, Any]]) -> None:
    assert set(schemas) == {"anatomy", "log-entry", *COMMANDS} - {
        "schema",
        "serve",
        "people",
        "classes",
        "backup",
        "restore",
    }
    for schema in schemas.values():
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
        jsonschema.Draft202012Validator.check_schema(schema)


ANSWERS: list[tuple[tuple[str, ...], str]] = [
    (("difference", "-", "examples/bench-vice.toml"), HAND_PUMP),
    (("check", "-"), HAND_PUMP),
    (("check", "-"), RINGED.replace("stays", "stay")),
    (("order", "-"), HAND_PUMP),
    (("order", "-", "--rebuild"), HAND_PUMP),
    (("order", "-", "--to", "piston"), HAND_PUMP),
    (("order", "-"), RINGED),
    (("moves", "-", "--off", "cover"), HAND_PUMP),
    (("moves", "-", "--off", "valve"), HAND_PUMP),
]


@pytest.mark.parametrize(("arguments", "sent"), ANSWERS)
def test_an_answer_fits_its_schema(
    fingertight: Typing, schemas: dict[str, dict[str, Any]], arguments: tuple[str, ...], sent: str
) -> None:
    answer = json.loads(fingertight(*arguments, "--json", sent=sent).out)
    jsonschema.validate(answer, schemas[arguments[0]])
    for key in answer:
        without = {name: value for name, value in answer.items() if name != key}
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(without, schemas[arguments[0]])


SUMS = [
    ("thread", "M8x1"),
    ("thread", "M6x0.8"),
    ("thread", "10 mm"),
    ("thread", "G1/8"),
    ("identify", "5.9 mm, 10 threads in 10 mm"),
    ("identify", "3 m"),
    ("identify", "9.6 mm, 28 tpi"),
    ("spanner", "M8"),
    ("spanner", "13 mm"),
    ("spanner", "7/16 in", "--on", "10 mm"),
    ("spanner", "12 mm", "--on", "M8"),
    ("torque", "M8", "--grade", "8.8"),
    ("torque", "M8", "--grade", "8.8", "--torque", "80", "--into", "aluminium", "--engaged", "8", "--grip", "20"),
    ("wrench", "30", "--arm", "300", "--extension", "75"),
    ("pattern", "ring 8", "--order", "1,2,3,4,5,6,7,8", "--torque", "10"),
    ("pattern", "0 0"),
    ("measure", "68.163", "--max", "68.165", "--new", "68.000 68.015", "--error", "0.005"),
    ("measure", "67.95 67.96", "--min", "67.845", "--temperature", "35", "--material", "aluminium"),
    ("instrument", "bore-gauge-0.01", "68.05", "--zero", "68"),
    ("bore", "top 68.05 68.06; bottom 68.03 68.04", "--max", "68.165", "--taper-max", "0.05"),
    ("clearance", "68.06", "67.96", "--max", "0.12", "--outer-error", "0.005", "--inner-error", "0.005"),
    (
        "clearance",
        "68.06",
        "67.96",
        "--outer-material",
        "cast iron",
        "--inner-material",
        "aluminium",
        "--outer-warm",
        "90",
        "--inner-warm",
        "110",
    ),
    ("shim", "0.47", "--wanted", "0.05 0.25", "--shims", "0.1 0.2 0.3"),
    ("runout", "0 0.01 0.03 0.04 0.03 0.01 0 -0.01", "--max", "0.04"),
    ("fit", "25 H7/g6", "--shaft", "24.99"),
    ("study", "tests/outside/ten-parts-three-people.csv", "--min", "-4", "--max", "4"),
    ("piston", "23 before", "--stroke", "45", "--rod", "84", "--depth", "2.5", "--speed", "3000"),
    ("tdc", "31 before", "37 after", "--stroke", "45", "--rod", "84", "--depth", "5"),
    ("tdc", "329", "37"),
    ("timing", "--inlet-opens", "15", "--inlet-closes", "45", "--exhaust-opens", "70", "--exhaust-closes", "10"),
    ("timing", "--inlet-centre", "107", "--inlet-duration", "230", "--spark", "28"),
    ("teeth", "--crank-teeth", "22", "--inlet-centre", "107", "--found-inlet-centre", "123"),
    ("teeth", "--crank-teeth", "22", "--dots", "1 tooth behind"),
    ("rim", "180 mm", "--angle", "23", "--distance", "36"),
    ("feeler", "0.15 goes, 0.20 does not", "--range", "0.13 to 0.17", "--pitch", "0.75"),
    ("feeler", "0.25 + 0.20"),
    ("coil", "3 mm", "--cards", "10", "--runout", "0.05"),
    ("ring-gap", "0.45; 0.38; 0.35", "--depths", "10; 45; 90", "--new", "0.25 to 0.40", "--max", "1.0"),
    ("compression", "68", "45", "--chamber", "21.5", "--wanted", "9"),
    ("cranking", "8.6", "--closes", "42", "--stroke", "45", "--rod", "84", "--measured", "100 psi", "--wet", "120 psi"),
    ("leakdown", "60 psi", "--supply", "80 psi"),
    ("clutch", "4", "--mass", "60", "--radius", "30", "--drum", "80", "--spring", "40", "--torque", "12"),
    ("ratio", "18:36 chain, 15:60", "--speed", "3600", "--torque", "8"),
    ("chain", "08B", "--small", "18", "--large", "36", "--centre", "120", "--measured", "130", "--over", "10"),
    ("chain", "12.7 mm"),
    ("oil", "engine: full 600, stays 40, marks 150, stands half; clutch: full 450", "--grade", "10W-40"),
    ("bolt", "examples/pump-engine.toml", "M6x28 hex flange"),
    ("bolt", "examples/pump-engine.toml", "M3"),
    ("tray", "examples/pump-engine.toml", "examples/trays/pump-engine.txt"),
]


@pytest.mark.parametrize("arguments", SUMS, ids=" ".join)
def test_the_answer_to_a_sum_fits_its_schema_and_no_key_is_idle(
    fingertight: Typing, schemas: dict[str, dict[str, Any]], arguments: tuple[str, ...]
) -> None:
    screen = fingertight(*arguments, "--json")
    assert screen.err == ""
    answer = json.loads(screen.out)
    jsonschema.validate(answer, schemas[arguments[0]])
    assert not {"NaN", "Infinity"} & set(re.findall(r"NaN|Infinity", screen.out)), "no program reads these"


def test_the_answer_to_a_log_fits_its_schema(
    fingertight: Typing, schemas: dict[str, dict[str, Any]], hand_pump: str
) -> None:
    answer = json.loads(fingertight("replay", hand_pump, "-", "--json", sent=STRIP).out)
    jsonschema.validate(answer, schemas["replay"])
    assert answer["readings"]
    answer["readings"]["rod-length"]["verdict"] = "fine"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(answer, schemas["replay"])


def test_the_answer_to_labels_fits_its_schema(
    fingertight: Typing, schemas: dict[str, dict[str, Any]], hand_pump: str, tmp_path: Path
) -> None:
    answer = json.loads(fingertight("labels", hand_pump, "-o", str(tmp_path / "l.pdf"), "--json").out)
    jsonschema.validate(answer, schemas["labels"])


@pytest.mark.parametrize("paper", [("wheel", "--hole", "17"), ("tape", "--flywheel", "178")], ids=" ".join)
def test_the_answer_to_a_paper_for_timing_fits_its_schema(
    fingertight: Typing, schemas: dict[str, dict[str, Any]], paper: tuple[str, ...], tmp_path: Path
) -> None:
    answer = json.loads(fingertight(*paper, "-o", str(tmp_path / "p.pdf"), "--json").out)
    jsonschema.validate(answer, schemas[paper[0]])


@pytest.mark.parametrize("machine", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_machine_fits_the_schema(schemas: dict[str, dict[str, Any]], machine: Path) -> None:
    said = tomllib.loads(machine.read_text("utf-8"))
    jsonschema.validate(said, schemas["anatomy"])
    said["part"][0]["behnd"] = []
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(said, schemas["anatomy"])


@pytest.mark.parametrize("log", sorted((EXAMPLES[0].parent / "logs").glob("*.jsonl")), ids=lambda path: path.stem)
def test_every_line_of_every_example_log_fits_the_schema(schemas: dict[str, dict[str, Any]], log: Path) -> None:
    validator = jsonschema.Draft202012Validator(schemas["log-entry"])
    for line in log.read_text("utf-8").splitlines():
        validator.validate(json.loads(line))


@pytest.mark.parametrize(
    "entry",
    [
        {"id": "e1", "kind": "off", "at": "2026-03-05T09:00:00Z"},
        {"id": "e1", "kind": "of", "at": "2026-03-05T09:00:00Z", "part": "rod"},
        {"kind": "off", "at": "2026-03-05T09:00:00Z", "part": "rod"},
        {"id": "e1", "kind": "count", "at": "2026-03-05T09:00:00Z", "bags": {"1": {"M6x20": -1}}},
        {"id": "e1", "kind": "decide", "at": "2026-03-05T09:00:00Z", "check": "bore", "verdict": "fine"},
    ],
)
def test_a_line_that_is_no_entry_does_not_fit_the_schema(
    schemas: dict[str, dict[str, Any]], entry: dict[str, Any]
) -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(entry, schemas["log-entry"])


def test_one_schema_is_printed_by_its_name(fingertight: Typing, schemas: dict[str, dict[str, Any]]) -> None:
    assert json.loads(fingertight("schema", "log-entry").out) == schemas["log-entry"]


def test_an_unknown_schema_names_the_nearest_or_all(fingertight: Typing) -> None:
    assert fingertight("schema", "anatmy") == (
        2,
        "",
        "fingertight: There is no schema “anatmy”. Did you mean “anatomy”?\n",
    )
    said = fingertight("schema", "xyz").err
    assert said.startswith(
        "fingertight: There is no schema “xyz”. There are anatomy, log-entry, check, difference, order, layout, learn, "
    )
