"""Joining: a code was typed or a card scanned; now the own name is chosen."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.card import Card


@dataclass(frozen=True)
class NameLine(Card):
    """One name on the list: is_new: no number was chosen yet; is_locked: the instructor unlocks it first."""

    id: str
    name: str
    bench: str
    is_new: bool
    is_locked: bool


@dataclass(frozen=True)
class JoinCard(Card):
    """Whose list this is; those of the bench whose card it was first. chosen: the name that was tapped."""

    code: str
    title: str
    bench: str
    here: tuple[NameLine, ...]
    others: tuple[NameLine, ...]
    chosen: NameLine | None


def join_card(code: str, title: str, bench: str, names: Sequence[NameLine], chosen: str = "") -> JoinCard:
    """Who is on the list? bench: whose card was scanned, "" where the class's own code was typed."""
    here = tuple(one for one in names if bench and one.bench == bench)
    others = tuple(one for one in names if one not in here)
    return JoinCard(code, title, bench, here, others, next((one for one in names if one.id == chosen), None))
