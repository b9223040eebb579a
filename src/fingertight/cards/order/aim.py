"""A job that only wants to get at a few parts: what comes off for it, how far the way there is, what stays on."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules
from fingertight.order.whole import order_to


@dataclass(frozen=True)
class AimCard(Card):
    """What is wanted, and how far it is. way: parts that come off for it and are still on, in order; arrived: whether
    all that is wanted is off."""

    wanted: str
    sentence: str
    way: tuple[str, ...]
    arrived: bool


class NoWay(Exception):
    """Nothing leads there; the message says why."""


def aim_card(state: State) -> AimCard | None:
    """How far is a job that only wants to get at some parts? None for one that strips everything."""
    if not state.aim:
        return None
    titles = {part: plan.title for part, plan in state.plan.parts.items()}
    gone = {part for part in state.plan.parts if state.moves.is_off(part) or state.moves.is_absent(part)}
    left = tuple(part for part in state.way if part not in gone)
    still_on = [part for part in state.aim if part not in gone]
    taken = len(state.way) - len(left)
    if not still_on:
        sentence = (
            f"You are there: {counted(taken, 'part')} off for it. Measure and renew, then build back what is off."
        )
    else:
        sentence = (
            f"{taken} of {counted(len(state.way), 'part')} that come off for it are off. Next: {titles[left[0]]}."
        )
    return AimCard(listed(titles[part] for part in state.aim), sentence, left if still_on else (), not still_on)


def way_to(anatomy: Anatomy, parts: Sequence[str], proposed: Sequence[str] = ()) -> tuple[str, ...]:
    """What comes off to have these off, in order: as proposed, where that is lawful and leads there; else a short way.

    Raises NoWay where nothing leads there, KeyError for a part the machine does not have.
    """
    if proposed and _leads_to(anatomy, parts, proposed):
        return tuple(proposed)
    way: dict[str, None] = {}
    titles = {part.id: part.title for part in anatomy.parts}
    for part in parts:
        if anatomy.part_by_id[part].stays:
            raise NoWay(f"{titles[part]} never comes off: it stays, and other parts are fixed to it.")
        found = order_to(anatomy, part)
        if found.order is None:
            raise NoWay(found.knot.sentence(titles) if found.knot else f"Nothing leads to {titles[part]}.")
        way |= dict.fromkeys(found.order)
    return tuple(way)


def _leads_to(anatomy: Anatomy, parts: Sequence[str], way: Sequence[str]) -> bool:
    moves = Moves(Rules.of(anatomy))
    for part in way:
        if part not in moves.may_come_off():
            return False
        moves.took(part)
    return all(moves.is_off(part) for part in parts)
