"""`wheel` and `tape`: a degree wheel, and a timing tape for a flywheel, as PDF at their true size."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from fingertight.cards.sums.asked import Typed
from fingertight.cards.sums.setting.timing.printed import TAPE_FIELDS, WHEEL_FIELDS, tape_card, wheel_card
from fingertight.cli.commands.sums import add_field
from fingertight.cli.printing import check_pdf_name, print_to
from fingertight.cli.terminal import Misused, command, say
from fingertight.quantity import NotUnderstood, plain

if TYPE_CHECKING:
    from fingertight.cards.sums.setting.timing.printed import PrintedTape, PrintedWheel

_AFTER = "Print at its own size (100 %) and measure the ruler on it: it must be 100 mm."


def add_parser(commands: Any) -> None:
    """Add `wheel` and `tape` to the commands."""
    wheel = command(
        commands,
        "wheel",
        "a degree wheel to cut out, as PDF at its true size",
        "Makes a PDF with a degree wheel: a mark for each degree, numbered both ways from top dead centre,\nand a "
        "ruler that shows whether the printer keeps its size.",
        "fingertight wheel -o wheel.pdf --diameter 120",
    )
    tape = command(
        commands,
        "tape",
        "a timing tape for the rim of a flywheel, as PDF at its true size",
        "Makes a PDF with a tape as long as the flywheel is round, a mark for each degree both ways from\ntop dead "
        "centre, in strips that fit the paper.",
        "fingertight tape -o tape.pdf --flywheel 180",
    )
    for parser, fields, run in ((wheel, WHEEL_FIELDS, run_wheel), (tape, TAPE_FIELDS, run_tape)):
        parser.add_argument("-o", "--output", metavar="FILE.pdf", required=True, help="the file to write")
        for field in fields:
            add_field(parser, field)
        parser.set_defaults(run=run)


def run_wheel(options: Namespace) -> int:
    """Write the wheel, whole or not at all, and say what is in the file."""
    from fingertight.paper.wheel import wheel_pdf

    try:
        card = wheel_card(_typed(options, WHEEL_FIELDS), _file(options))
    except NotUnderstood as slip:
        raise Misused(str(slip)) from None
    print_to(card.file, lambda: wheel_pdf(card))
    return say(options, card, wheel_page, 0)


def run_tape(options: Namespace) -> int:
    """Write the tape, whole or not at all, and say what is in the file."""
    from fingertight.paper.wheel import tape_pdf

    try:
        card = tape_card(_typed(options, TAPE_FIELDS), _file(options))
    except NotUnderstood as slip:
        raise Misused(str(slip)) from None
    print_to(card.file, lambda: tape_pdf(card))
    return say(options, card, tape_page, 0)


def wheel_page(card: "PrintedWheel") -> str:
    """What was written, and what to mind at the printer."""
    return (
        f"{card.file}: a degree wheel of {plain(round(card.diameter_mm, 2))} mm for a crank that turns {card.turns}, "
        f"on {card.paper}. {_AFTER}"
    )


def tape_page(card: "PrintedTape") -> str:
    """What was written, and what to mind at the printer."""
    from fingertight.cli.pages import many

    return (
        f"{card.file}: a timing tape of {plain(round(card.length_mm, 1))} mm for a flywheel of "
        f"{plain(round(card.flywheel_mm, 2))} mm that turns {card.turns}, {many(len(card.strips), 'strip')} on "
        f"{many(card.pages, 'sheet')} of {card.paper}. {_AFTER}"
    )


def _typed(options: Namespace, fields: Any) -> Typed:
    return Typed(fields, {field.name: getattr(options, field.name) for field in fields})


def _file(options: Namespace) -> str:
    check_pdf_name(options)
    return str(options.output)
