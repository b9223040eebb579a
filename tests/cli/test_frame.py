"""What the command line says when nothing, too much or the wrong thing was typed, and what it never does."""

import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from fingertight import __version__
from fingertight.cli import frame
from tests.cli.conftest import Typing

HEAVY = ("django", "pydantic", "typst", "tree_sitter", "numpy", "scipy", "tomlkit", "segno")
COMMANDS = frame.all_parsers()[1]


def test_an_unknown_command_names_the_nearest_one(fingertight: Typing) -> None:
    assert fingertight("ordre") == (
        2,
        "",
        "fingertight: There is no command “ordre”. Did you mean “order”? See: fingertight --help\n",
    )


def test_a_command_unlike_any_names_none(fingertight: Typing) -> None:
    assert fingertight("zzz").err == "fingertight: There is no command “zzz”. See: fingertight --help\n"


def test_an_unknown_option_names_the_nearest_one(fingertight: Typing) -> None:
    screen = fingertight("order", "x.toml", "--rebild")
    assert screen == (
        2,
        "",
        "fingertight: “--rebild” is not understood here. Did you mean “--rebuild”? See: fingertight order --help\n",
    )


def test_half_an_option_is_not_guessed(fingertight: Typing) -> None:
    assert fingertight("order", "x.toml", "--reb").status == 2


def test_a_missing_file_name_says_which_one_is_missing(fingertight: Typing) -> None:
    expected = "fingertight: The following arguments are required: ANATOMY. See: fingertight order --help\n"
    assert fingertight("order") == (2, "", expected)


def test_nothing_typed_shows_what_there_is_and_counts_as_misuse(fingertight: Typing) -> None:
    screen = fingertight()
    assert (screen.status, screen.out) == (2, "")
    assert screen.err.startswith("fingertight: No command was given.\n\nusage: fingertight")


def test_help_lists_every_command_with_a_line(fingertight: Typing) -> None:
    screen = fingertight("--help")
    assert (screen.status, screen.err) == (0, "")
    for name in COMMANDS:
        assert f"\n    {name} " in screen.out
    assert "0 all is well, 1 the answer is no, 2 misused" in screen.out


def test_every_command_belongs_to_the_family_that_is_read_for_it() -> None:
    assert [name for names in frame.FAMILIES.values() for name in names] == list(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_teaches_by_an_example_that_is_understood(fingertight: Typing, name: str) -> None:
    screen = fingertight(name, "--help")
    assert (screen.status, screen.err) == (0, "")
    example = shlex.split(screen.out.partition("for example:\n")[2].splitlines()[0])
    assert example[:2] == ["fingertight", name]
    frame.all_parsers()[0].parse_args(example[1:])


def test_the_version_is_the_packages_own(fingertight: Typing) -> None:
    assert fingertight("--version") == (0, f"fingertight {__version__}\n", "")


def test_our_own_fault_is_a_sentence_and_no_traceback(fingertight: Typing, monkeypatch: pytest.MonkeyPatch) -> None:
    def falls_over(_: object) -> int:
        raise RuntimeError("the dog ate it")

    monkeypatch.setattr("fingertight.cli.commands.machine.run_check", falls_over)
    screen = fingertight("check", "x.toml")
    assert (screen.status, screen.out) == (2, "")
    assert screen.err == (
        "fingertight: this is a fault in fingertight, not yours (RuntimeError: the dog ate it). Nothing was changed. "
        "Report it with the command you typed and the files it read.\n"
    )


def test_ctrl_c_is_quiet(fingertight: Typing, monkeypatch: pytest.MonkeyPatch) -> None:
    def is_stopped(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("fingertight.cli.commands.machine.run_check", is_stopped)
    assert fingertight("check", "x.toml") == (130, "", "")


def _run(*arguments: str, **more: object) -> "subprocess.CompletedProcess[str]":
    command = [sys.executable, "-m", "fingertight", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False, **more)  # type: ignore[call-overload,no-any-return]


def test_help_answers_before_any_heavy_library_is_read() -> None:
    seen = (
        "import sys; from fingertight.cli.frame import answer; answer(['--help']); print(*sys.modules, file=sys.stderr)"
    )
    run = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    read = {name.partition(".")[0] for name in run.stderr.split()}
    assert "fingertight" in read
    assert not read & set(HEAVY)


def test_a_sum_answers_before_any_heavy_library_is_read() -> None:
    seen = (
        "import sys; from fingertight.cli.frame import answer; answer(['thread', 'M6']); "
        "print(*sys.modules, file=sys.stderr)"
    )
    run = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    assert run.stdout.startswith("M6: ISO metric")
    assert not {name.partition(".")[0] for name in run.stderr.split()} & set(HEAVY)


@pytest.mark.skipif(os.name == "nt", reason="a pipe ends differently there")
@pytest.mark.parametrize("arguments", [("--help",), ("schema",), ("order", "examples/bench-vice.toml")])
def test_a_reader_who_leaves_early_sees_no_complaint(root: Path, arguments: tuple[str, ...]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "fingertight", *arguments]
    run = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, text=True, cwd=root, check=False)
    os.close(writing)
    assert (run.returncode, run.stderr) == (0, "")


def test_the_command_runs_as_a_module_too() -> None:
    run = _run("--version")
    assert (run.returncode, run.stdout) == (0, f"fingertight {__version__}\n")
