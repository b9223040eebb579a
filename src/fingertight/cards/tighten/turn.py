"""One fastener set being tightened: which bolt next, which pass, how much, and what the wrench's own scale reads."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import FastenerSet
from fingertight.cards.bench.due import TORQUE_UNITS
from fingertight.cards.bench.page import FlagCard, JobName, flag_card
from fingertight.cards.card import Card
from fingertight.cards.pictures.bolts import BoltPicture, order_picture
from fingertight.cards.tighten.pull import Pull, pull_of
from fingertight.cards.tighten.words import LEFT_HAND, SURFACES, engaged_mm, on_scale, sentence, set_name
from fingertight.ledger.asked.due import passes_due
from fingertight.ledger.state import Slot, State
from fingertight.quantity import plain
from fingertight.tighten.pattern.sequence import tightening_order

_ANEW = "Begin again from this pass: those after it follow once more. "


@dataclass(frozen=True)
class ScaleCard(Card):
    """A unit a wrench may be marked in, and what it reads for this pass."""

    unit: str
    torque: str
    chosen: bool


@dataclass(frozen=True)
class BoltDot(Card):
    """One bolt: its number in the order, where it is drawn, whether it is done, next or waits, and `then`: which bolts
    are done once it is tapped, by their positions in the machine's file."""

    number: int
    position: int
    x: float
    y: float
    state: str
    then: str


@dataclass(frozen=True)
class PassTab(Card):
    """One pass of the set: its number from 0, its share, and whether it is done, open to be done, or on this page."""

    number: int
    share: str
    done: bool
    open: bool
    now: bool


@dataclass(frozen=True)
class NextSet(Card):
    """Another set that has a pass to do."""

    part: str
    place: str
    set: int
    title: str


@dataclass(frozen=True)
class TurnCard(Card):
    """The screen of one pass. `order`: positions done so far, as they will be kept; `wait`: why nothing can be done;
    `early`: what was done out of turn; `finished`: said where every pass is done and nothing is wrong with the part."""

    job: JobName
    part: str
    place: str
    set: int
    title: str
    what: str
    number: int
    passes: tuple[PassTab, ...]
    torque: str
    unit: str
    scales: tuple[ScaleCard, ...]
    lead: str
    minds: tuple[str, ...]
    cautions: tuple[str, ...]
    picture: BoltPicture | None
    dots: tuple[BoltDot, ...]
    order: str
    before: str
    all_done: bool
    act_all: str
    act_order: str
    wait: str
    early: str
    finished: str
    others: tuple[NextSet, ...]
    flags: tuple[FlagCard, ...]


def turn_card(
    job: JobName,
    state: State,
    slot: Slot,
    number: int,
    *,
    unit: str = "N·m",
    chosen_pass: int | None = None,
    done: Sequence[int] = (),
) -> TurnCard:
    """What stands on the screen for this set of this piece?

    unit: of the wrench's scale. chosen_pass: one to do again; without it, or beyond it, the next that is due, or the
    last. done: positions tapped so far, from 1; what is no position, or stands there twice, is passed over.
    Raises KeyError or IndexError where the machine has no such piece or set, LookupError where it has no torque.
    """
    plan = state.plan.parts[slot[0]]
    fasteners = plan.sets[number]
    if slot not in plan.slots:
        raise KeyError(slot)
    if fasteners.torque is None:
        raise LookupError(number)
    made = state.passes.get((slot, number), 0)
    last = len(fasteners.passes) - 1
    nth = min(made, last, last if chosen_pass is None else chosen_pass)
    torque_nm = fasteners.torque * fasteners.passes[nth]
    through = made > last and chosen_pass is None
    flags = tuple(flag_card(flag) for flag in state.flags.open() if flag.part == slot[0])
    taps, pull = _Taps(fasteners, done), pull_of(fasteners)
    turn = f"pass {nth + 1} of {last + 1}" if last else "the one pass"
    return TurnCard(
        job=job,
        part=slot[0],
        place=slot[1] or "",
        set=number,
        title=plan.piece_name(slot[1]),
        what=set_name(fasteners),
        number=nth,
        passes=_passes(fasteners, made, None if through else nth),
        torque=on_scale(torque_nm, unit),
        unit=unit,
        scales=tuple(ScaleCard(each, on_scale(torque_nm, each), each == unit) for each in TORQUE_UNITS),
        lead=f"{_ANEW if nth + 1 < made else ''}{_lead(taps, nth, fasteners)}",
        minds=_minds(fasteners, torque_nm, unit, pull),
        cautions=tuple(filter(None, (pull.caution, *state.plan.anatomy.part_by_id[slot[0]].cautions))),
        picture=taps.picture,
        dots=taps.dots(),
        order=_comma(taps.done),
        before=_comma(taps.done[:-1]),
        all_done=bool(taps.order) and len(taps.done) == len(taps.order),
        act_all=f"All done: {turn}" if fasteners.how_many > 1 else f"Done: {turn}",
        act_order=f"Done as tapped: {turn}",
        wait=_wait(state, slot),
        early=_early(state.early.get((slot, number))),
        finished=_finished(fasteners, plan.piece_name(slot[1])) if through and not flags else "",
        others=_others(state, slot, number),
        flags=flags,
    )


