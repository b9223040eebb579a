"""The owner's commands, run on a workshop of the test's own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest


def run(home: Path, *words: str) -> tuple[int, str]:
    """A command on this folder: its exit status, and what it said."""
    here = {name: value for name, value in os.environ.items() if name not in {"DATABASE_URL", "FINGERTIGHT_HOME"}}
    done = subprocess.run(
        [sys.executable, "-m", "fingertight", *words, "--home", str(home)],
        capture_output=True,
        text=True,
        env=here,
        check=False,
    )
    assert "Traceback" not in done.stderr
    return done.returncode, done.stdout + done.stderr


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo workshop."""
    home = tmp_path_factory.mktemp("owner")
    make = "from fingertight.cli.commands.workshop.serve import _prepared; import sys; _prepared(sys.argv[1], [])"
    subprocess.run([sys.executable, "-c", make, str(home)], check=True, capture_output=True)
    return home


def test_somebody_who_teaches_is_added_linked_unlocked_and_forgotten(made: Path) -> None:
    assert "Tilda, instructor: has chosen no password yet" in run(made, "people")[1]
    status, said = run(made, "people", "--add", "Rosa", "--as", "owner")
    assert (status, "Rosa teaches here now, as owner." in said, "/teach/" in said) == (0, True, True)
    assert "There is a rosa here already" in run(made, "people", "--add", "rosa")[1]
    assert "none of instructor, owner" in run(made, "people", "--add", "Uwe", "--as", "boss")[1]
    assert "/teach/" in run(made, "people", "--link", "Rosa")[1]
    assert "Did you mean “Rosa”?" in run(made, "people", "--link", "Rossa")[1]
    assert "may try again" in run(made, "people", "--unlock", "Ada")[1]
    assert run(made, "people", "--forget", "Rosa") == (0, "Forgotten: the name is gone, every log is whole.\n")
    assert "Rosa" not in run(made, "people", "--students")[1]


def test_a_class_is_put_away_and_taken_out(made: Path) -> None:
    assert "4 benches, 8 students, 2 of 8 lessons, a lesson is open" in run(made, "classes")[1]
    assert "put away" in run(made, "classes", "--put-away", "demo-class-invented")[1]
    assert "put away" not in run(made, "classes", "--take-out", "demo-class-invented")[1]
    status, said = run(made, "classes", "--put-away", "demo-class-inventd")
    assert (status, "Did you mean “demo-class-invented”?" in said) == (2, True)


def test_a_backup_is_made_once_and_restored(made: Path, tmp_path: Path) -> None:
    file = tmp_path / "friday.sqlite3"
    assert run(made, "backup", str(file))[0] == 0
    status, said = run(made, "backup", str(file))
    assert (status, "is there already" in said) == (2, True)
    run(made, "people", "--add", "Later")
    assert run(made, "restore", str(file))[0] == 0
    assert "Later" not in run(made, "people")[1]
    assert (made / "workshop.sqlite3.before-restore-1").exists()


@pytest.mark.parametrize("command", [("people",), ("classes",), ("backup", "x.sqlite3")])
def test_a_folder_without_a_workshop_is_said_to_be_one(tmp_path: Path, command: tuple[str, ...]) -> None:
    status, said = run(tmp_path / "nowhere", *command)
    assert (status, "There is no workshop" in said) == (2, True)
