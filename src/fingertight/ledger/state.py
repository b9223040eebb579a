"""Where everything is and what was done to it, after the entries folded so far. Only the folds change it."""

from dataclasses import dataclass, field

from fingertight.ledger.flags import Flags
from fingertight.ledger.plan import Plan
from fingertight.measure.verdict import Verdict, Word
from fingertight.order.moves import Moves

Slot = tuple[str, str | None]
"""A part and one of its places: where a piece belongs. A piece is called by the slot it belongs to."""


@dataclass(slots=True)
class Bag:
    """One bag: the pieces in it now, the part that was in it last, and what is really there of its contents."""

    pieces: list[Slot] = field(default_factory=list)
    last_part: str | None = None
    holds: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Value:
    """One reading as it counts: where it was taken, in the unit of its check, and whether it cannot be right."""

    at: str | None
    across: str | None
    value: float
    entry: str
    with_part_on: str | None = None
    odd: bool = False


@dataclass(slots=True)
class ToolBox:
    """One tool's comings and goings since it was last counted right."""

    out: int = 0
    most_out: int = 0


class State:
    """The job now. Reading it is free; changing it is the folds' alone."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.moves = Moves(plan.rules)
        self.flags = Flags()
        self.clock = 0
        """Counts the entries folded: what came before what."""

        self.lies: dict[Slot, str | None] = {}
        """Pieces that are off, in the order they came off, each with its bag."""
        self.empty: dict[Slot, Slot] = {}
        """Slots with nothing in them, and the piece that came out last."""
        self.sits: dict[Slot, Slot] = {}
        """Slots that hold another's piece."""
        self.bags: dict[str, Bag] = {}
        self.came_off: dict[str, int] = {}
        self.went_on: dict[str, int] = {}

        self.stock: dict[tuple[str, str | None], int] = {}
        self.missing: dict[tuple[str, str | None], int] = {}
        """Things lost that lie in no bag: spares, parts themselves."""

        self.passes: dict[tuple[Slot, int], int] = {}
        """For each fastener set of a fitted piece, how many passes are done."""
        self.fitted: dict[Slot, None] = {}
        """Slots that were filled in this job, and so have passes to do."""

        self.values: dict[str, list[Value]] = {}
        self.decided: dict[str, Word] = {}
        self.verdicts: dict[str, Verdict | None] = {}
        """Worked out when asked for, forgotten when a reading comes."""

        self.disturbed: dict[str, None] = {}
        """Settings that must be made (again)."""
        self.set_to: dict[str, float | str] = {}
        self.signed: dict[str, int] = {}
        self.recorded: dict[str, set[str]] = {}
        self.tools: dict[str, ToolBox] = {}
        self.help_asked: str | None = None
        """The entry by which help was asked and not yet given."""
        self.finished = False

    def pieces_off(self, part: str) -> list[Slot]:
        """The slots of a part that are empty."""
        return [(part, place) for place in self.plan.parts[part].places if (part, place) in self.empty]

    def is_wholly_on(self, part: str) -> bool:
        """Whether no piece of the part is off (an absent part counts: it is not missed)."""
        return not any((part, place) in self.empty for place in self.plan.parts[part].places)

    def expected(self, bag: str) -> dict[str, int]:
        """What should be in a bag by what came off into it."""
        total: dict[str, int] = {}
        for part, _ in self.bags[bag].pieces if bag in self.bags else ():
            for name, number in self.plan.parts[part].holds.items():
                total[name] = total.get(name, 0) + number
        return total
