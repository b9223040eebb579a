"""The places of a machine where a loose bolt may belong, as the cards name them."""

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import noun_of, plural
from fingertight.ledger.asked.openholes import OpenHoles

FIGURES = (
    "How sure: by how lengths scatter about their names (ISO 4759-1), how heads are called, and what is missing in the "
    "job; the shares are common practice, no source. Bolts told alike are alike here."
)
SURE = 0.95


def where(one: OpenHoles) -> tuple[str, str | None, int]:
    """The part, its place, and its fastener set counted from 0."""
    return one.slot[0], one.slot[1], one.set


def name_of(one: OpenHoles) -> str:
    """What one bolt of the set is called: M6x28 bolt, 8.8."""
    said = f"{one.fasteners.counted_as} {plural(1, noun_of(one.fasteners))}".strip()
    return f"{said}, {one.fasteners.grade}" if one.fasteners.grade else said


def title_of(anatomy: Anatomy, one: OpenHoles) -> str:
    """The part, and which of its pieces."""
    part, place = one.slot
    title = anatomy.part_by_id[part].title
    return f"{title} ({place})" if place else title


def percent(probability: float) -> str:
    """How sure it is, in words a mechanic takes at their worth.

    >>> percent(0.62), percent(0.994), percent(0.999)
    ('62 %', '99 %', 'sure')
    """
    return f"{min(round(probability * 100), 99)} %" if probability < 0.995 else "sure"
