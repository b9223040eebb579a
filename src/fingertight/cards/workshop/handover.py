"""The hand-over sheet: where each bench stopped, for next week or for the other group on the same engines."""

from collections.abc import Iterable
from dataclasses import dataclass

from fingertight.cards.bench.page import STAGES, JobName, stage_of
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.workshop.log import last_line
from fingertight.cards.workshop.wall import by_number
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import State

MOST_NEXT, MOST_FLAGS = 3, 5


@dataclass(frozen=True)
class HandOver(Card):
    """One bench: where it stopped, what comes next, what lies where, what is not right, which tools are out."""

    job: JobName
    stage: str
    depth: str
    last: str
    next: tuple[str, ...]
    bags: str
    tools: tuple[str, ...]
    flags: tuple[str, ...]
    more_flags: int
    is_short: bool


@dataclass(frozen=True)
class HandOverCard(Card):
    """All benches that are at work. `short`: at how many something is missing or left over."""

    workshop: str
    benches: tuple[HandOver, ...]
    short: int


def handover_card(workshop: str, handed: Iterable[HandOver | None]) -> HandOverCard:
    """What must the next lesson know?"""
    benches = sorted(filter(None, handed), key=lambda bench: by_number(bench.job.bench))
    return HandOverCard(workshop, tuple(benches), sum(bench.is_short for bench in benches))


def handed_over(job: JobName, ledger: Ledger) -> HandOver | None:
    """Where did this bench stop? None where it is finished, or nothing has begun."""
    if not ledger.entries or ledger.state.finished:
        return None
    state, last, stage = ledger.state, last_line(ledger), stage_of(ledger)
    flags = sorted(state.flags.open(), key=lambda flag: not flag.stops)
    moving = sum(not part.stays and not state.moves.is_absent(part.id) for part in state.plan.anatomy.parts)
    return HandOver(
        job=job,
        stage=STAGES[stage],
        depth=f"{len(state.moves.off())} of {counted(moving, 'part')} off",
        last=last.sentence if last else "",
        next=_next(state, stripping=stage == "strip"),
        bags=_bags(state),
        tools=tuple(name for name, box in state.tools.items() if box.out > 0),
        flags=tuple(f"{'Stops: ' if flag.stops else ''}{flag.text}" for flag in flags[:MOST_FLAGS]),
        more_flags=max(len(flags) - MOST_FLAGS, 0),
        is_short=any(flag.kind in {"short", "over"} for flag in flags),
    )


def _next(state: State, *, stripping: bool) -> tuple[str, ...]:
    parts = list(state.moves.may_come_off() if stripping else state.may_go_on())
    return tuple(state.plan.parts[part].title for part in parts[:MOST_NEXT])


def _bags(state: State) -> str:
    bags = [bag for bag in dict.fromkeys(state.lies.values()) if bag]
    if not bags:
        return "no bag"
    numbers = sorted(int(bag) for bag in bags if bag.isdecimal())
    named = [bag for bag in bags if not bag.isdecimal()]
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = [f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs] + named
    return f"{counted(len(bags), 'bag')}: {', '.join(said)}"
