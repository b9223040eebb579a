"""Reads the published precedence instances in this folder as machines: what goes before a job stands in its way."""

import re
import tomllib
from pathlib import Path
from typing import Any, NamedTuple

from fingertight.order import Stands

HERE = Path(__file__).parent


class Project(NamedTuple):
    """Jobs as parts, how long each takes, and the length of the critical path where the file says it."""

    machine: dict[str, Stands]
    durations: dict[str, int]
    critical_path: int | None


def graph(name: str) -> dict[str, Any]:
    """What graphs.toml says of one graph."""
    found: dict[str, Any] = tomllib.loads((HERE / "graphs.toml").read_text("utf-8"))[name]
    return found


def as_machine(tasks: int, before: list[list[int]]) -> dict[str, Stands]:
    """One part a task, behind the tasks that go before it."""
    return {
        str(task): Stands(str(task), [str(first) for first, then in before if then == task])
        for task in range(1, tasks + 1)
    }


def sm_project(name: str) -> Project:
    """A PSPLIB `.sm` file."""
    text = (HERE / name).read_text("ascii")
    before = []
    for line in _lines_after(text, "jobnr.    #modes"):
        job, _, _, *successors = line
        before += [[job, then] for then in successors]
    durations = {str(line[0]): line[2] for line in _lines_after(text, "-----")}
    named = re.search(r"MPM-Time\s+(?:\d+\s+){5}(\d+)", text)
    return Project(as_machine(len(durations), before), durations, int(named[1]) if named else None)


def rcp_project(name: str) -> Project:
    """A Patterson `.rcp` file."""
    numbers = iter([int(number) for number in (HERE / name).read_text("ascii").split()])
    jobs, resources = next(numbers), next(numbers)
    for _ in range(resources):
        next(numbers)
    durations, before = {}, []
    for job in range(1, jobs + 1):
        durations[str(job)] = next(numbers)
        for _ in range(resources):
            next(numbers)
        before += [[job, next(numbers)] for _ in range(next(numbers))]
    return Project(as_machine(jobs, before), durations, None)


def _lines_after(text: str, heading: str) -> list[list[int]]:
    found: list[list[int]] = []
    lines = iter(text.splitlines())
    for line in lines:
        if line.startswith(heading):
            break
    for line in lines:
        if not re.fullmatch(r"[\d\s]+", line):
            break
        found.append([int(number) for number in line.split()])
    return found
