"""The count at the end of a lesson, over all benches: who has counted since the last move, what is short or out."""

from collections.abc import Iterable
from dataclasses import dataclass

from fingertight.cards.bench.page import JobName
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.workshop.wall import by_number
from fingertight.ledger.entry import Entry
from fingertight.ledger.replay import Ledger

_MOVES = {"off", "on", "lost", "found", "renew"}


@dataclass(frozen=True)
class BenchCount(Card):
    """One bench: is_counted: bags and tools were counted and nothing moved since; short: what is missing or left over;
    tools: still out."""

    job: JobName
    is_counted: bool
    sentence: str
    short: tuple[str, ...]
    tools: tuple[str, ...]

    @property
    def is_right(self) -> bool:
        """Whether it may be walked away from."""
        return self.is_counted and not self.short and not self.tools


@dataclass(frozen=True)
class TallyCard(Card):
    """All benches that are at work, those that are not right first."""

    workshop: str
    sentence: str
    benches: tuple[BenchCount, ...]
    all_right: bool


def tally_card(workshop: str, counts: Iterable[BenchCount | None]) -> TallyCard:
    """Which benches may be walked away from?"""
    benches = sorted(filter(None, counts), key=lambda bench: by_number(bench.job.bench))
    right = sum(bench.is_right for bench in benches)
    if not benches:
        sentence = "No bench is at work: there is nothing to count."
    elif right == len(benches):
        sentence = "Every bench is counted, and nothing is short."
    else:
        sentence = f"Counted with nothing short: {right} of {counted(len(benches), 'bench')}."
    benches.sort(key=lambda bench: bench.is_right)
    return TallyCard(workshop, sentence, tuple(benches), right == len(benches))


def bench_count(job: JobName, ledger: Ledger) -> BenchCount | None:
    """Is this bench counted? None where it is finished, or nothing ever moved: it needs no count."""
    if ledger.state.finished or not any(entry.kind in _MOVES for entry in ledger.entries):
        return None
    struck = ledger.struck()
    stands = [entry for entry in ledger.entries if entry.id not in struck]
    moved = max((nth for nth, entry in enumerate(stands) if entry.kind in _MOVES), default=-1)
    since = [entry for entry in stands[moved + 1 :] if entry.kind == "count"]
    bags, tools = _any(since, "bags"), _any(since, "tools") or not ledger.state.tools
    needs_bags = bool(ledger.state.lies)
    is_counted = (bags or not needs_bags) and tools
    short = tuple(flag.text for flag in ledger.state.flags.open() if flag.kind in {"short", "over"})
    return BenchCount(
        job=job,
        is_counted=is_counted,
        sentence=_sentence(is_counted, bags=bags or not needs_bags, ever=_any(stands, "bags") or _any(stands, "tools")),
        short=short,
        tools=tuple(name for name, box in ledger.state.tools.items() if box.out > 0),
    )


def _any(entries: list[Entry], what: str) -> bool:
    return any(entry.kind == "count" and entry.said.get(what) is not None for entry in entries)


def _sentence(is_counted: bool, *, bags: bool, ever: bool) -> str:
    if is_counted:
        return "Counted, and nothing moved since."
    if not ever:
        return "Not counted yet."
    return "The tools are not counted yet." if bags else "Something moved since it was counted."
