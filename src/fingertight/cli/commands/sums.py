"""The sums as commands: each is made from its fields, and prints its answer."""

import re
from argparse import Namespace
from collections.abc import Iterable
from functools import partial
from typing import Any

from fingertight.cards.sums.asked import Field, Sum
from fingertight.cards.sums.every import sum_named
from fingertight.cli.terminal import Misused, command, read_text, say


def add_parser(commands: Any, names: Iterable[str]) -> None:
    """Add these sums to the commands."""
    for name in names:
        add_sum(commands, sum_named(name))


def add_sum(commands: Any, asked: Sum) -> None:
    """Add one sum to the commands."""
    about = f"{asked.question}\n{asked.more}".rstrip()
    parser = command(commands, asked.name, asked.question, about, f"fingertight {asked.name} {asked.example}")
    # What begins with a minus and a digit is typed, and no option: from Python 3.14 on argparse does so by itself.
    parser._negative_number_matcher = re.compile(r"-[.,]?[0-9]")
    for field in asked.fields:
        add_field(parser, field)
    parser.set_defaults(run=partial(run, asked))


def add_field(parser: Any, field: Field) -> None:
    """Add what a field asks for to a command: an option of its name, or by its place where it comes first."""
    words = field.about or field.label
    said = f"{words[:1].lower()}{words[1:]}" if words[1:2].islower() else words
    if field.choices:
        said += f": {', '.join(field.choices)}"
    if field.usual:
        said += f" ({field.usual})"
    said = said.replace("%", "%%")
    if field.kind == "tick":
        parser.add_argument(f"--{field.name}", action="store_const", const="yes", default="", help=said)
    elif field.first:
        several = "?" if not field.must else None
        parser.add_argument(field.name, metavar=field.name.upper(), nargs=several, default="", help=said)
    else:
        parser.add_argument(f"--{field.name}", metavar=_as_typed(field), default="", help=said)


def _as_typed(field: Field) -> str:
    """What a person might type for it, in quotes where a shell wants them."""
    if field.kind == "lines":
        return "FILE"
    said = field.example or field.usual or next(iter(field.choices), field.name.upper())
    return f'"{said}"' if " " in said else said


def run(asked: Sum, options: Namespace) -> int:
    """Print the answer; exit status 1 when it is no."""
    from fingertight.cli.answers import answer_page
    from fingertight.quantity import NotUnderstood

    said = {field.name: getattr(options, field.name.replace("-", "_")) for field in asked.fields}
    said |= {
        field.name: read_text(said[field.name]) for field in asked.fields if field.kind == "lines" and said[field.name]
    }
    try:
        card = asked.ask(said)
    except NotUnderstood as slip:
        raise Misused(str(slip)) from None
    return say(options, card, answer_page, 1 if card.is_no else 0)
