"""`check`, `order` and `moves`: what follows from a machine file alone."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from fingertight.cli.parser import Misused, command, nearest
from fingertight.cli.streams import read_text, say

if TYPE_CHECKING:
    from fingertight.anatomy.mistakes import Mistake
    from fingertight.anatomy.model import Anatomy
    from fingertight.cards.check import CheckCard, FoundMistake
    from fingertight.cards.moves import InTheWay, MovesCard
    from fingertight.cards.order import NoOrderCard, OrderCard


def add_parser(commands: Any) -> None:
    """Add `check`, `order` and `moves` to the commands."""
    check = command(
        commands,
        "check",
        "every mistake of a machine file: line, what, how to mend",
        "Reads machine files and lists all their mistakes at once, each with its line and how to mend it.",
        "fingertight check examples/bench-vice.toml",
    )
    check.add_argument("anatomies", metavar="ANATOMY", nargs="+", help="a machine file, or - for standard input")
    check.set_defaults(run=run_check)

    order = command(
        commands,
        "order",
        "a whole strip or rebuild order, or the way to one part",
        "Finds an order with few changes of spanner and few turns of the machine,\n"
        "and says how near it is to the best there can be.",
        "fingertight order examples/bench-vice.toml --to nut",
    )
    order.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    order.add_argument("--to", metavar="PART", help="stop when this part is off, and take off only what that needs")
    order.add_argument("--rebuild", action="store_true", help="build back from everything off")
    order.add_argument("--change-min", metavar="MINUTES", default="0.25", help="what a change of spanner costs (0.25)")
    order.add_argument("--turn-min", metavar="MINUTES", default="1", help="what a turn of the machine costs (1)")
    order.set_defaults(run=run_order)

    moves = command(
        commands,
        "moves",
        "what may come off next, what may go on, and what is in the way",
        "With these parts off: what may come off, what may go on, and for all others what is in the way.",
        "fingertight moves examples/bench-vice.toml --off tommy-bar,slide",
    )
    moves.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    moves.add_argument("--off", metavar="A,B,C", default="", help="the parts that are off, by id (none, if left out)")
    moves.set_defaults(run=run_moves)


def run_check(options: Namespace) -> int:
    """Print every mistake of every file."""
    from fingertight.cards.check import check_card

    texts = [(name, read_text(name)) for name in options.anatomies]
    card = check_card(texts)
    return say(options, card, _check_page, 0 if card.ok else 1)


def run_order(options: Namespace) -> int:
    """Print an order, or why there is none."""
    from fingertight.cards.order import NoOrderCard, order_card
    from fingertight.order.cost import Prices

    if options.to and options.rebuild:
        raise Misused("--to says how far to strip and --rebuild builds back: give one of them.")
    prices = Prices(_minutes("--change-min", options.change_min), _minutes("--turn-min", options.turn_min))
    anatomy = read_machine(options.anatomy)
    if options.to is not None:
        _known([options.to], anatomy)
    card = order_card(anatomy, "rebuild" if options.rebuild else "strip", options.to, prices)
    return say(options, card, _order_page, 1 if isinstance(card, NoOrderCard) else 0)


def run_moves(options: Namespace) -> int:
    """Print what may be done when these parts are off."""
    from fingertight.cards.moves import moves_card

    anatomy = read_machine(options.anatomy)
    off = [part.strip() for part in options.off.split(",") if part.strip()]
    _known(off, anatomy)
    stays = [part for part in off if anatomy.part_by_id[part].stays]
    if stays:
        raise Misused(f"--off: {anatomy.part_by_id[stays[0]].title} ({stays[0]}) stays, it is never off. Leave it out.")
    return say(options, moves_card(anatomy, off), _moves_page, 0)


def read_machine(path: str) -> "Anatomy":
    """The anatomy in a file.

    Raises Misused, listing the mistakes, when it has any. A machine that can never be stripped is read all the same.
    """
    from fingertight.anatomy.read import read

    reading = read(read_text(path))
    if reading.anatomy is None:
        listed = "\n".join(_mistake_lines(mistake) for mistake in reading.mistakes)
        raise Misused(f"{path} has {_many(len(reading.mistakes), 'mistake')}, mend what it says first:\n{listed}")
    return reading.anatomy


def _minutes(option: str, typed: str) -> float:
    from fingertight.quantity import NotUnderstood, read_number

    try:
        minutes = read_number(typed)
    except NotUnderstood as refusal:
        raise Misused(f"{option}: {refusal}") from None
    if minutes < 0:
        raise Misused(f"{option}: a cost below nothing makes no sense; write minutes, for example 0.25.")
    return minutes


def _known(parts: list[str], anatomy: "Anatomy") -> None:
    for part in parts:
        if part not in anatomy.part_by_id:
            raise Misused(f"{anatomy.machine.name} has no part “{part}”.{nearest(part, list(anatomy.part_by_id))}")


def _check_page(card: "CheckCard") -> str:
    lines = []
    for name in card.files:
        found = [mistake for mistake in card.mistakes if mistake.file == name]
        lines.append(f"{name}: {_many(len(found), 'mistake') if found else 'no mistakes'}")
        lines += [_mistake_lines(mistake) for mistake in found]
    return "\n".join(lines)


def _mistake_lines(mistake: "FoundMistake | Mistake") -> str:
    return f"  line {mistake.line}, {mistake.where}: {mistake.text}\n    {mistake.mend}"


def _order_page(card: "OrderCard | NoOrderCard") -> str:
    from fingertight.quantity import plain

    if card.order is None:
        return card.because
    wide = max((len(step.part) for step in card.steps), default=0)
    wide_title = max((len(step.title) for step in card.steps), default=0)
    lines = [f"{card.machine}: {card.about}, {plain(card.cost_min)} min", ""]
    for number, step in enumerate(card.steps, 1):
        if step.turn_to:
            lines.append(f"      turn the machine: {step.turn_to}")
        named = f"{number:4}  {step.part:{wide}}  {step.title:{wide_title}}"
        lines.append(f"{named}  {plain(step.minutes):>4} min  {', '.join(step.tools)}".rstrip())
    work = plain(sum(step.minutes for step in card.steps))
    lines += [
        "",
        f"{work} min of work, {_many(card.changes, 'change')} of spanner, {_many(card.turns, 'turn')} of the machine.",
    ]
    if card.proof == "best":
        return "\n".join([*lines, "No order costs less."])
    return "\n".join([*lines, f"No order can cost less than {plain(card.bound_min)} min."])


def _moves_page(card: "MovesCard") -> str:
    wide = max(len(part) for part in card.titles)
    blocked = {part: _what_first(part, card) for part in card.in_the_way}
    waiting = {part: _what_before(part, card) for part in card.not_yet}
    parts = [card.machine]
    for heading, rows in (
        ("May come off now", dict.fromkeys(card.may_come_off, "")),
        ("May not come off yet", blocked),
        ("May go on now", dict.fromkeys(card.may_go_on, "")),
        ("May not go on yet", waiting),
    ):
        lines = [f"  {part:{wide}}  {card.titles[part]}{why and ': ' + why}" for part, why in rows.items()]
        parts.append("\n".join([heading, *(lines or ["  nothing"])]))
    return "\n\n".join(parts)


def _what_first(part: str, card: "MovesCard") -> str:
    if part in card.staying:
        return "it stays"
    return _still_on(card.in_the_way[part], card.titles)


def _what_before(part: str, card: "MovesCard") -> str:
    said = card.not_yet[part]
    reasons = [f"first fit {_all_of(said.after, card.titles)}"] if said.after else []
    if said.in_the_way:
        reasons.append(_still_on(said.in_the_way, card.titles))
    return "; ".join(reasons)


def _still_on(way: "InTheWay", titles: dict[str, str]) -> str:
    """What is in the way, with names: “first take off Head; and Rod cap, or Crankshaft”."""
    wanted = [_all_of(way.behind, titles)] if way.behind else []
    if way.ways:
        wanted.append(", or ".join(_all_of(each, titles) for each in way.ways))
    return f"first take off {'; and '.join(wanted)}"


def _all_of(parts: tuple[str, ...], titles: dict[str, str]) -> str:
    names = [titles[part] for part in parts]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _many(count: int, of: str) -> str:
    return f"{count} {of}" if count == 1 else f"{count} {of}s"
