"""`fingertight serve`: a first start, a clean stop, a second start; and what it says when it cannot."""

import json
import os
import socket
import subprocess
import sys
from pathlib import Path
from urllib.request import urlopen

import pytest

from tests.web.serving import Served, free_port

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a program is stopped otherwise there")


def _serve(*options: str, **here: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "fingertight", "serve", *options]
    return subprocess.run(command, env={**os.environ, **here}, capture_output=True, text=True, timeout=60, check=False)


def _read(address: str) -> str:
    with urlopen(address, timeout=10) as answer:
        return str(answer.read().decode())


def test_a_first_start_makes_the_demo_and_a_second_finds_everything_as_it_was_left(tmp_path: Path) -> None:
    first = Served(tmp_path)
    log = _read(f"{first.address}/log/pump-engine-2/log.jsonl")
    assert len(log.splitlines()) > 30
    said = first.stop()
    assert "A first start: a demo workshop is made. Everything in it is invented." in said
    assert f"Open http://localhost:{first.port}/ in a browser." in said
    assert said.endswith("Stopped. Everything is kept.\n")
    assert first.program.returncode == 0
    assert first.is_gone_within(1)

    second = Served(tmp_path, first.port)
    assert _read(f"{second.address}/log/pump-engine-2/log.jsonl") == log
    said = second.stop()
    assert "A first start" not in said
    assert second.is_gone_within(1)


def test_no_worker_is_left_behind_when_the_program_is_killed(tmp_path: Path) -> None:
    served = Served(tmp_path)
    assert "Bench 4" in _read(served.address)
    served.dies()
    assert served.is_gone_within(10)


def test_a_port_that_is_taken_is_said_to_be_and_another_is_named(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ended = _serve("--home", str(tmp_path), "--port", str(port))
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert f"Port {port} cannot be used" in ended.stderr
    assert f"--port {port + 1}" in ended.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("port", ["eighty", "0", "70000", "-1"])
def test_a_port_that_is_none_is_said_to_be_none(port: str) -> None:
    ended = _serve(f"--port={port}")
    assert ended.returncode == 2
    assert f"“{port}” is no port" in ended.stderr


def test_a_folder_that_cannot_be_used_is_said_so_without_a_traceback(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    ended = _serve("--home", str(tmp_path / "file" / "workshop"), "--port", str(free_port()))
    assert ended.returncode == 2
    assert "cannot be used" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_a_database_that_is_none_is_said_so_and_left_alone(tmp_path: Path) -> None:
    broken = b"this is no database, but somebody's only copy of something"
    (tmp_path / "workshop.sqlite3").write_bytes(broken * 100)
    ended = _serve("--home", str(tmp_path), "--port", str(free_port()))
    assert ended.returncode == 2
    assert "Restore the last backup." in ended.stderr
    assert "Traceback" not in ended.stderr
    assert (tmp_path / "workshop.sqlite3").read_bytes() == broken * 100


def test_a_press_that_was_answered_is_kept_though_the_program_is_killed(tmp_path: Path) -> None:
    from tests.journeys.test_a_tap import Forms, Visitor

    served = Served(tmp_path)
    visitor = Visitor(served.address)
    form = Forms(visitor.looks_at("/bench/pump-engine-1/strip")).of("off", "plug-lead")
    visitor.sends(form)
    served.dies()
    assert served.is_gone_within(10)
    again = Served(tmp_path, served.port)
    lines = _read(f"{again.address}/log/pump-engine-1/log.jsonl").splitlines()
    again.stop()
    assert [json.loads(line)["id"] for line in lines] == [form["id"]]
