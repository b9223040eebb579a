"""`measured`: what a job has measured, what is worn, what is to be ordered; on the screen or as PDF."""

from argparse import Namespace
from collections.abc import Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import machine_in, read_log
from fingertight.cli.printing import check_pdf_name, fingerprint, print_to
from fingertight.cli.terminal import Misused, command, read_text, say

if TYPE_CHECKING:
    from fingertight.cards.measure.sheet import MeasuredSize, MeasuringSheetCard

WIDE = 100


def add_parser(commands: Any) -> None:
    """Add `measured` to the commands."""
    parser = command(
        commands,
        "measured",
        "the measuring sheet of a job: readings, verdicts, what to order",
        "Lists every size of a machine as a log has measured it: readings, verdict, what would settle what is too\n"
        "close to call, what is still to be measured, what is to be ordered. With -o it is written as PDF.\n"
        "Exit status 1 while something is worn, or too close to call.",
        "fingertight measured examples/pump-engine.toml examples/logs/pump-engine.jsonl -o pump-engine-measured.pdf",
    )
    parser.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    parser.add_argument("log", metavar="LOG", help="a bench log, an entry a line, or - for standard input")
    parser.add_argument("-o", "--output", metavar="FILE.pdf", default="", help="write the sheet as PDF")
    parser.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print the sheet, or write it whole or not at all and say what is in it."""
    from fingertight.cards.measure.sheet import measuring_sheet
    from fingertight.ledger.plan import Plan
    from fingertight.ledger.replay import Ledger
    from fingertight.paper.lists.measured import measured_pdf

    check_pdf_name(options)
    if options.anatomy == options.log == "-":
        raise Misused("Only one of ANATOMY and LOG can come from standard input. Give the other as a file.")
    text = read_text(options.anatomy)
    plan = Plan(machine_in(text, options.anatomy))
    state = Ledger(plan, read_log(options.log, plan)).state
    card = measuring_sheet(state, fingerprint(text), file=options.output)
    if options.output:
        print_to(options.output, lambda: measured_pdf(card))
    return say(options, card, measured_page, 1 if card.is_no else 0)


def measured_page(card: "MeasuringSheetCard") -> str:
    """What was written, or the sheet itself as text."""
    from fingertight.cli.pages import many

    if not card.sizes:
        return f"The file of {card.machine} states no sizes to measure. Write a [[check]] for each."
    if card.file:
        sizes, order = many(len(card.measured), "size"), many(len(card.to_order), "thing")
        return f"{card.file}: the measuring sheet of {card.machine}, {sizes} measured, {order} to order, A4."
    return "\n".join(_lines(card))


def _lines(card: "MeasuringSheetCard") -> Iterator[str]:
    yield f"{card.machine}: measuring sheet"
    if not card.measured:
        yield from ("", "Nothing has been measured yet.")
    for size in card.measured:
        yield ""
        yield from wrap(f"{size.title}: {size.sentence or 'no verdict yet.'}", WIDE)
        for said in _under(size):
            yield from wrap(said, WIDE, initial_indent="  ", subsequent_indent="    ")
    if card.still:
        yield from ("", *wrap(f"Still to be measured: {'; '.join(size.title for size in card.still)}.", WIDE))
    yield from ("", "To order" if card.to_order else "Nothing is to be ordered.")
    for one in card.to_order:
        perhaps = " (perhaps)" if one.perhaps else ""
        yield from wrap(
            f"{one.count} × {one.name}{perhaps}: {one.why}", WIDE, initial_indent="  ", subsequent_indent="    "
        )
    yield from ("", *wrap(card.judged, WIDE), card.first)


def _under(size: "MeasuredSize") -> Iterator[str]:
    for where, read in size.reads:
        yield f"{where}: {read} {size.unit}" if where else f"read {read} {size.unit}"
    if size.size_says:
        yield f"what decides: {size.size_says}; {size.limits}" if size.limits else f"what decides: {size.size_says}"
    yield from size.more
