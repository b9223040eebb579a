"""The wall: all benches at once, read across a room; who waits, which tool is where, what is not right."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fingertight.cards.bench.due import sign_cards
from fingertight.cards.bench.page import STAGES, JobName, stage_of
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.lesson.tools import ToolLine
from fingertight.cards.pictures.dial import MOST_RINGS, depth_dial
from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.rings import banded
from fingertight.cards.workshop.log import last_line
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import State
from fingertight.lesson.pace import Planned, pace_of, share_done
from fingertight.order.layers import layers

MOST_FLAGS = 12
_DAY_S = 24 * 3600
_TERM_S = 120 * _DAY_S
_QUIET_S = 12 * 3600
"""A job that has heard nothing for so long is not at a bench now: its hands are down (common practice, no source)."""


@dataclass(frozen=True)
class WallBench(Card):
    """One bench: its stage, what was done last, how deep it is; needs: what it waits for, "" when it goes on by itself;
    stops: flags that break the engine or hurt someone; rest: those that can wait. people: who sits there, nobody for a
    visitor; pace: against the lessons spread evenly, "" where no class says how many; behind: more than a little."""

    job: JobName
    stage: str
    last: str
    dial: Drawing
    needs: str
    stops: int
    rest: int
    finished: bool
    people: tuple[str, ...] = ()
    pace: str = ""
    behind: bool = False


@dataclass(frozen=True)
class WallLesson(Card):
    """The lesson that is open: which, who is here, how long it goes on; code: what students join with, "" for those
    who must not know it."""

    title: str
    slug: str
    sentence: str
    here: str
    left: str
    code: str


@dataclass(frozen=True)
class Need(Card):
    """Somebody who waits for the instructor, and since how many minutes."""

    job: JobName
    text: str
    minutes: int


@dataclass(frozen=True)
class WallFlag(Card):
    """Something that is not right at a bench; `stops`: it breaks the engine or hurts someone at start-up."""

    job: JobName
    text: str
    stops: bool


@dataclass(frozen=True)
class WallCard(Card):
    """All of it. needs: the longest wait first. more_flags: how many stand beside those shown."""

    workshop: str
    sentence: str
    benches: tuple[WallBench, ...]
    needs: tuple[Need, ...]
    tools: tuple[ToolLine, ...]
    flags: tuple[WallFlag, ...]
    more_flags: int
    lesson: WallLesson | None


@dataclass(frozen=True)
class OnTheWall(Card):
    """What one bench brings to the wall."""

    bench: WallBench
    needs: tuple[Need, ...]
    flags: tuple[WallFlag, ...]


def on_the_wall(
    job: JobName, ledger: Ledger, now_s: float, people: Sequence[str] = (), planned: Planned | None = None
) -> OnTheWall | None:
    """What does this bench bring to the wall at this moment [s since 1970, the server's clock]?

    people: who sits there, as the wall may say it. planned: how far it should be, and over how many lessons.
    None a day after it was finished, and where nothing was heard of it for a term: it has its place on the front page.
    """
    silent_s = now_s - ledger.entries[-1].when if ledger.entries else 0.0
    if silent_s > (_DAY_S if ledger.state.finished else _TERM_S):
        return None
    waits = _needs(job, ledger, now_s)
    flags = tuple(WallFlag(job, flag.text, flag.stops) for flag in ledger.state.flags.open())
    bench = replace(_bench(job, ledger, waits), people=tuple(people), **_pace(ledger, planned))
    return OnTheWall(bench, tuple(waits), flags)


def _pace(ledger: Ledger, planned: Planned | None) -> dict[str, Any]:
    if planned is None or ledger.state.finished:
        return {}
    pace = pace_of(share_done(ledger.state), planned.share, planned.lessons)
    return {"pace": pace.sentence, "behind": pace.is_behind}


def wall_card(
    workshop: str,
    brought: Iterable[OnTheWall | None],
    tools: Sequence[ToolLine] = (),
    lesson: WallLesson | None = None,
) -> WallCard:
    """What does the wall show, of what all benches bring to it? tools: those out or waited for are shown."""
    at_work = sorted(filter(None, brought), key=lambda one: by_number(one.bench.job.bench))
    benches = [one.bench for one in at_work]
    flags = [flag for one in at_work for flag in one.flags]
    shown = _fit([one.flags for one in at_work])
    needs = sorted((need for one in at_work for need in one.needs), key=lambda need: -need.minutes)
    stops = sum(flag.stops for flag in flags)
    said = [counted(len(benches), "bench")]
    if needs:
        said.append(f"{len(needs)} {'waits' if len(needs) == 1 else 'wait'} for you")
    if stops:
        said.append(f"{counted(stops, 'thing')} would break an engine or hurt someone")
    return WallCard(
        workshop=workshop,
        sentence=", ".join(said),
        benches=tuple(benches),
        needs=tuple(needs),
        tools=tuple(tool for tool in tools if tool.out or tool.waits),
        flags=shown,
        more_flags=len(flags) - len(shown),
        lesson=lesson,
    )


def _fit(flags_of: Sequence[Sequence[WallFlag]]) -> tuple[WallFlag, ...]:
    """What the wall has room for, what stops first, then bench by bench.

    Benches take turns, so that one with many hides none of another; a bench with something that stops is never left
    out.
    """
    in_turn: list[tuple[bool, int, int, WallFlag]] = []
    for bench, flags in enumerate(flags_of):
        for stops in (True, False):
            alike = [flag for flag in flags if flag.stops is stops]
            in_turn += [(not stops, nth, bench, flag) for nth, flag in enumerate(alike)]
    in_turn.sort(key=lambda one: one[:3])
    at_least = sum(1 for can_wait, nth, *_ in in_turn if not can_wait and not nth)
    taken = in_turn[: max(MOST_FLAGS, at_least)]
    return tuple(flag for *_, flag in sorted(taken, key=lambda one: (one[0], one[2], one[1])))


def by_number(bench: str) -> tuple[tuple[int, str | int], ...]:
    """Bench 2 before bench 10.

    >>> sorted(["Bench 10", "Bench 2"], key=by_number)
    ['Bench 2', 'Bench 10']
    """
    pieces = re.split(r"(\d+)", bench.casefold())
    return tuple((1, int(piece)) if piece.isdecimal() else (0, piece) for piece in pieces if piece)


def _bench(job: JobName, ledger: Ledger, waits: Sequence[Need]) -> WallBench:
    state, last = ledger.state, last_line(ledger)
    flags = state.flags.open()
    stops = sum(flag.stops for flag in flags)
    return WallBench(
        job=job,
        stage="Finished" if state.finished else STAGES[stage_of(ledger)],
        last=last.sentence if last else "Ready to strip.",
        dial=_dial(state),
        needs=max(waits, key=lambda need: need.minutes).text if waits else "",
        stops=stops,
        rest=len(flags) - stops,
        finished=state.finished,
    )


def _dial(state: State) -> Drawing:
    stays = {part.id for part in state.plan.anatomy.parts if part.stays}
    rings = banded(layers(state.plan.rules), MOST_RINGS)
    moving = [[part for part in ring if part not in stays and not state.moves.is_absent(part)] for ring in rings]
    off = set(state.moves.off())
    shares = [sum(part not in off for part in ring) / len(ring) for ring in moving if ring]
    return depth_dial(shares, f"{len(off)} of {sum(map(len, moving))} parts off.")


def _needs(job: JobName, ledger: Ledger, now_s: float) -> list[Need]:
    """Hands up, and sign-offs that all moves of now wait for."""
    state = ledger.state
    if state.finished or not ledger.entries or now_s - ledger.entries[-1].when > _QUIET_S:
        return []
    found = []
    if state.help_asked is not None:
        since = next(entry.when for entry in ledger.entries if entry.id == state.help_asked)
        found.append(Need(job, "asks for help", _minutes(now_s - since)))
    stripping = stage_of(ledger) == "strip"
    going_on = [] if stripping else list(state.may_go_on())
    coming_off = list(state.moves.may_come_off()) if stripping else []
    for sign in sign_cards(state, coming_off, going_on):
        since = next((entry.when for entry in reversed(ledger.entries) if entry.kind in {"off", "on"}), now_s)
        found.append(Need(job, f"to sign: {sign.title}", _minutes(now_s - since)))
    return found


def _minutes(seconds: float) -> int:
    return max(int(seconds // 60), 0)
