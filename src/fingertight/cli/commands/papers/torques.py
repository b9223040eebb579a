"""`torques`: the tightening sheet of a machine, on the screen or as PDF for the wall."""

from argparse import Namespace
from collections.abc import Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import machine_in
from fingertight.cli.printing import check_pdf_name, fingerprint, print_to
from fingertight.cli.terminal import command, read_text, say

if TYPE_CHECKING:
    from fingertight.cards.tighten.sheet import TighteningSheetCard, TorquedSet

WIDE = 100
_APART = "  "
_LONGEST_NAME = 42


def add_parser(commands: Any) -> None:
    """Add `torques` to the commands."""
    torques = command(
        commands,
        "torques",
        "the tightening sheet of a machine: every torque, its passes and order",
        "Lists every fastener set that has a torque, in the order of the rebuild: spanner, torque, passes, order.\n"
        "With -o it is written as PDF, to be pinned up beside the bench. Exit status 1 when no set has a torque.",
        "fingertight torques examples/pump-engine.toml -o pump-engine-torques.pdf",
    )
    torques.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    torques.add_argument("-o", "--output", metavar="FILE.pdf", default="", help="write the sheet as PDF")
    torques.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print the sheet, or write it whole or not at all and say what is in it."""
    from fingertight.cards.tighten.sheet import tightening_sheet
    from fingertight.paper.lists.tightening import tightening_pdf

    check_pdf_name(options)
    text = read_text(options.anatomy)
    anatomy = machine_in(text, options.anatomy)
    card = tightening_sheet(anatomy, fingerprint(text), options.output)
    if card.is_no:
        return say(options, tightening_sheet(anatomy, fingerprint(text)), torques_page, 1)
    if options.output:
        print_to(options.output, lambda: tightening_pdf(card))
    return say(options, card, torques_page, 0)


def torques_page(card: "TighteningSheetCard") -> str:
    """What was written; or the sheet itself as text; or why there is none."""
    from fingertight.cli.pages import many

    if card.is_no:
        return card.says_no
    if card.file:
        sets = many(len(card.sets), "fastener set")
        return f"{card.file}: the tightening sheet of {card.machine}, {sets}, A4. Machine file {card.text_sha256}."
    figures, torques, first, how = card.lead
    return "\n".join(
        [
            f"{card.machine}: tightening sheet",
            "",
            *(line for said in (figures, torques, how) for line in wrap(said, WIDE)),
            "",
            *_table(card.sets),
            *(["", *_wrapped(f"By hand or by feel: {'; '.join(card.rest)}.", "", _APART)] if card.rest else []),
            "",
            f"Machine file {card.text_sha256}.",
            first,
        ]
    )


def _table(sets: "tuple[TorquedSet, ...]") -> Iterator[str]:
    """Each part with its sets under it, the torques one below the other."""
    units = list(sets[0].reads)
    name = max((len(one.name) for one in sets if len(one.name) <= _LONGEST_NAME), default=0)
    spanner = max((len(one.turned_by) for one in sets if len(one.turned_by) <= _LONGEST_NAME // 2), default=0)
    width = [max(len(unit), *(len(one.reads[unit]) for one in sets)) for unit in units]
    yield f"{'':{len(_APART) + name + len(_APART) + spanner}}{_numbers(units, width)}"
    part = ""
    for one in sets:
        is_first = one.part != part
        if is_first:
            yield from wrap(f"{one.title}, {one.each}" if one.each else one.title, WIDE)
            part = one.part
        before = f"{_APART}{one.name:{name}}{_APART}{one.turned_by:{spanner}}"
        if len(one.name) > name or len(one.turned_by) > spanner:
            yield from _wrapped(before.strip(), _APART, _APART)
            before = f"{'':{len(_APART) + name + len(_APART) + spanner}}"
        yield f"{before}{_numbers([one.reads[unit] for unit in units], width)}"
        cautions = [f"Caution: {said}" for said in one.cautions] if is_first else []
        for said in (*_under(one), *cautions):
            yield from _wrapped(said, _APART * 2, _APART * 2)


def _numbers(numbers: list[str], width: list[int]) -> str:
    return "".join(f"{_APART}{number:>{wide}}" for number, wide in zip(numbers, width, strict=True))


def _under(one: "TorquedSet") -> Iterator[str]:
    """Passes and order, then what to mind."""
    said = []
    if len(one.passes) > 1 or one.passes[0].share < 1:
        said.append(f"passes {' → '.join(each.says for each in one.passes)} N·m")
    if one.picture:
        said.append(f"order {', '.join(str(position) for position in one.order)}, as the file lists the positions")
    if said:
        words = "; ".join(said)
        yield f"{words[0].upper()}{words[1:]}."
    if one.minds:
        yield " ".join(one.minds)


def _wrapped(words: str, indent: str, later: str) -> list[str]:
    return wrap(words, WIDE, initial_indent=indent, subsequent_indent=later)
