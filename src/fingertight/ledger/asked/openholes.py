"""Which holes may lack a bolt now? Asked when one lies on the floor: by what was counted, and by what is off."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from fingertight.anatomy.model import Anatomy, FastenerSet, Part
from fingertight.ledger.state import Slot, State
from fingertight.tighten.bolts.match import Hole
from fingertight.tighten.bolts.reach import Reach, Reached, reach
from fingertight.tighten.spanners.heads import NoSuchHead, head_named
from fingertight.tighten.threads.names import thread_named
from fingertight.tighten.torque.strength import NoSuchGrade, grade_named


class Lacks(StrEnum):
    """Why a hole may lack its bolt."""

    MISSING = "missing"
    OFF = "off"
    ON = "on"
    ANY = "any"


# How probable a hole of each sort is to lack its bolt, beside the others: common practice, no source. What was counted
# and found short comes first; what is off may have lost one since; what is on has its bolts, or they were left out.
WEIGHTS = {Lacks.MISSING: 1.0, Lacks.OFF: 0.1, Lacks.ON: 0.01, Lacks.ANY: 1.0}


@dataclass(frozen=True, slots=True)
class OpenHoles:
    """Like holes of one fastener set of one piece: how many, how many of them are known to lack their bolt (`short`),
    and why the others may."""

    slot: Slot
    set: int
    fasteners: FastenerSet
    count: int
    others: Lacks
    short: int = 0

    @property
    def lacks(self) -> Lacks:
        """Why one of them may lack its bolt, first of all."""
        return Lacks.MISSING if self.short else self.others

    @property
    def weight(self) -> float:
        """How probable one of them is to lack its bolt, beside the holes of other sets."""
        known, others = WEIGHTS[Lacks.MISSING] * self.short, WEIGHTS[self.others] * (self.count - self.short)
        return (known + others) / self.count

    def left(self, placed: int) -> int:
        """How many lack their bolt when so many were found: of those that were short; of all, where more were found
        than were short, since then their bag was spilled too."""
        return max(self.count if placed > self.short else self.short, placed) - placed


def holes_of(anatomy: Anatomy) -> list[OpenHoles]:
    """Every hole of a machine that takes a thread, when nothing is known of a job."""
    return [
        OpenHoles((part.id, place), number, fasteners, _all(part, fasteners), Lacks.ANY)
        for part, place, number, fasteners in _threaded(anatomy)
    ]


def open_holes(state: State) -> list[OpenHoles]:
    """The holes of a job that may lack their bolt, each with why; those of absent parts are none.

    What is missing from a bag belongs to the set it is counted with; two sets of one part that are counted under one
    name share it, and either may be the one.
    """
    found = []
    for part, place, number, fasteners in _threaded(state.plan.anatomy):
        if state.moves.is_absent(part.id):
            continue
        missing = _missing(state, (part.id, place), fasteners.counted_as or "")
        count = _all(part, fasteners)
        lacks = Lacks.OFF if (part.id, place) in state.empty else Lacks.ON
        found.append(OpenHoles((part.id, place), number, fasteners, count, lacks, min(missing, count)))
    return found


def _threaded(anatomy: Anatomy) -> list[tuple[Part, str | None, int, FastenerSet]]:
    return [
        (part, place, number, fasteners)
        for part in anatomy.parts
        for place in part.places or (None,)
        for number, fasteners in enumerate(part.held_by)
        if fasteners.thread
    ]


def _all(part: Part, fasteners: FastenerSet) -> int:
    return fasteners.how_many * part.count


def _missing(state: State, slot: Slot, name: str) -> int:
    """How many of this name are known to be missing: from the piece's bag, or said to be lost."""
    lost = state.missing.get((slot[0], name), 0)
    bag = state.lies.get(slot)
    if bag is None or bag not in state.bags:
        return lost
    return lost + max(0, state.expected(bag).get(name, 0) - state.bags[bag].holds.get(name, 0))


def as_holes(places: Sequence[OpenHoles]) -> list[Hole]:
    """The same as plain numbers and names, to hold a loose bolt against."""
    return [
        Hole(
            thread_named(one.fasteners.thread or "").name,
            _length_mm(one.fasteners),
            _head(one.fasteners),
            one.count,
            one.weight,
            _grade(one.fasteners),
            _longest_mm(one.fasteners),
        )
        for one in places
    ]


def _grade(fasteners: FastenerSet) -> str:
    """The class by its one name; a nut's is marked otherwise, and stands on it seldom."""
    try:
        return "" if _is_nut(fasteners) or not fasteners.grade else grade_named(fasteners.grade).name
    except NoSuchGrade:
        return ""


def _longest_mm(fasteners: FastenerSet) -> float | None:
    return None if fasteners.grip is None or fasteners.depth is None else fasteners.grip + fasteners.depth


def _is_nut(fasteners: FastenerSet) -> bool:
    return "nut" in (fasteners.head or "").lower().split()


def _length_mm(fasteners: FastenerSet) -> float | None:
    """The length under the head; a nut has none, so what has a length is no nut."""
    return 0.0 if _is_nut(fasteners) else fasteners.length


def _head(fasteners: FastenerSet) -> str:
    """The head's one name; "" where the machine names a head of its own, or a driver only."""
    try:
        return head_named(fasteners.head).name if fasteners.head else ""
    except NoSuchHead:
        return ""


class Swapped(StrEnum):
    """What happens when the bolts of two sets are taken for each other."""

    ALIKE = "alike"
    TOO_LONG = "too long"
    TOO_SHORT = "too short"
    CLASS = "class"
    HEAD = "head"
    LENGTH = "length"


def takes(fasteners: FastenerSet, length_mm: float | None) -> Reached | None:
    """Would a bolt of this length hold in these holes? None: the machine does not say what is clamped, or no length."""
    if fasteners.grip is None or length_mm is None or fasteners.thread is None:
        return None
    return reach(length_mm, fasteners.grip, thread_named(fasteners.thread).diameter_mm, fasteners.depth)


def swapped(one: FastenerSet, other: FastenerSet) -> Swapped:
    """Does it matter when the bolts of one set are fitted in the holes of the other? What hurts most is named."""
    for bolts, holes in ((one, other), (other, one)):
        reached = takes(holes, bolts.length)
        if reached and reached.word is not Reach.HOLDS:
            return Swapped.TOO_LONG if reached.word is Reach.TOO_LONG else Swapped.TOO_SHORT
    if one.grade != other.grade:
        return Swapped.CLASS
    if one.length != other.length:
        return Swapped.LENGTH
    return Swapped.ALIKE if one.head == other.head else Swapped.HEAD
