"""What an order costs in minutes: work, changes of spanner, turnings of the machine. Counted in whole billionths.

The rule is pinned in the contract of the commands: one tool in hand at a time, each tool of a part used once in
whatever sequence suits, all before the next part; a turn does not empty the hand; it is not turned back at the end.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from fingertight.anatomy.model import Anatomy, FastenerSet, Part
from fingertight.tighten.spanners.heads import NoSuchHead, NoSuchSpanner, spanner_for
from fingertight.tighten.threads.names import NoSuchThread, thread_named

BILLIONTHS = 1_000_000_000
USUAL_MINUTES = 1.0
"""What a part costs whose file does not say: as the rule of the cost pins it."""
ANY_REST = "any"
USUAL_HEAD = "hex"

Hands = dict[str | None, int]


@dataclass(frozen=True, slots=True)
class Prices:
    """What a change of spanner and a turn of the machine cost [min]."""

    change_min: float = 0.25
    turn_min: float = 1.0


USUAL_PRICES = Prices()


@dataclass(frozen=True, slots=True)
class Work:
    """What one part asks for: its minutes [10⁻⁹ min], its tools, and how the machine lies (None: does not care)."""

    id: str
    minutes: int
    tools: frozenset[str]
    rest: str | None

    @property
    def minutes_min(self) -> float:
        """Its minutes [min]."""
        return self.minutes / BILLIONTHS


def spanner_of(fasteners: FastenerSet) -> str | None:
    """Which spanner or key a fastener set needs: as named, else as thread and head say; None for what needs none."""
    if fasteners.spanner:
        return fasteners.spanner
    if fasteners.thread is None:
        return None
    return _usual_spanner(fasteners.thread, fasteners.head or USUAL_HEAD)


@cache
def _usual_spanner(thread: str, head: str) -> str | None:
    try:
        return spanner_for(thread_named(thread), head) or None
    except (NoSuchThread, NoSuchHead, NoSuchSpanner):
        # What no table knows is turned by something, but what it is cannot be said from here.
        return None


def tools_of(part: Part) -> frozenset[str]:
    """All a part needs in the hand: the spanners of its fastener sets and its tools; equal text is the same tool."""
    spanners = (spanner_of(fasteners) for fasteners in part.held_by)
    return frozenset([*(spanner for spanner in spanners if spanner), *part.tools])


def work_of(anatomy: Anatomy, *, rebuild: bool = False) -> dict[str, Work]:
    """The work each part is, taken off or (rebuild) fitted."""
    first = anatomy.machine.rests[0] if anatomy.machine.rests else None
    works = {}
    for part in anatomy.parts:
        minutes = USUAL_MINUTES if part.minutes is None else part.minutes
        if rebuild and part.minutes_on is not None:
            minutes = part.minutes_on
        rest = None if part.rests == ANY_REST else part.rests or first
        works[part.id] = Work(part.id, round(minutes * BILLIONTHS), tools_of(part), rest)
    return works


class Tally:
    """The cost of an order as it grows. `hands`: for each tool that may be in hand now, the fewest changes so far.

    >>> tally = Tally("upright", Prices())
    >>> for tools in ({"8 mm"}, {"8 mm", "10 mm"}, {"10 mm"}):
    ...     tally.add(Work("x", BILLIONTHS, frozenset(tools), "upright"))
    >>> tally.cost_min, tally.changes, tally.turns
    (3.5, 2, 0)
    """

    def __init__(self, start: str | None, prices: Prices) -> None:
        self._prices = prices
        self.rest = start
        self.hands: Hands = {None: 0}
        self.minutes = 0
        self.turns = 0

    def add(self, work: Work) -> None:
        """This part next."""
        self.minutes += work.minutes
        if self.turns_for(work):
            self.turns += 1
            self.rest = work.rest
        self.hands = _used(self.hands, work.tools)

    def turns_for(self, work: Work) -> bool:
        """Whether the machine must be turned for this part."""
        return work.rest is not None and work.rest != self.rest

    def price_of(self, work: Work) -> int:
        """What this part would add beyond its minutes, if it came next [10⁻⁹ min]."""
        more = min(_used(self.hands, work.tools).values()) - self.changes
        return self._handling(more, int(self.turns_for(work)))

    def _handling(self, changes: int, turns: int) -> int:
        return round((changes * self._prices.change_min + turns * self._prices.turn_min) * BILLIONTHS)

    @property
    def changes(self) -> int:
        """The fewest changes the order so far can be done with."""
        return min(self.hands.values())

    @property
    def cost_min(self) -> float:
        """Minutes, changes and turns together [min]."""
        return (self.minutes + self._handling(self.changes, self.turns)) / BILLIONTHS


def _used(hands: Hands, tools: frozenset[str]) -> Hands:
    """The hand after a part with these tools: for each tool it may end with, the fewest changes."""
    if not tools:
        return hands
    empty = min(hands.values()) + len(tools)
    after: Hands = {}
    for last in tools:
        # With the tool in hand first, one change is saved; it can only also be the last where it is the only one.
        saved = [
            count + len(tools) - 1
            for hand, count in hands.items()
            if hand in tools and (hand != last or len(tools) == 1)
        ]
        after[last] = min([empty, *saved])
    return after


def cost_of(order: Iterable[str], works: dict[str, Work], start: str | None, prices: Prices) -> float:
    """What this order costs [min], counted anew from the order alone."""
    tally = Tally(start, prices)
    for part in order:
        tally.add(works[part])
    return tally.cost_min


def bound_of(parts: Iterable[str], works: dict[str, Work], start: str | None, prices: Prices) -> float:
    """A cost no order of these parts can go below [min]: the minutes, each tool taken once, each rest visited once."""
    chosen = [works[part] for part in parts]
    tools = frozenset(tool for work in chosen for tool in work.tools)
    rests = {work.rest for work in chosen if work.rest is not None} - {start}
    minutes = sum(work.minutes for work in chosen)
    handling = len(tools) * prices.change_min + len(rests) * prices.turn_min
    return (minutes + round(handling * BILLIONTHS)) / BILLIONTHS
