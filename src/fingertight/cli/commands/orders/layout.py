"""`layout`: what lies on the bench before anybody begins, on the screen or as PDF."""

from argparse import Namespace
from collections.abc import Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import known, read_machine
from fingertight.cli.commands.orders.order import parts_in
from fingertight.cli.printing import check_pdf_name, print_to
from fingertight.cli.terminal import command, say

if TYPE_CHECKING:
    from fingertight.cards.order.layout import LaidOut, LayoutCard

WIDE = 100


def add_parser(commands: Any) -> None:
    """Add `layout` to the commands."""
    layout = command(
        commands,
        "layout",
        "what lies on the bench before anybody begins",
        "Lists spanners, tools, instruments, what is renewed, bags, settings and the safety lines, for everything or\n"
        "for the way to some parts. With -o it is written as PDF.",
        "fingertight layout examples/bench-vice.toml --to nut",
    )
    layout.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    layout.add_argument("--to", metavar="PART", action="append", help="only what the way to this part needs")
    layout.add_argument("-o", "--output", metavar="FILE.pdf", default="", help="write the list as PDF")
    layout.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print the list, or write it whole or not at all and say what is in it."""
    from fingertight.cards.order.layout import layout_of
    from fingertight.cards.order.whole import NoOrderCard
    from fingertight.cli.pages import order_page
    from fingertight.paper.lists.layout import layout_pdf

    check_pdf_name(options)
    anatomy, to = read_machine(options.anatomy), parts_in(options.to)
    known(list(to), anatomy)
    card = layout_of(anatomy, to, file=options.output)
    if isinstance(card, NoOrderCard):
        return say(options, card, order_page, 1)
    if options.output:
        print_to(options.output, lambda: layout_pdf(card))
    return say(options, card, layout_page, 0)


def layout_page(card: "LayoutCard") -> str:
    """What was written, or the list itself as text."""
    if card.file:
        return f"{card.file}: what is laid out for {card.about}, {card.machine}, A4."
    return "\n".join(_lines(card))


def _lines(card: "LayoutCard") -> Iterator[str]:
    yield f"{card.machine}: laid out for {card.about}"
    yield card.sentence.capitalize() + "."
    yield card.first
    for title, things in card.lists():
        yield from _listed(title, things)
    if card.cautions:
        yield from ("", "Take care")
    for caution in card.cautions:
        yield from wrap(f"{caution.name}: {caution.what_for}", WIDE, initial_indent="  ", subsequent_indent="    ")


def _listed(title: str, things: "tuple[LaidOut, ...]") -> Iterator[str]:
    if not things:
        return
    yield from ("", title)
    wide = max(len(thing.name) for thing in things)
    for thing in things:
        yield f"  {thing.name:{wide}}  {thing.what_for}".rstrip()
