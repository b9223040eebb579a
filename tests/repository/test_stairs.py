"""The import stairs of docs/map.md hold, and every room stands on them."""

import subprocess
import sys
import tomllib
from pathlib import Path

from tests.repository.source import ROOT


def test_each_room_imports_only_rooms_below_it() -> None:
    linter = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run([linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    assert "1 kept, 0 broken" in run.stdout


def test_no_room_stands_beside_the_stairs() -> None:
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"][0]
    assert contract["exhaustive"] is True
    on_the_stairs = {room.strip(" ()") for layer in contract["layers"] for room in layer.split("|")}
    here = {
        path.stem
        for path in (ROOT / "src" / "fingertight").iterdir()
        if not path.name.startswith(("__init__", "__pycache__", ".")) and path.name != "py.typed"
    }
    assert here <= on_the_stairs, f"these rooms stand nowhere: {here - on_the_stairs}"
