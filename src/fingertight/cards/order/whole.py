"""A whole order, step by step, with its cost and how near that is to the least there can be; or why there is none."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.ledger.plan import listed
from fingertight.order.best.orders import orders_to, rebuild_orders, strip_orders
from fingertight.order.cost import Prices, Tally, Work, work_of
from fingertight.order.whole import NoWay, WholeOrder, order_to, rebuild_order, strip_order
from fingertight.quantity import plain

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
    """The usual order, found at once: a whole strip or rebuild, or with `to` what must come off to have that one off.

    Bags, labels and sheets follow it; it is the same as long as the file is. `proven_cards` looks for a better one.
    Raises KeyError when `to` is no part of the machine.
    """
    prices = prices or Prices()
    if to is not None:
        if anatomy.part_by_id[to].stays:
            return _stays(anatomy, to)
        return _said(anatomy, order_to(anatomy, to, prices), _about(anatomy, Asked(to=(to,))), prices)
    found = rebuild_order(anatomy, prices) if way == "rebuild" else strip_order(anatomy, prices)
    return _said(anatomy, found, _about(anatomy, Asked(way)), prices)


@dataclass(frozen=True)
class Asked:
    """Which order is asked for: everything off or on; `to`: only what frees these parts; `first`: these before all."""

    way: Way = "strip"
    to: tuple[str, ...] = ()
    first: tuple[str, ...] = ()


def proven_cards(anatomy: Anatomy, asked: Asked, prices: Prices | None = None) -> Iterator[OrderCard | NoOrderCard]:
    """Which order costs least? Each answer is better than the one before, or surer; the last is proven.

    Whoever asks may stop at any time. Raises KeyError for a part the machine does not have.
    """
    prices = prices or Prices()
    about = _about(anatomy, asked)
    for part in (*asked.to, *asked.first):
        if anatomy.part_by_id[part].stays:
            yield _stays(anatomy, part)
            return
    if asked.to:
        orders = orders_to(anatomy, asked.to, prices)
    elif asked.way == "rebuild":
        orders = rebuild_orders(anatomy, prices)
    else:
        orders = strip_orders(anatomy, prices, asked.first)
    before: WholeOrder | None = None
    for found in orders:
        if found != before:
            yield _said(anatomy, found, about, prices)
        before = found


def answered(
    anatomy: Anatomy, asked: Asked, said: Mapping[str, Any], prices: Prices | None = None
) -> OrderCard | NoOrderCard:
    """The card of an answer that came as JSON from a search elsewhere, for the same machine and question."""
    if said["order"] is None:
        return NoOrderCard(None, said["because"], tuple(said["ring"]))
    found = WholeOrder(tuple(said["order"]), said["cost_min"], said["bound_min"], said["proof"])
    return _said(anatomy, found, _about(anatomy, asked), prices or Prices())


def _about(anatomy: Anatomy, asked: Asked) -> str:
    if asked.to:
        return f"the way to {listed(anatomy.part_by_id[part].title for part in asked.to)}"
    first = f", {listed(anatomy.part_by_id[part].title for part in asked.first)} first" if asked.first else ""
    return f"a whole {asked.way}{first}"


def no_way(anatomy: Anatomy, none: NoWay) -> str:
    """Why nothing leads to a part, in a sentence."""
    if none.knot is None:
        return _stays(anatomy, none.part).because
    return none.knot.sentence({part.id: part.title for part in anatomy.parts})


def _stays(anatomy: Anatomy, part: str) -> NoOrderCard:
    title = anatomy.part_by_id[part].title
    return NoOrderCard(None, f"{title} never comes off: it stays, and other parts are fixed to it.", (part, part))


def _said(anatomy: Anatomy, found: WholeOrder, about: str, prices: Prices) -> OrderCard | NoOrderCard:
    if found.order is None:
        titles = {part.id: part.title for part in anatomy.parts}
        return NoOrderCard(
            None, found.knot.sentence(titles) if found.knot else "", found.knot.ring if found.knot else ()
        )
    works = work_of(anatomy, rebuild=about.startswith("a whole rebuild"))
    steps, changes, turns = steps_of(anatomy, found.order, works, prices)
    return OrderCard(
        order=found.order,
        cost_min=found.cost_min,
        bound_min=found.bound_min,
        proof=found.proof,
        machine=anatomy.machine.name,
        about=about,
        steps=steps,
        changes=changes,
        turns=turns,
    )


def steps_of(
    anatomy: Anatomy, order: Iterable[str], works: dict[str, Work], prices: Prices
) -> tuple[tuple[OrderStep, ...], int, int]:
    """The steps of an order, how often the spanner changes in it and how often the machine is turned."""
    tally = Tally(anatomy.machine.rests[0] if anatomy.machine.rests else None, prices)
    steps = []
    for part in order:
        work = works[part]
        turn_to = (work.rest or "") if tally.turns_for(work) else ""
        tally.add(work)
        steps.append(
            OrderStep(part, anatomy.part_by_id[part].title, work.minutes_min, tuple(sorted(work.tools)), turn_to)
        )
    return tuple(steps), tally.changes, tally.turns


def proof_sentence(card: OrderCard) -> str:
    """How sure that is, in words: proven, or how much could at most be saved."""
    if card.proof == "best":
        return "No order costs less."
    could = card.cost_min - card.bound_min
    return (
        f"No order can cost less than {plain(card.bound_min)} min: at most {plain(round(could, 2))} min "
        f"({100 * could / card.cost_min:.2g} %) could be saved."
    )
