"""The commands there are, what is said when none was meant, and the last net under every fault."""

import argparse
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import TextIO, cast

from fingertight import __version__
from fingertight.cards.sums.every import WHERE
from fingertight.cli.terminal import Help, Misused, Parser, nearest, nobody_reads, write

# Where commands come from, in the order the help shows them. A family imports nothing heavy to add its parsers.
FAMILIES: dict[str, tuple[str, ...]] = {
    "machine": ("check", "moves", "replay"),
    "difference": ("difference",),
    "orders.order": ("order",),
    "orders.layout": ("layout",),
    "orders.learn": ("learn",),
    "papers.labels": ("labels",),
    "papers.torques": ("torques",),
    "papers.measured": ("measured",),
    "papers.wheel": ("wheel", "tape"),
    "sums": tuple(WHERE),
    "bolts": ("bolt", "tray"),
    "film": ("chapters",),
    "schema": ("schema",),
    "workshop.serve": ("serve",),
    "workshop.people": ("people",),
    "workshop.classes": ("classes",),
    "workshop.keeping": ("backup", "restore"),
}

ABOUT = """\
fingertight: strip it, measure it, build it back; nothing lost, nothing left over.

A machine file (ANATOMY, TOML) says what the machine is. A log (LOG, JSON Lines) says what was done to it.
Everything else is computed from these two."""

AFTERWARDS = """\
fingertight COMMAND --help   shows a command's options and an example
--json after a command       prints one JSON object for programs
-                            in place of a file reads standard input
exit status                  0 all is well, 1 the answer is no, 2 misused or a file could not be read"""


def answer(arguments: Sequence[str]) -> int:
    """Do what was typed and return the exit status: 0 all is well, 1 the answer is no, 2 misused. Never raises."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            cast(TextIO, stream).reconfigure(encoding="utf-8")  # type: ignore[attr-defined]
    try:
        options = _understood(arguments)
        return cast(int, options.run(options))
    except Misused as refusal:
        write(sys.stderr, f"fingertight: {refusal}")
        return 2
    except SystemExit as leaving:  # argparse, after --help or --version
        _flushed()
        return leaving.code if isinstance(leaving.code, int) else 0
    except KeyboardInterrupt:
        return 130
    except Exception as fault:  # noqa: BLE001 - the last net: nobody at a bench is shown a traceback
        write(sys.stderr, _our_fault(fault))
        return 2


def all_parsers() -> tuple[Parser, dict[str, argparse.ArgumentParser]]:
    """The whole parser, and each command's own under its name."""
    return _parsers(FAMILIES)


def _parsers(families: Mapping[str, Sequence[str]]) -> tuple[Parser, dict[str, argparse.ArgumentParser]]:
    """The parser with the commands of these families; of the sums, which are many, only those that are named."""
    parser = Parser(
        prog="fingertight",
        description=ABOUT,
        epilog=AFTERWARDS,
        allow_abbrev=False,
        formatter_class=Help,
    )
    parser.add_argument("--version", action="version", version=f"fingertight {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", dest="command")
    for family, names in families.items():
        module = import_module(f"fingertight.cli.commands.{family}")
        if family == "sums":
            module.add_parser(commands, names)
        else:
            module.add_parser(commands)
    return parser, dict(commands.choices)


def _understood(arguments: Sequence[str]) -> argparse.Namespace:
    # A command that is named is the only one whose family is read: its answer need not wait for the others.
    named_first = arguments[0] if arguments else ""
    families = {family: (named_first,) for family, names in FAMILIES.items() if named_first in names}
    parser, commands = _parsers(families or FAMILIES)
    if not arguments:
        raise Misused(f"No command was given.\n\n{parser.format_help().rstrip()}")
    named = arguments[0]
    if not named.startswith("-") and named not in commands:
        raise Misused(f"There is no command “{named}”.{nearest(named, list(commands))} See: fingertight --help")
    options, left_over = parser.parse_known_args(arguments)
    if not hasattr(options, "run"):
        raise Misused("No command was given. See: fingertight --help")
    if left_over:
        chosen = commands[options.command]
        known = [name for action in chosen._actions for name in action.option_strings]
        near = nearest(left_over[0], known)
        raise Misused(f"“{left_over[0]}” is not understood here.{near} See: fingertight {options.command} --help")
    return options


def _flushed() -> None:
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        nobody_reads(sys.stdout)


def _our_fault(fault: Exception) -> str:
    reason = f"{type(fault).__name__}: {fault}".rstrip(": ")
    return (
        f"fingertight: this is a fault in fingertight, not yours ({reason}). Nothing was changed. "
        "Report it with the command you typed and the files it read."
    )
