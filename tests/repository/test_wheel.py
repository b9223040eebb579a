"""What is installed from the wheel has all it needs to run."""

import shutil
import subprocess
import sys
import zipfile

import pytest

from tests.repository.source import ROOT, files


@pytest.fixture(scope="module")
def wheel_names(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """The names in a wheel built from a copy, so that nothing is left in the tree."""
    folder = tmp_path_factory.mktemp("wheel")
    copy = folder / "tree"
    copy.mkdir()
    for name in ("pyproject.toml", "setup.py", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, copy)
    for name in ("src", "examples"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    build = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "-q",
        "--no-deps",
        "--no-build-isolation",
        "-w",
        str(folder),
        str(copy),
    ]
    run = subprocess.run(build, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    return set(zipfile.ZipFile(next(folder.glob("fingertight-*.whl"))).namelist())


def test_every_file_of_the_package_is_in_the_wheel(wheel_names: set[str]) -> None:
    ours = {str(path.relative_to(ROOT / "src")) for path in files(within=("src",)) if path.suffix != ".md"}
    assert not ours - wheel_names


def test_the_example_machines_and_the_licence_are_in_the_wheel(wheel_names: set[str]) -> None:
    machines = [
        *(ROOT / "examples").glob("*.toml"),
        *(ROOT / "examples").glob("*/*.jsonl"),
        *(ROOT / "examples").glob("trays/*"),
        *(ROOT / "examples").glob("captions/*"),
    ]
    assert len(machines) >= 3
    assert not {f"fingertight/{path.relative_to(ROOT)}" for path in machines} - wheel_names
    assert any(name.endswith("licenses/LICENSE") for name in wheel_names)
