"""Bare `make` tells a newcomer what there is."""

import re
import shutil
import subprocess

import pytest

from tests.repository.source import ROOT

pytestmark = pytest.mark.skipif(not shutil.which("make"), reason="there is no make on this machine")


def _listed() -> list[str]:
    run = subprocess.run(["make"], cwd=ROOT, capture_output=True, text=True, check=True)
    return re.findall(r"^  make ([\w-]+) +\S", run.stdout, re.MULTILINE)


def test_bare_make_lists_every_target_with_a_line_on_what_it_does() -> None:
    makefile = (ROOT / "Makefile").read_text("utf-8")
    phony = re.findall(r"^\.PHONY: (.*)$", makefile, re.MULTILINE)[0].split()
    assert sorted(_listed()) == sorted(phony)
    assert {"run", "test", "check", "bench"} <= set(phony)


def test_ci_runs_make_check_and_nothing_else() -> None:
    commands = [
        line
        for line in (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
        if line and not line.startswith(("#", "set ", "cd "))
    ]
    assert commands == ["exec make check </dev/null"]


def test_check_ends_with_the_tests_that_the_readme_tells_people_to_run() -> None:
    makefile = (ROOT / "Makefile").read_text("utf-8")
    assert re.search(r"^check: lint test ", makefile, re.MULTILINE)
    assert "make test" in (ROOT / "README.md").read_text("utf-8")
