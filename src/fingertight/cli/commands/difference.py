"""`difference`: what changed from one machine file to another, in words."""

from argparse import Namespace
from typing import Any

from fingertight.cli.commands.machine import machine_in
from fingertight.cli.terminal import Misused, called, command, read_text, say


def add_parser(commands: Any) -> None:
    """Add `difference` to the commands."""
    difference = command(
        commands,
        "difference",
        "what changed from one machine file to another, in words",
        "Says what the new file tells of the machine that the old one did not, a sentence each, table by table,\n"
        "and what is different for a job under way that goes on with the new file. Comments and order are not told.",
        "fingertight difference examples/bench-vice.toml my-vice.toml",
    )
    difference.add_argument("old", metavar="OLD", help="the older machine file, or - for standard input")
    difference.add_argument("new", metavar="NEW", help="the newer machine file, or - for standard input")
    difference.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print what changed. Both answers, a difference and none, are good ones: the exit status is 0."""
    from fingertight.cards.change.difference import difference_card
    from fingertight.cli.pages import difference_page

    if options.old == options.new == "-":
        raise Misused("Only one of OLD and NEW can come from standard input. Give the other as a file.")
    old, new = read_text(options.old), read_text(options.new)
    named = (called(options.old), called(options.new))
    card = difference_card(
        named, machine_in(old, options.old), machine_in(new, options.new), letter_for_letter=old == new
    )
    return say(options, card, difference_page, 0)
