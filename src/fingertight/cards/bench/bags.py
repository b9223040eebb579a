"""The row of bags: which bag is meant for which piece, what lies in each, and the count of them."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.labels import labels_in_order
from fingertight.ledger.plan import listed
from fingertight.ledger.state import Slot, State
from fingertight.order.whole import strip_order

Bags = Mapping[Slot, str]
"""The number of the bag meant for each piece."""


@dataclass(frozen=True)
class BagTag(Card):
    """A bag in the row: what lies in it, and whether that may go on now."""

    bag: str
    part: str
    title: str
    holds: str
    next: bool


@dataclass(frozen=True)
class CountedKey(Card):
    """One thing to count in a bag: the form's field, its id on the page, its name, what was typed and not taken."""

    field: str
    id: str
    name: str
    typed: str


@dataclass(frozen=True)
class BagCount(Card):
    """One bag to count."""

    bag: str
    title: str
    keys: tuple[CountedKey, ...]


def bag_numbers(anatomy: Anatomy) -> Bags:
    """Which bag is meant for each piece? The one whose printed label names it: numbered in a good order of removal."""
    order = strip_order(anatomy).order or ()
    return {(label.part, label.place): label.bag for label in labels_in_order(anatomy, order)}


def suggested_bag(state: State, bags: Bags, slot: Slot) -> str:
    """The bag for what comes out of this place: the own bag of the piece that sits there, perhaps another's.

    Where something else lies in that bag, the next number nobody uses.
    """
    piece = state.sits.get(slot, slot)
    own = bags.get(piece, "")
    lying = state.bags[own].pieces if own in state.bags else []
    if own and all(other == piece for other in lying):
        return own
    taken = [int(bag) for bag in [*bags.values(), *state.bags] if bag.isdecimal()]
    return str(max(taken, default=0) + 1)


def bag_tags(state: State, free: Collection[Slot], *, newest_first: bool) -> tuple[BagTag, ...]:
    """The bags in use, in order of removal or the last first. free: the pieces that may go on now."""
    tags = []
    for piece, bag in state.lies.items():
        plan = state.plan.parts[piece[0]]
        holds = listed(f"{number} × {name}" for name, number in plan.holds.items())
        tags.append(BagTag(bag or "no bag", piece[0], plan.piece_name(piece[1]), holds, piece in free))
    return tuple(reversed(tags) if newest_first else tags)


def bags_sentence(state: State, *, newest_first: bool) -> str:
    """How many bags there are, and how they lie."""
    if not state.lies:
        return "No bag is in use: nothing is off."
    bags = counted(len(state.lies), "bag")
    return f"{bags}, in order of removal" if not newest_first else f"{bags}, last off first: last off is first on"


def holds_counted(state: State, slot: Slot, form: str, typed: Mapping[str, str]) -> tuple[CountedKey, ...]:
    """What can be counted as this piece comes off? form: the id of its form; typed: texts by field, not taken."""
    return tuple(
        CountedKey(field := f"holds/{name}", f"{form}-holds-{number}", name, typed.get(field, ""))
        for number, name in enumerate(state.plan.parts[slot[0]].holds)
    )


def tools_counted(state: State, typed: Mapping[str, str]) -> tuple[CountedKey, ...]:
    """Which tools were lent so far, and so are counted?"""
    return tuple(
        CountedKey(field := f"tools/{name}", f"count-tool-{number}", name, typed.get(field, ""))
        for number, name in enumerate(state.tools)
    )


def bag_counts(state: State, typed: Mapping[str, str]) -> tuple[BagCount, ...]:
    """What is there to count in each bag? typed: texts by field that were not taken."""
    counts = []
    for number, bag in enumerate(state.bags):
        expected = state.expected(bag)
        names = listed(state.plan.parts[part].piece_name(place) for part, place in state.bags[bag].pieces)
        keys = tuple(
            CountedKey(field := f"count/{bag}/{name}", f"count-{number}-{place}", name, typed.get(field, ""))
            for place, name in enumerate(expected)
        )
        if keys:
            counts.append(BagCount(bag, names, keys))
    return tuple(counts)
