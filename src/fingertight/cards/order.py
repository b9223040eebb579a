"""A whole order, step by step, with its cost and how near that is to the least there can be; or why there is none."""

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.order.cost import Prices, Tally, work_of
from fingertight.order.whole import WholeOrder, order_to, rebuild_order, strip_order

Way = Literal["strip", "rebuild"]


@dataclass(frozen=True)
class OrderStep(Card):
    """One part in its turn: what it asks for in the hand, how the machine is turned for it ("" where it lies right)."""

    part: str
    title: str
    minutes: float
    tools: tuple[str, ...]
    turn_to: str


@dataclass(frozen=True)
class OrderCard(Card):
    """An order that can be done. `proof`: none costs less ("best"), or none less than `bound_min` ("within")."""

    order: tuple[str, ...]
    cost_min: float
    bound_min: float
    proof: Literal["best", "within", "none"]
    machine: Annotated[str, Field(exclude=True)]
    about: Annotated[str, Field(exclude=True)]
    steps: Annotated[tuple[OrderStep, ...], Field(exclude=True)]
    changes: Annotated[int, Field(exclude=True)]
    turns: Annotated[int, Field(exclude=True)]


@dataclass(frozen=True)
class NoOrderCard(Card):
    """There is no such order, and why: the parts that block each other, or a part and the staying part in its way."""

    order: None
    because: str
    ring: tuple[str, ...]


def order_card(
    anatomy: Anatomy, way: Way = "strip", to: str | None = None, prices: Prices | None = None
) -> OrderCard | NoOrderCard:
    """A whole strip or rebuild, or with `to` the parts that must come off to have that one off.

    Raises KeyError when `to` is no part of the machine.
    """
    prices = prices or Prices()
    titles = {part.id: part.title for part in anatomy.parts}
    if to is not None:
        if anatomy.part_by_id[to].stays:
            return NoOrderCard(
                None, f"{titles[to]} never comes off: it stays, and other parts are fixed to it.", (to, to)
            )
        found, about = order_to(anatomy, to, prices), f"the way to {titles[to]}"
    elif way == "rebuild":
        found, about = rebuild_order(anatomy, prices), "a whole rebuild"
    else:
        found, about = strip_order(anatomy, prices), "a whole strip"
    if found.order is None:
        knot = found.knot
        return NoOrderCard(None, knot.sentence(titles) if knot else "", knot.ring if knot else ())
    return _done(anatomy, found, found.order, about, prices)


def _done(anatomy: Anatomy, found: WholeOrder, order: tuple[str, ...], about: str, prices: Prices) -> OrderCard:
    works = work_of(anatomy, rebuild=about == "a whole rebuild")
    tally = Tally(anatomy.machine.rests[0] if anatomy.machine.rests else None, prices)
    steps = []
    for part in order:
        work = works[part]
        turn_to = (work.rest or "") if tally.turns_for(work) else ""
        tally.add(work)
        steps.append(
            OrderStep(part, anatomy.part_by_id[part].title, work.minutes_min, tuple(sorted(work.tools)), turn_to)
        )
    return OrderCard(
        order=order,
        cost_min=found.cost_min,
        bound_min=found.bound_min,
        proof=found.proof,
        machine=anatomy.machine.name,
        about=about,
        steps=tuple(steps),
        changes=tally.changes,
        turns=tally.turns,
    )
