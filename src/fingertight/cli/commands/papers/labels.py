"""`labels`: bag labels of a machine as PDF."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import read_machine
from fingertight.cli.printing import print_to
from fingertight.cli.terminal import Misused, command, say

if TYPE_CHECKING:
    from fingertight.paper.sheets import Nudge


def add_parser(commands: Any) -> None:
    """Add `labels` to the commands."""
    labels = command(
        commands,
        "labels",
        "bag labels with QR codes, as PDF",
        "Makes a PDF with a label for each bag, numbered in order of removal. Print it at its own size.\n"
        "Print the ruler page first: it shows how far your printer prints beside the labels.",
        "fingertight labels examples/bench-vice.toml -o vice-labels.pdf",
    )
    labels.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    labels.add_argument("-o", "--output", metavar="FILE.pdf", required=True, help="the file to write")
    labels.add_argument(
        "--sheet", metavar="NAME", default="a4-3x7", help="the sheet of labels (a4-3x7); a wrong name lists them"
    )
    labels.add_argument("--start", metavar="N", default="1", help="begin on label N of the first sheet (1)")
    labels.add_argument("--bench", metavar="NAME", default="", help="the bench, when several have such a machine")
    labels.add_argument("--nudge", metavar="X,Y", default="0,0", help="move the print right and down, in mm (0,0)")
    labels.add_argument("--scale", metavar="X,Y", default="1,1", help="stretch the print across and down (1,1)")
    labels.add_argument("--ruler", action="store_true", help="make the ruler page of the sheet instead")
    labels.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Write the PDF, whole or not at all, and say what is in it."""
    from fingertight.cards.labels import labels_in_order
    from fingertight.cards.order.whole import NoOrderCard, order_card
    from fingertight.cards.printed import printed_card
    from fingertight.cli.pages import labels_page, order_page
    from fingertight.paper.labels import label_pdf, ruler_pdf
    from fingertight.paper.sheets import CannotPrint, sheet_named

    anatomy = read_machine(options.anatomy)
    order = order_card(anatomy)
    if isinstance(order, NoOrderCard):
        return say(options, order, order_page, 1)
    start = _start(options.start)
    labels = labels_in_order(anatomy, order.order, options.bench)
    try:
        sheet, nudge = sheet_named(options.sheet), _nudge(options)
    except CannotPrint as refusal:
        raise Misused(str(refusal)) from None
    print_to(
        options.output,
        lambda: ruler_pdf(sheet, nudge) if options.ruler else label_pdf(labels, sheet, nudge, start),
    )
    card = printed_card(
        () if options.ruler else labels,
        file=options.output,
        machine=anatomy.machine.name,
        sheet=(sheet.name, sheet.says, sheet.labels),
        start_at=start,
    )
    return say(options, card, labels_page, 0)


def _start(typed: str) -> int:
    if not (typed.isascii() and typed.isdigit()):
        raise Misused(f"--start: “{typed}” is no label; write its number on the sheet, counted from 1.")
    return int(typed)


def _nudge(options: Namespace) -> "Nudge":
    from fingertight.paper.sheets import Nudge

    x_mm, y_mm = _two_numbers("--nudge", options.nudge, "0.5,-1")
    scale_x, scale_y = _two_numbers("--scale", options.scale, "1,1.002")
    return Nudge(x_mm, y_mm, scale_x, scale_y)


def _two_numbers(option: str, typed: str, example: str) -> tuple[float, float]:
    from fingertight.quantity import NotUnderstood, read_number

    across, comma, down = typed.partition(",")
    try:
        if comma and "," not in down:
            return read_number(across), read_number(down)
    except NotUnderstood as refusal:
        raise Misused(f"{option}: {refusal}") from None
    raise Misused(f"{option}: “{typed}” is not two numbers with a comma between; write for example {example}.")
