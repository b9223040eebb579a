"""Where everything is and what was done to it, after the entries folded so far. Only the folds change it."""

from dataclasses import dataclass, field

from fingertight.ledger.flags import Cause, Flags
from fingertight.ledger.plan import Plan
from fingertight.measure.verdict import Verdict, Word
from fingertight.order.moves import Moves, NotYet

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
    """One reading as it counts: where it was taken, in the unit of its check, with what and how warm, and whether it
    cannot be right."""

    at: str | None
    across: str | None
    value: float
    entry: str
    with_part_on: str | None = None
    odd: bool = False
    instrument: str | None = None
    temperature_c: float | None = None


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
        self.early: dict[tuple[Slot, int], int] = {}
        """For each fastener set, a pass that was done before those that belong before it, and so does not count."""
        self.worst_nm: dict[Cause, float] = {}
        """The worst torque since a pass was last right, by the cause of its flag [N·m]."""
        self.fitted: dict[Slot, None] = {}
        """Slots that were filled in this job, and so have passes to do."""

        self.values: dict[str, list[Value]] = {}
        self.read_twice: dict[tuple[str, str | None, str | None], float] = {}
        """Readings that looked like a slip and were read the same again, by check and spot."""
        self.decided: dict[str, Word] = {}
        self.verdicts: dict[str, Verdict | None] = {}
        """Worked out when asked for, forgotten when a reading comes."""

        self.aim: tuple[str, ...] = ()
        """The parts that are wanted, where not everything is to come off; and what comes off for them, in order."""
        self.way: tuple[str, ...] = ()

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
        slots = self.plan.parts[part].slots
        return [slot for slot in slots if slot in self.empty]

    def is_wholly_on(self, part: str) -> bool:
        """Whether no piece of the part is off (an absent part counts: it is not missed)."""
        return not self.pieces_off(part)

    def may_go_on(self) -> list[str]:
        """The parts of which a piece may go on now: as whole parts may, but over no piece that lies in its bag."""
        lying = self._partly_off()
        may = {part for part in self.moves.may_go_on() if not self._pieces_first(part, lying)}
        may |= {part for part in lying if self.moves.may_another_piece_go_on(part)}
        return [part for part in self.plan.parts if part in may]

    def not_yet(self, part: str) -> NotYet:
        """What keeps a part from going on now; of a part that is partly off, its other pieces go on first."""
        found = self.moves.not_yet(part)
        first = self._pieces_first(part, self._partly_off())
        return NotYet(tuple(dict.fromkeys((*found.after, *first))), found.in_the_way)

    def _partly_off(self) -> list[str]:
        return list(dict.fromkeys(part for part, _ in self.empty if self.moves.is_on(part)))

    def _pieces_first(self, part: str, lying: list[str]) -> list[str]:
        if not lying or not self.moves.is_off(part):
            return []
        waits_for = {*self.moves.would_hold(part), *self.plan.anatomy.part_by_id[part].fit_after}
        return [other for other in lying if other in waits_for]

    def expected(self, bag: str) -> dict[str, int]:
        """What should be in a bag by what came off into it."""
        total: dict[str, int] = {}
        for part, _ in self.bags[bag].pieces if bag in self.bags else ():
            for name, number in self.plan.parts[part].holds.items():
                total[name] = total.get(name, 0) + number
        return total
