"""How a command is declared, and how a mistake in what was typed is said."""

import argparse
from typing import Any, NoReturn


class Misused(Exception):
    """The command was misused, or a file could not be read; the message says where, what and how to mend it."""


class Parser(argparse.ArgumentParser):
    """A parser whose mistakes are sentences, raised rather than printed."""

    def error(self, message: str) -> NoReturn:
        """Raise Misused with argparse's message as a sentence and where to read on."""
        raise Misused(f"{message[:1].upper()}{message[1:]}. See: {self.prog} --help")


def command(commands: Any, name: str, line: str, about: str, example: str, *, with_json: bool = True) -> Parser:
    """A parser of one command: one line for the list of commands, a sentence and an example for its own help."""
    parser: Parser = commands.add_parser(
        name,
        help=line,
        description=about,
        epilog=f"for example:\n  {example}",
        allow_abbrev=False,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    if with_json:
        parser.add_argument("--json", action="store_true", help="print one JSON object for programs")
    return parser


def nearest(typed: str, known: list[str]) -> str:
    """“ Did you mean …?” with the known name nearest to what was typed, or nothing where none is near.

    >>> nearest("ordre", ["check", "order"])
    ' Did you mean “order”?'
    """
    from difflib import get_close_matches

    near = get_close_matches(typed.lower(), known, n=1)
    return f" Did you mean “{near[0]}”?" if near else ""