def _passes(fasteners: FastenerSet, made: int, now: int | None) -> tuple[PassTab, ...]:
    return tuple(
        PassTab(nth, _percent(share), nth < made, nth <= made, nth == now) for nth, share in enumerate(fasteners.passes)
    )


class _Taps:
    """The bolts in their order, and which of them were tapped."""

    def __init__(self, fasteners: FastenerSet, done: Sequence[int]) -> None:
        at = fasteners.at
        self.order = tightening_order(at, fasteners.pattern, fasteners.order) if len(at) > 1 else ()
        self.done = tuple(dict.fromkeys(one for one in done if 1 <= one <= len(self.order)))
        self.picture = order_picture(at, self.order) if self.order else None
        self.next = next((one for one in self.order if one not in self.done), None)

    def dots(self) -> tuple[BoltDot, ...]:
        """Each bolt, in the order they are tightened."""
        if self.picture is None:
            return ()
        found = [self._dot(position, dot.x, dot.y) for position, dot in enumerate(self.picture.dots, 1)]
        return tuple(sorted(found, key=lambda dot: dot.number))

    def _dot(self, position: int, x: float, y: float) -> BoltDot:
        state = "done" if position in self.done else "next" if position == self.next else "waits"
        then = self.done if position in self.done else (*self.done, position)
        return BoltDot(self.order.index(position) + 1, position, x, y, state, _comma(then))


def _lead(taps: _Taps, nth: int, fasteners: FastenerSet) -> str:
    if not taps.order:
        return "By hand first, until it touches." if not nth else "Once more, a little tighter."
    if not taps.done:
        first = "By hand first, all round, until they touch. Then" if not nth else "Again in the numbered order:"
        return f"{first} bolt 1."
    if taps.next is None:
        return "Every one is tapped."
    return f"Next: bolt {taps.order.index(taps.next) + 1}."


def _minds(fasteners: FastenerSet, torque_nm: float, unit: str, pull: Pull) -> tuple[str, ...]:
    """What to know before the wrench clicks."""
    said = [
        f"{on_scale(torque_nm, 'N·m')} N·m is {on_scale(torque_nm, unit)} {unit}." if unit != "N·m" else "",
        LEFT_HAND if fasteners.left_hand else "",
        SURFACES[fasteners.surface] if fasteners.surface else "",
        sentence(fasteners.note) if fasteners.note else "",
        sentence(f"Torque: {fasteners.torque_source}") if fasteners.torque_source else "",
    ]
    engaged = engaged_mm(fasteners)
    if engaged is not None:
        hole = f" of {plain(fasteners.depth)} mm" if fasteners.depth else ""
        early = "one that stops early is too long, or the hole is dirty."
        said.append(f"Each goes {plain(engaged)} mm{hole} into its hole; {early}")
    said.append(pull.says)
    return tuple(one for one in said if one)


def _wait(state: State, slot: Slot) -> str:
    if state.moves.is_absent(slot[0]):
        return "This machine does not have it."
    if slot in state.empty:
        bag = state.lies.get(slot)
        return f"It lies in bag {bag}: it goes on first." if bag else "It is off: it goes on first."
    return ""


def _early(nth: int | None) -> str:
    if nth is None:
        return ""
    return (
        f"Pass {nth + 1} was written before those that belong before it, and does not count. Slacken, and begin here."
    )


def _finished(fasteners: FastenerSet, title: str) -> str:
    full = f"{plain(fasteners.torque or 0.0)} N·m"
    if fasteners.how_many > 3:
        return f"{title}: every pass is done. Go round once more at {full}; none may move."
    return f"{title}: every pass is done, to {full}."


def _others(state: State, slot: Slot, number: int) -> tuple[NextSet, ...]:
    return tuple(
        NextSet(due.slot[0], due.slot[1] or "", due.set, state.plan.parts[due.slot[0]].piece_name(due.slot[1]))
        for due in passes_due(state)
        if (due.slot, due.set) != (slot, number)
    )


def _percent(share: float) -> str:
    return f"{plain(round(share * 100, 1))} %"


def _comma(positions: Sequence[int]) -> str:
    return ",".join(str(one) for one in positions)
