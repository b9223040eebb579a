"""An order that somebody drags about: what a move costs now, and why it may not go where it was dropped."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import why_not_off
from fingertight.cards.card import Card
from fingertight.cards.order.whole import OrderStep, steps_of
from fingertight.order.cost import Prices, cost_of, work_of
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules
from fingertight.order.whole import strip_order


@dataclass(frozen=True)
class DraggedStep(Card):
    """A step in its place; earliest and latest: where it may stand with all others as they are, from 1."""

    step: OrderStep
    number: int
    earliest: int
    latest: int


@dataclass(frozen=True)
class DraggedCard(Card):
    """An order of one's own. numbers: the parts by their place in the file, as an address carries them.

    refused: why the last move was put back, "" where it was not; moved: the part that moved or was put back.
    """

    steps: tuple[DraggedStep, ...]
    numbers: tuple[int, ...]
    cost_min: float
    changes: int
    turns: int
    refused: str
    moved: str
    usual_min: float


def dragged_card(
    anatomy: Anatomy, numbers: Sequence[int] = (), move: tuple[str, int] | None = None, prices: Prices | None = None
) -> DraggedCard | None:
    """How does this order stand, after one part was dropped at another place (from 1)?

    numbers: the order as the parts' places in the file; an order that cannot be is answered with the usual one. None
    where the machine has no whole strip.
    """
    prices = prices or Prices()
    usual = strip_order(anatomy, prices).order
    if usual is None:
        return None
    ids = [part.id for part in anatomy.parts]
    named = [ids[number] for number in numbers if 0 <= number < len(ids)]
    rules = Rules.of(anatomy)
    order = named if sorted(named) == sorted(usual) and not _held(rules, anatomy, named) else list(usual)
    refused, moved = "", ""
    if move is not None and move[0] in order:
        moved = move[0]
        dropped = [part for part in order if part != moved]
        dropped.insert(min(max(move[1] - 1, 0), len(dropped)), moved)
        refused = _held(rules, anatomy, dropped)
        order = order if refused else dropped
    works = work_of(anatomy)
    steps, changes, turns = steps_of(anatomy, order, works, prices)
    spans = _spans(rules, order)
    start = anatomy.machine.rests[0] if anatomy.machine.rests else None
    return DraggedCard(
        steps=tuple(
            DraggedStep(step, number, *span) for number, (step, span) in enumerate(zip(steps, spans, strict=True), 1)
        ),
        numbers=tuple(ids.index(part) for part in order),
        cost_min=cost_of(order, works, start, prices),
        changes=changes,
        turns=turns,
        refused=refused,
        moved=moved,
        usual_min=cost_of(usual, works, start, prices),
    )


def _held(rules: Rules, anatomy: Anatomy, order: Sequence[str]) -> str:
    """Why this order cannot be, at its first move that may not be; "" where it can."""
    moves = Moves(rules)
    titles = {part.id: part.title for part in anatomy.parts}
    for number, part in enumerate(order, 1):
        if not moves.is_clear(part):
            return f"{titles[part]} cannot come off as number {number}. {why_not_off(moves.in_the_way(part), titles)}"
        moves.took(part)
    return ""


def _spans(rules: Rules, order: Sequence[str]) -> list[tuple[int, int]]:
    """For each part, the first and the last place at which it may stand while the others keep their order."""
    place = {part: nth for nth, part in enumerate(order)}
    behind = {part: [rules.ids[other] for other in rules.behind[rules.index[part]]] for part in order}
    waiting: dict[str, list[str]] = {part: [] for part in order}
    for part in order:
        for other in behind[part]:
            if other in waiting:
                waiting[other].append(part)
    spans = []
    for nth, part in enumerate(order):
        first = max((place[other] + 1 for other in behind[part] if other in place), default=0)
        last = min((place[other] - 1 for other in waiting[part]), default=len(order) - 1)
        spans.append((min(first, nth) + 1, max(last, nth) + 1))
    return spans
