"""The example logs: the honest ones raise nothing, the others raise what was planted, and a script makes them all."""

import json
import subprocess
import sys
import tomllib
from collections import Counter
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.ledger import FLAG_KINDS, Ledger, Plan, replay

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MACHINES = ("bench-vice", "hand-winch", "pump-engine")
LOGS = [name for machine in MACHINES for name in (machine, f"{machine}-mistakes")]


def _said(log: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in (EXAMPLES / "logs" / f"{log}.jsonl").read_text("utf-8").splitlines()]


def _replayed(log: str, said: list[dict[str, Any]] | None = None) -> Ledger:
    text = (EXAMPLES / f"{log.removesuffix('-mistakes')}.toml").read_text("utf-8")
    return replay(Plan(Anatomy.model_validate(tomllib.loads(text))), said if said is not None else _said(log))


def _flags(ledger: Ledger) -> list[tuple[str, str, str]]:
    return [(flag.entry, flag.kind, flag.status) for flag in ledger.state.flags]


def test_the_script_makes_the_same_bytes_as_are_kept(tmp_path: Path) -> None:
    made = subprocess.run(
        [sys.executable, str(EXAMPLES / "make_logs.py"), str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert made.returncode == 0, made.stderr
    kept = {path.name: path.read_bytes() for path in (EXAMPLES / "logs").iterdir()}
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == kept
    assert set(kept) == {f"{log}.jsonl" for log in LOGS}


@pytest.mark.parametrize("machine", MACHINES)
def test_an_honest_job_raises_no_flag_and_is_finished(machine: str) -> None:
    ledger = _replayed(machine)
    assert [flag.text for flag in ledger.state.flags] == []
    assert ledger.state.finished
    assert not ledger.state.empty, "everything is on again"


@pytest.mark.parametrize("machine", MACHINES)
def test_an_honest_job_strips_the_whole_machine(machine: str) -> None:
    said = _said(machine)
    text = (EXAMPLES / f"{machine}.toml").read_text("utf-8")
    parts = {part["id"] for part in tomllib.loads(text)["part"] if not part.get("stays")}
    named = {kind: {each["part"] for each in said if each["kind"] == kind} for kind in ("off", "on", "absent")}
    assert named["off"] == named["on"] == parts - named["absent"]


@pytest.mark.parametrize("machine", MACHINES)
def test_planted_mistakes_are_flagged_each_by_its_entry_and_nothing_else_is(machine: str) -> None:
    log = f"{machine}-mistakes"
    planted = Counter((each["id"], each["planted"]) for each in _said(log) if "planted" in each)
    assert Counter((flag.entry, flag.kind) for flag in _replayed(log).state.flags) == planted


def test_the_pump_engine_shows_every_kind_of_flag() -> None:
    shown = {each["planted"] for each in _said("pump-engine-mistakes") if "planted" in each}
    assert shown == set(FLAG_KINDS)


@pytest.mark.parametrize("machine", MACHINES)
def test_some_mistakes_are_mended_some_are_open_and_one_is_set_aside(machine: str) -> None:
    ledger = _replayed(f"{machine}-mistakes")
    status = Counter(flag.status for flag in ledger.state.flags)
    assert status["mended"] >= 2
    assert status["open"] >= 2
    assert status["aside"] == 1
    assert not ledger.state.finished


@pytest.mark.parametrize("log", LOGS)
def test_arriving_backwards_and_twice_changes_nothing(log: str) -> None:
    said = _said(log)
    assert _flags(_replayed(log, [*reversed(said), *said])) == _flags(_replayed(log))


@pytest.mark.parametrize("log", LOGS)
def test_a_log_runs_over_several_lessons_of_2026_with_people_and_offsets(log: str) -> None:
    said = _said(log)
    assert {each["by"] for each in said} == {"s-07", "s-08", "t-01"}
    assert {each["as"] for each in said if each["by"] == "t-01"} == {"instructor"}
    times = [datetime.fromisoformat(each["at"]) for each in said]
    assert all(time.utcoffset() is not None and time.year == 2026 for time in times)
    assert len({time.date() for time in times}) >= 2


@pytest.mark.parametrize("log", LOGS)
def test_an_id_is_a_uuid_of_version_7_with_the_devices_time_in_it(log: str) -> None:
    for each in _said(log):
        digits = each["id"].replace("-", "")
        assert digits[12] == "7"
        assert int(digits[:12], 16) == round(datetime.fromisoformat(each["at"]).timestamp() * 1000)


def test_honest_logs_hold_a_late_picture_a_doubled_line_and_an_entry_taken_back() -> None:
    said = _said("pump-engine")
    ids = [each["id"] for each in said]
    assert len(ids) == len(set(ids)) + 1
    assert any(each["kind"] == "undo" for each in said)
    times = [datetime.fromisoformat(each["at"]).timestamp() + each.get("skew_s", 0) for each in said]
    assert times != sorted(times)
