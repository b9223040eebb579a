"""Whatever stands in a log, the answer is a card or a sentence: never a fault of ours, never a half-printed page."""

import json
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fingertight.ledger.kinds import ENTRY_KINDS, FLAG_KINDS
from tests.cli.conftest import Typing

PARTS = ["cover", "valve", "piston", "rod"]
HELD = """
with = [{ name = "dowel", single_use = true }]
record = ["photo"]
  [[part.held_by]]
  thread = "M6"
  length = 20
  count = 4
  torque = 10
  passes = [0.5, 1]
"""
MACHINE = f"""
format = 1
[machine]
name = "Hand pump"
[[part]]
id = "cover"
ask = [{{ question = "Arrow up?", answers = ["yes", "no"], right = "yes" }}]
{HELD}
[[part]]
id = "valve"
behind = ["cover"]
places = ["inlet", "outlet"]
{HELD}
[[part]]
id = "piston"
ways = [["cover"], ["rod"]]
{HELD}
[[part]]
id = "rod"
fit_after = ["piston"]
{HELD}
[[check]]
id = "rod-length"
part = "rod"
bare = ["cover"]
unit = "in"
max = 4.0
[[setting]]
id = "lash"
before = ["cover"]
range = [0.1, 0.2]
[[sign]]
id = "marks"
stage = "rebuild"
before = ["piston"]
"""
ODD = st.sampled_from(
    [None, True, -1, 0, 1, 3.9, 1e308, 10**30, "", "inlet", "in", "mm", [], {}, [None], [{}], {"a": 1}]
)
FIELDS = {
    "part": st.sampled_from(PARTS),
    "bag": st.sampled_from(["1", "2", None]),
    "counts": st.dictionaries(st.sampled_from(["M6x20", "dowel"]), st.integers(0, 5), max_size=2),
    "bags": st.dictionaries(st.sampled_from(["1", "2"]), st.just({"M6x20": 3}), max_size=2),
    "tools": st.just({"drift": 1}),
    "set": st.integers(0, 1),
    "pass": st.integers(0, 1),
    "torque": st.floats(0, 20),
    "check": st.just("rod-length"),
    "values": st.lists(st.fixed_dictionaries({"value": st.floats(0, 9)}), min_size=1, max_size=4),
    "verdict": st.sampled_from(["good", "worn"]),
    "setting": st.just("lash"),
    "value": st.floats(0, 1),
    "answers": st.lists(st.sampled_from(["yes", "no"]), max_size=2),
    "sign": st.just("marks"),
    "item": st.sampled_from(["M6x20", "dowel"]),
    "count": st.integers(0, 3),
    "tool": st.just("drift"),
    "way": st.sampled_from(["out", "in"]),
    "state": st.sampled_from(["asked", "given"]),
    "entry": st.sampled_from(["e1", "e2", "e3", "e9"]),
    "flag": st.sampled_from(sorted(FLAG_KINDS)),
    "reason": st.just("it is a cutaway"),
    "skew_s": st.sampled_from([0, 3600, -3600]),
    "as": st.sampled_from(["student", "instructor"]),
}


@st.composite
def logs(draw: st.DrawFn) -> str:
    """A log of entries that mostly make sense, in any order, now and then with a field that does not."""
    lines = []
    for number in range(1, draw(st.integers(1, 10)) + 1):
        kind = draw(st.sampled_from(sorted(ENTRY_KINDS)))
        entry: dict[str, Any] = {"id": f"e{number}", "kind": kind, "at": f"2026-03-05T09:{number:02}:00Z", "by": "s"}
        entry |= {field.name: draw(FIELDS[field.name]) for field in ENTRY_KINDS[kind].fields if field.name in FIELDS}
        if entry.get("part") == "valve" and kind in {"off", "on", "tighten"}:
            entry["place"] = draw(st.sampled_from(["inlet", "outlet"]))
        if kind in {"tighten", "reading"}:
            entry["unit"] = draw(st.sampled_from(["in", "mm"] if kind == "reading" else ["N·m", "lb·ft"]))
        if draw(st.integers(0, 29)) == 0:
            entry[draw(st.sampled_from([*FIELDS, "id", "kind", "at"]))] = draw(ODD)
        lines.append(json.dumps({name: value for name, value in entry.items() if value is not None}))
    return "\n".join(lines)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(log=logs(), with_json=st.booleans())
def test_any_log_is_answered_by_a_card_or_by_sentences(
    fingertight: Typing, tmp_path: Path, log: str, with_json: bool
) -> None:
    machine = tmp_path / "machine.toml"
    machine.write_text(MACHINE, "utf-8")
    screen = fingertight("replay", str(machine), "-", *(["--json"] if with_json else []), sent=log)
    assert "fault in fingertight" not in screen.err
    if screen.status == 2:
        assert screen.out == ""
        assert screen.err.startswith("fingertight: standard input, line ")
    else:
        assert screen.err == ""
        assert not with_json or any(flag["open"] for flag in json.loads(screen.out)["flags"]) is (screen.status == 1)
