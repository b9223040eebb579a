"""`order`: a whole strip or rebuild, the shortest way to some parts, what can be reached in so many minutes."""

import os
import time
from argparse import Namespace
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import known, read_machine
from fingertight.cli.terminal import Misused, command, say, write

if TYPE_CHECKING:
    from fingertight.cards.card import Card
    from fingertight.cards.order.whole import NoOrderCard, OrderCard
    from fingertight.order.cost import Prices

USUAL_LIMIT_S = 20
BESIDE_OTHERS = 15


def add_parser(commands: Any) -> None:
    """Add `order` to the commands."""
    order = command(
        commands,
        "order",
        "the best whole strip or rebuild, or the shortest way to some parts",
        "Finds the order with the least work, changes of spanner and turns of the machine, and proves that none is\n"
        "better, or says how near it surely is. It stops after --limit seconds with the best it has.",
        "fingertight order examples/bench-vice.toml --to nut",
    )
    order.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    order.add_argument(
        "--to", metavar="PART", action="append", help="take off only what frees this part (again, or a,b: several)"
    )
    order.add_argument(
        "--first", metavar="PART", action="append", help="have this off before all else: what is fragile"
    )
    order.add_argument("--within", metavar="MINUTES", help="list what can be reached in so many minutes instead")
    order.add_argument("--rebuild", action="store_true", help="build back from everything off")
    order.add_argument("--change-min", metavar="MINUTES", default="0.25", help="what a change of spanner costs (0.25)")
    order.add_argument("--turn-min", metavar="MINUTES", default="1", help="what a turn of the machine costs (1)")
    order.add_argument(
        "--limit", metavar="SECONDS", default=str(USUAL_LIMIT_S), help=f"look for so long at most ({USUAL_LIMIT_S})"
    )
    order.add_argument(
        "--as-found", action="store_true", help="print each better answer as a line of JSON while it looks"
    )
    order.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print an order, or why there is none."""
    from fingertight.cards.order.whole import Asked, NoOrderCard, proven_cards
    from fingertight.cli.pages import order_page
    from fingertight.order.cost import Prices

    to, first = parts_in(options.to), parts_in(options.first)
    if sum(map(bool, (to, first, options.rebuild, options.within))) > 1:
        raise Misused("--to, --first, --within and --rebuild ask for different orders: give one of them.")
    prices = Prices(_number("--change-min", options.change_min), _number("--turn-min", options.turn_min))
    limit_s = _number("--limit", options.limit)
    anatomy = read_machine(options.anatomy)
    known([*to, *first], anatomy)
    if options.within is not None:
        return _within(options, anatomy, prices)
    asked = Asked("rebuild" if options.rebuild else "strip", to, first)
    if options.as_found:
        _step_back()
    heard: Callable[[OrderCard | NoOrderCard], None] = _as_found if options.as_found else lambda card: None
    card = _last(proven_cards(anatomy, asked, prices), limit_s, heard)
    if options.as_found:
        return 1 if isinstance(card, NoOrderCard) else 0
    return say(options, card, order_page, 1 if isinstance(card, NoOrderCard) else 0)


def _last(
    cards: "Iterable[OrderCard | NoOrderCard]", limit_s: float, heard: "Callable[[OrderCard | NoOrderCard], None]"
) -> "OrderCard | NoOrderCard":
    """The last answer before the time is up; the first one however long it takes."""
    until, card = time.monotonic() + limit_s, None
    for card in cards:
        heard(card)
        if time.monotonic() > until:
            break
    if card is None:
        raise RuntimeError("no order was asked for")
    return card


def _step_back() -> None:
    """Whoever listens line by line has something more urgent on the same machine: taps at benches go first."""
    if hasattr(os, "nice"):
        os.nice(BESIDE_OTHERS)


def _as_found(card: "Card") -> None:
    import json
    import sys

    write(sys.stdout, json.dumps(card.as_json(), ensure_ascii=False))


def _within(options: Namespace, anatomy: Any, prices: "Prices") -> int:
    from fingertight.cards.order.within import within_card
    from fingertight.cli.pages import within_page

    card = within_card(anatomy, _number("--within", options.within), prices)
    if options.as_found:
        _as_found(card)
        return 0
    return say(options, card, within_page, 0)


def parts_in(typed: list[str] | None) -> tuple[str, ...]:
    """The parts that were named, each once: given again, or joined by commas."""
    named = (part.strip() for each in typed or () for part in each.split(","))
    return tuple(dict.fromkeys(part for part in named if part))


def _number(option: str, typed: str) -> float:
    from fingertight.quantity import NotUnderstood, read_number

    try:
        number = read_number(typed)
    except NotUnderstood as refusal:
        raise Misused(f"{option}: {refusal}") from None
    if number < 0:
        raise Misused(f"{option}: less than nothing makes no sense; write a number, for example 0.25.")
    return number
