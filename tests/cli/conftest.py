"""Type a command as a person does, and see its whole screen."""

import io
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from fingertight.cli.frame import answer


class Screen(NamedTuple):
    """How a command ended: its exit status, what it printed, and what it said beside."""

    status: int
    out: str
    err: str


Typing = Callable[..., Screen]


class _Input(io.StringIO):
    """Standard input with bytes beneath, as a real one has."""

    def __init__(self, sent: bytes) -> None:
        super().__init__()
        self.buffer = io.BytesIO(sent)


@pytest.fixture
def fingertight(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, root: Path
) -> Callable[..., Screen]:
    """`fingertight("check", "a.toml")` types the command in the project's folder; `sent` is standard input."""
    monkeypatch.chdir(root)
    monkeypatch.setenv("COLUMNS", "100")

    def typed(*arguments: str, sent: str | bytes = b"") -> Screen:
        monkeypatch.setattr(sys, "stdin", _Input(sent.encode() if isinstance(sent, str) else sent))
        status = answer(arguments)
        return Screen(status, *capsys.readouterr())

    return typed


HAND_PUMP = """\
format = 1

[machine]
name = "Hand pump"
rests = ["upright", "on its side"]

[[part]]
id = "body"
stays = true

[[part]]
id = "cover"
minutes = 3
  [[part.held_by]]
  thread = "M6"
  length = 20
  head = "hex"
  count = 4

[[part]]
id = "valve"
behind = ["cover"]
places = ["inlet", "outlet"]

[[part]]
id = "piston"
behind = ["cover"]
ways = [["rod"], ["base"]]
rests = "on its side"
minutes = 2

[[part]]
id = "rod"
tools = ["drift"]
minutes = 2

[[part]]
id = "base"
minutes = 8

[[check]]
id = "rod-length"
part = "rod"
unit = "in"
max = 4.0
"""


@pytest.fixture
def hand_pump(tmp_path: Path) -> str:
    """The name of a small machine file: a cover over two valves and a piston, which comes out two ways."""
    file = tmp_path / "hand-pump.toml"
    file.write_text(HAND_PUMP, "utf-8")
    return str(file)
