"""Shared tools: how many are free, where they are out and for how long, who waits; at a bench: borrow, bring, wait."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.bench.page import JobName
from fingertight.cards.bench.words import so_long
from fingertight.cards.card import Card
from fingertight.lesson.tools import AtBench, ToolNow


@dataclass(frozen=True)
class ToolPlace(Card):
    """A bench and for how many minutes; `says` both."""

    bench: str
    minutes: int
    says: str


@dataclass(frozen=True)
class ToolLine(Card):
    """One tool. mine, waiting: whether this bench has it, or waits for it; by whom it was taken."""

    name: str
    sentence: str
    many: int
    free: int
    out: tuple[ToolPlace, ...]
    waits: tuple[ToolPlace, ...]
    mine: bool
    waiting: bool


@dataclass(frozen=True)
class ToolsCard(Card):
    """All of them. job: the bench that asks, None for the workshop's own page. queue: whether one can wait now."""

    job: JobName | None
    tools: tuple[ToolLine, ...]
    queue: bool
    problem: str


def tools_card(
    tools: Sequence[ToolNow],
    now_s: float,
    *,
    job: JobName | None = None,
    queue: bool = False,
    problem: str = "",
) -> ToolsCard:
    """What is where, at this moment [s since 1970]?"""
    return ToolsCard(job, tuple(tool_line(tool, now_s, job.bench if job else "") for tool in tools), queue, problem)


def tool_line(tool: ToolNow, now_s: float, bench: str = "") -> ToolLine:
    """How does one tool stand, as this bench sees it?"""
    out, waits = _places(tool.out, now_s), _places(tool.waits, now_s)
    mine = any(one.bench == bench for one in out)
    waiting = any(one.bench == bench for one in waits)
    return ToolLine(tool.name, _sentence(tool, out, waits), tool.many, tool.free, out, waits, mine, waiting)


def _places(places: Sequence[AtBench], now_s: float) -> tuple[ToolPlace, ...]:
    minutes = [max(int((now_s - one.since) // 60), 0) for one in places]
    return tuple(
        ToolPlace(one.bench, passed, f"{one.bench} {so_long(passed)}")
        for one, passed in zip(places, minutes, strict=True)
    )


def _sentence(tool: ToolNow, out: Sequence[ToolPlace], waits: Sequence[ToolPlace]) -> str:
    said = []
    if 0 < tool.many < len(out):
        said.append(f"{len(out)} out of {tool.many}: a bench has not written it back")
    elif tool.many:
        said.append(f"{tool.free} of {tool.many} free" if tool.free or tool.many > 1 else "not free")
    if out:
        said.append("out: " + ", ".join(one.says for one in out))
    if waits:
        said.append("next: " + ", ".join(one.says for one in waits))
    return "; ".join(said) or "in its place"
