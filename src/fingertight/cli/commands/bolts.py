"""`bolt` and `tray`: whose bolt is this, for the holes of one machine."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import read_log, read_machine
from fingertight.cli.terminal import Misused, command, read_text, say

if TYPE_CHECKING:
    from fingertight.anatomy.model import Anatomy
    from fingertight.ledger.state import State


def add_parser(commands: Any) -> None:
    """Add `bolt` and `tray` to the commands."""
    bolt = command(
        commands,
        "bolt",
        "whose bolt is this: the holes of a machine it may belong to",
        "A bolt from the floor, told by thread, length and head, or as caliper and pitch gauge read it.\n"
        "With a log, what is missing in that job comes first. Exit status 1 when it is none of the machine's.",
        'fingertight bolt examples/pump-engine.toml "M6x28 hex flange"',
    )
    bolt.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    bolt.add_argument(
        "bolt", metavar="BOLT", help='the bolt: "M6x28 hex flange", "5.9 mm, 10 threads in 10 mm, 28 long"'
    )
    bolt.add_argument("--log", metavar="LOG", help="the log of the job it belongs to")
    bolt.set_defaults(run=run_bolt)

    tray = command(
        commands,
        "tray",
        "a spilled tray, sorted: where each bolt belongs, how sure, and what nobody can tell apart",
        "Each line of TRAY is one kind of bolt, with how many there are: 6 x M6x28 hex flange.\n"
        "Lines that begin with # are passed over. Exit status 1 when one has no place,\n"
        "or a swap that nobody would see matters.",
        "fingertight tray examples/pump-engine.toml examples/trays/pump-engine.txt",
    )
    tray.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    tray.add_argument("tray", metavar="TRAY", help="a text file, a kind of bolt a line, or - for standard input")
    tray.add_argument("--log", metavar="LOG", help="the log of the job they belong to")
    tray.set_defaults(run=run_tray)


def run_bolt(options: Namespace) -> int:
    """Print whose bolt it is."""
    from fingertight.cards.tighten.bolt import bolt_card
    from fingertight.cli.answers import answer_page
    from fingertight.quantity import NotUnderstood

    anatomy, state = _job(options)
    try:
        card = bolt_card(anatomy, options.bolt, state)
    except NotUnderstood as slip:
        raise Misused(f"BOLT: {slip}") from None
    return say(options, card, answer_page, 1 if card.is_no else 0)


def run_tray(options: Namespace) -> int:
    """Print where each bolt of a tray belongs."""
    from fingertight.cards.tighten.tray import tray_card
    from fingertight.cli.answers import answer_page
    from fingertight.quantity import NotUnderstood

    if options.tray == "-" in (options.anatomy, options.log):
        raise Misused("Only one of ANATOMY, TRAY and LOG can come from standard input. Give the others as files.")
    lines = read_text(options.tray).splitlines()
    anatomy, state = _job(options)
    try:
        card = tray_card(anatomy, lines, state)
    except NotUnderstood as slip:
        raise Misused(f"{options.tray}: {slip}") from None
    return say(options, card, answer_page, 1 if card.is_no else 0)


def _job(options: Namespace) -> "tuple[Anatomy, State | None]":
    anatomy = read_machine(options.anatomy)
    if options.log is None:
        return anatomy, None
    from fingertight.ledger.plan import Plan
    from fingertight.ledger.replay import Ledger

    if options.anatomy == options.log == "-":
        raise Misused("Only one of ANATOMY and LOG can come from standard input. Give the other as a file.")
    plan = Plan(anatomy)
    return anatomy, Ledger(plan, read_log(options.log, plan)).state
