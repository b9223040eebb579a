"""A job that only wants to get at a few parts: what is wanted, how far the way there is, what comes next."""

from dataclasses import dataclass

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.ledger.asked.aimed import aimed
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State


@dataclass(frozen=True)
class AimCard(Card):
    """What is wanted, and how far it is. way: parts that come off for it and are still on, in order; arrived: whether
    all that is wanted is off."""

    wanted: str
    sentence: str
    way: tuple[str, ...]
    arrived: bool


def aim_card(state: State) -> AimCard | None:
    """How far is a job that only wants to get at some parts? None for one that strips everything."""
    found = aimed(state)
    if found is None:
        return None
    titles = {part: plan.title for part, plan in state.plan.parts.items()}
    if found.arrived:
        sentence = "You are there. Measure and renew, then build back what is off."
    else:
        taken = f"{len(found.way) - len(found.left)} of {counted(len(found.way), 'part')}"
        sentence = f"Off for it: {taken}. Next: {titles[found.left[0]]}."
    return AimCard(listed(titles[part] for part in found.wanted), sentence, found.left, found.arrived)
