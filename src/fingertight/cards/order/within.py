"""What can be reached in so many minutes: every part with its shortest way in, the quickest first."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.order.best.orders import best_of, orders_to
from fingertight.order.cost import Prices

TURNS = 12
"""Answers listened to for each part: every part of the example machines is proven with fewer."""


@dataclass(frozen=True)
class Reached(Card):
    """One part: what its shortest way costs, how many parts come off with it, and how sure that is."""

    part: str
    title: str
    cost_min: float
    parts: int
    proof: Literal["best", "within", "none"]


@dataclass(frozen=True)
class WithinCard(Card):
    """The parts that can be had in the time; `beyond` cannot, the nearest first."""

    minutes: float
    reached: tuple[Reached, ...]
    beyond: tuple[Reached, ...]
    machine: Annotated[str, Field(exclude=True)]


def within_card(anatomy: Anatomy, minutes: float, prices: Prices | None = None) -> WithinCard:
    """Which parts can be off in so many minutes, each by its own shortest way?"""
    found = []
    for part in anatomy.parts:
        if part.stays:
            continue
        order = best_of(orders_to(anatomy, [part.id], prices or Prices()), TURNS)
        if order.order is not None:
            found.append(Reached(part.id, part.title, order.cost_min, len(order.order), order.proof))
    found.sort(key=lambda one: one.cost_min)
    return WithinCard(
        minutes=minutes,
        reached=tuple(one for one in found if one.cost_min <= minutes),
        beyond=tuple(one for one in found if one.cost_min > minutes),
        machine=anatomy.machine.name,
    )


def within_answered(anatomy: Anatomy, said: Mapping[str, Any]) -> WithinCard:
    """The card of an answer that came as JSON from a search elsewhere, for the same machine."""
    reached, beyond = (tuple(Reached(**one) for one in said[which]) for which in ("reached", "beyond"))
    return WithinCard(said["minutes"], reached, beyond, anatomy.machine.name)
