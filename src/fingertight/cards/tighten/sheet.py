"""The tightening sheet of a machine: every fastener set that has a torque, in the order of the rebuild."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Anatomy, FastenerSet, Part
from fingertight.cards.card import Card
from fingertight.cards.order.whole import order_card
from fingertight.cards.pictures.bolts import BoltPicture, bolt_picture
from fingertight.cards.sums.answer import FIRST
from fingertight.cards.tighten.pull import pull_of
from fingertight.cards.tighten.words import LEFT_HAND, SURFACES, engaged_mm, inch_size, on_scale, sentence, set_name
from fingertight.ledger.plan import listed
from fingertight.order.cost import spanner_of
from fingertight.quantity import converted, plain
from fingertight.tighten.pattern.sequence import tightening_order

SCALES = ("N·m", "lb·ft", "lb·in", "kgf·m")
HOW = "Finger-tight all round first; passes in the numbered order; a last round at the full torque."
SHORT_HASH = 12


@dataclass(frozen=True)
class PassOfSet(Card):
    """One round: its share of the torque, what that is [N·m], and what the wrench is set to."""

    share: float
    torque_nm: float
    says: Annotated[str, Field(exclude=True)]


@dataclass(frozen=True)
class TorquedSet(Card):
    """One fastener set with its torque. `set` counts from 0 within its part; `order` names positions from 1.

    `in_units`: the torque in the unit of each scale; `reads`: the digits to set there. `engaged_mm` of `depth_mm`: how
    deep each one goes, null where the file does not say. `pieces` and `places`: the part has that many, or one at each
    place, and each is held so.
    """

    part: str
    title: str
    places: tuple[str, ...]
    pieces: int
    set: int
    name: str
    count: int
    spanner: str
    torque_nm: float
    in_units: dict[str, float]
    passes: tuple[PassOfSet, ...]
    order: tuple[int, ...]
    picture: BoltPicture | None
    engaged_mm: float | None
    depth_mm: float | None
    surface: str
    left_hand: bool
    note: str
    torque_source: str
    cautions: tuple[str, ...]
    reads: Annotated[dict[str, str], Field(exclude=True)]
    each: Annotated[str, Field(exclude=True)]
    turned_by: Annotated[str, Field(exclude=True)]
    minds: Annotated[tuple[str, ...], Field(exclude=True)]


@dataclass(frozen=True)
class UntorquedSet(Card):
    """A threaded set without a torque: it is tightened by hand or by feel."""

    part: str
    title: str
    set: int
    name: str
    note: str


@dataclass(frozen=True)
class TighteningSheetCard(Card):
    """All torques of a machine. `torque_source`: where most of them come from, as the file says it.

    `text_sha256`: the first 12 digits of the SHA-256 of the machine file's text, by which an old print is recognised.
    `file`: the PDF that was written, or "".
    """

    machine: str
    source: str
    torque_source: str
    text_sha256: str
    file: str
    sets: tuple[TorquedSet, ...]
    by_hand: tuple[UntorquedSet, ...]
    lead: Annotated[tuple[str, ...], Field(exclude=True)]
    rest: Annotated[tuple[str, ...], Field(exclude=True)]

    @property
    def is_no(self) -> bool:
        """Whether there is nothing to put on a sheet."""
        return not self.sets

    @property
    def says_no(self) -> str:
        """Why there is none, and what to write so that there is one."""
        mend = "Write torque (in N·m) and torque_source under its held_by."
        return f"No fastener set of {self.machine} states a torque. {mend}"


def tightening_sheet(anatomy: Anatomy, text_sha256: str, file: str = "") -> TighteningSheetCard:
    """What stands on the tightening sheet of this machine?

    text_sha256: of the text the anatomy was read from; its first 12 digits are kept. file: the PDF it is printed to.
    """
    parts = _as_rebuilt(anatomy)
    torqued = [(part, nth, one) for part in parts for nth, one in enumerate(part.held_by) if one.torque is not None]
    usual = _usual_source([one for _, _, one in torqued])
    by_hand = tuple(
        UntorquedSet(part.id, part.title, nth, set_name(one, inch_size(one)), one.note)
        for part in parts
        for nth, one in enumerate(part.held_by)
        if one.thread is not None and one.torque is None
    )
    return TighteningSheetCard(
        machine=anatomy.machine.name,
        source=anatomy.machine.source,
        torque_source=usual,
        text_sha256=text_sha256[:SHORT_HASH],
        file=file,
        sets=tuple(_torqued(part, nth, one, usual) for part, nth, one in torqued),
        by_hand=by_hand,
        lead=_lead(anatomy.machine.source, usual),
        rest=tuple(_by_hand(one) for one in by_hand),
    )


def _as_rebuilt(anatomy: Anatomy) -> list[Part]:
    """What stays is on before anything else; then the order of the rebuild; without one, as the file has them."""
    order = order_card(anatomy, "rebuild").order
    if order is None:
        return list(anatomy.parts)
    turn = {part: number for number, part in enumerate(order)}
    return sorted(anatomy.parts, key=lambda part: turn.get(part.id, -1))


def _usual_source(sets: list[FastenerSet]) -> str:
    """The source that most torques have, so that it need not stand at each of them."""
    counted = Counter(one.torque_source for one in sets if one.torque_source)
    return max(counted, key=lambda source: counted[source], default="")


def _torqued(part: Part, nth: int, fasteners: FastenerSet, usual: str) -> TorquedSet:
    torque_nm = fasteners.torque or 0.0
    at, spanner = fasteners.at, spanner_of(fasteners) or ""
    ordered = len(at) > 1 or bool(fasteners.order)
    return TorquedSet(
        part=part.id,
        title=part.title,
        places=part.places,
        pieces=part.count,
        set=nth,
        name=set_name(fasteners, inch_size(fasteners)),
        count=fasteners.how_many,
        spanner=spanner,
        torque_nm=torque_nm,
        # Rounded far below what a scale shows, so that 22 N·m is 22 and not 22 and a speck.
        in_units={unit: round(converted(torque_nm, "N·m", unit), 9) for unit in SCALES},
        passes=tuple(
            # Rounded far below what can be set, so that 0.7 of 10 N·m is 7 and not 7 and a speck.
            PassOfSet(share, round(torque_nm * share, 9), on_scale(torque_nm * share, "N·m"))
            for share in fasteners.passes
        ),
        order=tightening_order(at, fasteners.pattern, fasteners.order) if ordered else (),
        picture=bolt_picture((fasteners,), tightening=True) if len(at) > 1 else None,
        engaged_mm=engaged_mm(fasteners),
        depth_mm=fasteners.depth,
        surface=fasteners.surface or "",
        left_hand=fasteners.left_hand,
        note=fasteners.note,
        torque_source=fasteners.torque_source,
        cautions=part.cautions,
        reads={unit: on_scale(torque_nm, unit) for unit in SCALES},
        each=_each(part),
        turned_by=f"{spanner} spanner" if spanner.endswith((" mm", " in")) else spanner,
        minds=tuple(_minds(fasteners, usual)),
    )


def _each(part: Part) -> str:
    if part.places:
        return f"each: {listed(part.places)}"
    return f"each of {part.count}" if part.count > 1 else ""


def _minds(fasteners: FastenerSet, usual: str) -> Iterator[str]:
    """What to know before the wrench clicks; that it turns the other way comes first."""
    if fasteners.left_hand:
        yield LEFT_HAND
    caution = pull_of(fasteners).caution
    if caution:
        yield f"Caution: {caution}"
    if fasteners.surface:
        yield SURFACES[fasteners.surface]
    engaged = engaged_mm(fasteners)
    if engaged is not None:
        hole = f"{plain(fasteners.depth)} mm of thread" if fasteners.depth else "its thread"
        yield f"Goes {plain(engaged)} mm into {hole}."
    if fasteners.how_many > 1 and not fasteners.at:
        given = ", ".join(str(one) for one in fasteners.order)
        yield f"Order, as the file counts them: {given}." if given else "No positions are known, so no order is drawn."
    if fasteners.note:
        yield sentence(fasteners.note)
    if fasteners.torque_source != usual:
        yield sentence(f"Torque: {fasteners.torque_source or 'nothing says where it comes from'}")


def _lead(source: str, usual: str) -> tuple[str, ...]:
    return (
        sentence(f"Figures: {source}") if source else "Nothing says where the figures come from.",
        sentence(f"Torques, where nothing else is said: {usual}") if usual else "No torque says where it comes from.",
        FIRST,
        HOW,
    )


def _by_hand(one: UntorquedSet) -> str:
    return f"{one.title}: {one.name}{f' ({one.note})' if one.note else ''}"
