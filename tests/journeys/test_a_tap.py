"""The journey of a tap (docs/map.md): pressed, kept once, folded, shown; and the same log on the command line."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from html.parser import HTMLParser
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.error import URLError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, build_opener

import pytest

from fingertight.cli.frame import answer

BENCH = "/bench/pump-engine-1"
FIRST = "plug-lead"

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a program is stopped otherwise there")


class Visitor:
    """Somebody's browser without a screen: pages as text, forms as they stand on them, cookies kept."""

    def __init__(self, address: str) -> None:
        self._address = address
        self._opener = build_opener(HTTPCookieProcessor(CookieJar()))

    def looks_at(self, path: str) -> str:
        """The page at a path."""
        with self._opener.open(self._address + path, timeout=10) as page:
            return page.read().decode()

    def sends(self, form: dict[str, str]) -> str:
        """The page after a form was sent."""
        with self._opener.open(self._address + form["action"], urlencode(form).encode(), timeout=10) as page:
            return page.read().decode()


class Forms(HTMLParser):
    """The forms of a page: where each goes, and the hidden fields it sends."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.all: list[dict[str, str]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A form begins, or a hidden field of the last one stands here."""
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.all.append({"action": said["action"]})
        elif tag == "input" and said.get("type") == "hidden" and self.all:
            self.all[-1][said["name"]] = said["value"]

    def of(self, kind: str, part: str) -> dict[str, str]:
        """The form that says this kind of entry of this part."""
        return next(form for form in self.all if form.get("kind") == kind and form.get("part") == part)


@pytest.fixture(scope="module")
def visitor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visitor]:
    """A visitor of a workshop that has just been made and is being served; afterwards it is stopped with Ctrl-C."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    home = tmp_path_factory.mktemp("workshop")
    command = [sys.executable, "-m", "fingertight", "serve", "--port", str(port), "--home", str(home)]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, start_new_session=True)
    visitor = Visitor(f"http://localhost:{port}")
    try:
        _wait_for(visitor)
        yield visitor
    finally:
        server.send_signal(signal.SIGINT)
        said, _ = server.communicate(timeout=30)
    assert server.returncode == 0
    assert said.endswith("Stopped. Everything is kept.\n")


def _wait_for(visitor: Visitor) -> None:
    for _ in range(300):
        try:
            visitor.looks_at("/")
        except URLError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError("nothing is served after 30 s")


def _log_of(visitor: Visitor) -> list[dict[str, str]]:
    text = visitor.looks_at("/log/pump-engine-1/log.jsonl")
    return [json.loads(line) for line in text.splitlines()]


def test_a_tap_sent_twice_is_kept_once_and_shown(
    visitor: Visitor, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _log_of(visitor)
    form = Forms(visitor.looks_at(BENCH)).of("off", FIRST)
    page = visitor.sends(form)
    again = visitor.sends(form)

    kept = _log_of(visitor)[len(before) :]
    assert [(entry["id"], entry["kind"], entry["part"]) for entry in kept] == [(form["id"], "off", FIRST)]
    for seen in (page, again):
        assert FIRST not in {shown.get("part") for shown in Forms(seen).all if shown.get("kind") == "off"}

    (tmp_path / "log.jsonl").write_text(visitor.looks_at("/log/pump-engine-1/log.jsonl"), "utf-8")
    (tmp_path / "anatomy.toml").write_text(visitor.looks_at("/log/pump-engine-1/anatomy.toml"), "utf-8")
    status = answer(["replay", str(tmp_path / "anatomy.toml"), str(tmp_path / "log.jsonl"), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert status == 0
    assert told["off"] == {FIRST: {"bag": form["bag"]}}
    assert told["flags"] == []
    free = {shown["part"] for shown in Forms(page).all if shown.get("kind") == "off"}
    assert free == set(told["may_come_off"])
