"""What may come off next, what may go on next, and for the rest what is in the way."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.order import moves as order
from fingertight.order.rules import Rules


@dataclass(frozen=True)
class InTheWay(Card):
    """What keeps a part from coming off: all of `behind`, and of `ways` one whole set, are still to come off."""

    behind: tuple[str, ...]
    ways: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class NotYet(Card):
    """What keeps a part from going on: `after` goes on before it, `in_the_way` comes off before it."""

    after: tuple[str, ...]
    in_the_way: Annotated[InTheWay | None, Field(exclude_if=lambda said: said is None)] = None


@dataclass(frozen=True)
class MovesCard(Card):
    """Every part of the machine, by what may be done with it now. Ids as in the anatomy, in its order."""

    may_come_off: tuple[str, ...]
    may_go_on: tuple[str, ...]
    in_the_way: dict[str, InTheWay]
    not_yet: dict[str, NotYet]
    machine: Annotated[str, Field(exclude=True)]
    titles: Annotated[dict[str, str], Field(exclude=True)]
    staying: Annotated[tuple[str, ...], Field(exclude=True)]


def moves_card(anatomy: Anatomy, off: Iterable[str]) -> MovesCard:
    """Which moves there are when these parts are off, whether or not they came off lawfully.

    Raises KeyError when a part is named that the anatomy does not have.
    """
    now = order.Moves(Rules.of(anatomy))
    for part in off:
        now.took(part)
    come_off, go_on = now.may_come_off(), now.may_go_on()
    return MovesCard(
        may_come_off=tuple(come_off),
        may_go_on=tuple(go_on),
        in_the_way={part: in_the_way(now, part) for part in now.on() if part not in set(come_off)},
        not_yet={part: _not_yet(now, part) for part in now.off() if part not in set(go_on)},
        machine=anatomy.machine.name,
        titles={part.id: part.title for part in anatomy.parts},
        staying=tuple(part.id for part in anatomy.parts if part.stays),
    )


def in_the_way(now: order.Moves, part: str) -> InTheWay:
    """What keeps this part from coming off, as a card."""
    said = now.in_the_way(part)
    return InTheWay(tuple(said.behind), tuple(tuple(way) for way in said.ways))


def _not_yet(now: order.Moves, part: str) -> NotYet:
    said = now.not_yet(part)
    return NotYet(tuple(said.after), in_the_way(now, part) if said.in_the_way else None)
