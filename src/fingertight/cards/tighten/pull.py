"""What the full torque of a fastener set does to its bolts: how hard each pulls, and what gives when it is too much."""

from collections.abc import Iterator
from dataclasses import dataclass

from fingertight.anatomy.model import FastenerSet
from fingertight.cards.sums.tighten.torque import SUM
from fingertight.cards.sums.tighten.torque.card import TorqueCard
from fingertight.cards.sums.tighten.wrench import digits
from fingertight.cards.tighten.words import engaged_mm
from fingertight.quantity import NotUnderstood, plain
from fingertight.tighten.torque.strength import Strain

_UNKNOWN = "oiled"
"""What threads are taken for where the file says nothing: as they come out of the box (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Pull:
    """A sentence on the preload, and one of caution where bolt or hole will not bear it; "" where there is none."""

    says: str
    caution: str


def pull_of(fasteners: FastenerSet) -> Pull:
    """What does the torque of this set do to each of its bolts?

    Asked of the sum `torque`, with the class, surface, head and hole the file states. Nothing is said where the file
    has no torque or no class of strength, or a head whose bearing face no table has.
    """
    try:
        card = SUM.ask(dict(_typed(fasteners)))
    except NotUnderstood:
        return Pull("", "")
    # Always so; said for the types.
    return Pull(_says(card, fasteners), _caution(card)) if isinstance(card, TorqueCard) else Pull("", "")


def _typed(fasteners: FastenerSet) -> Iterator[tuple[str, str]]:
    """The fields of the sum, as a person would type them."""
    if not fasteners.torque:
        return
    engaged = engaged_mm(fasteners)
    yield "thread", fasteners.thread or ""
    yield "grade", fasteners.grade or ""
    yield "torque", f"{fasteners.torque} N·m"
    yield "surface", fasteners.surface or _UNKNOWN
    yield "head", fasteners.head or ""
    if fasteners.into and engaged is not None and engaged > 0:
        yield "into", fasteners.into
        yield "engaged", f"{engaged} mm"


def _says(card: TorqueCard, fasteners: FastenerSet) -> str:
    share = card.share_of_proof
    low, usual, high = (plain(round(one * 100)) for one in (share.low, share.usual, share.high))
    taken = "" if fasteners.surface else f", taken as {_UNKNOWN}"
    return (
        f"The full torque usually pulls {digits(card.preload_n.usual / 1000)} kN, {usual} % of the proof load; "
        f"{low} to {high} % as friction scatters{taken}."
    )


def _caution(card: TorqueCard) -> str:
    """Only what usually happens is cautioned against: what might happen to the slipperiest is in the band."""
    too_much = f"{digits(card.torque_nm.usual)} N·m is too much here"
    ask = "Ask before you pull: the maker’s data come first, and this file may be wrong."
    if card.ends in {Strain.OVER, Strain.BREAKS}:
        does = "break" if card.ends == Strain.BREAKS else "stretch for good"
        return f"{too_much}: a bolt of this class may {does}. {ask}"
    hole = card.hole
    if hole is not None and hole.weakest_n is not None and hole.weakest_n < card.preload_n.usual:
        return f"{too_much}: {hole.weakest}. {ask}"
    return ""
