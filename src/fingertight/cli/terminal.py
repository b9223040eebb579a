"""What a person types and reads: commands declared, misuse said, files read, one answer printed."""

import argparse
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO, NoReturn

if TYPE_CHECKING:
    from fingertight.cards.card import Card

LARGEST_FILE_BYTES = 50_000_000
_SHOWN_AS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


class Misused(Exception):
    """The command was misused, or a file could not be read; the message says where, what and how to mend it."""


class Help(argparse.RawDescriptionHelpFormatter):
    """Help whose longest command stands on one line with what it does: argparse forgets how far commands are set in."""

    def add_argument(self, action: argparse.Action) -> None:
        """Make room for the commands of an action, two columns further in than it is itself."""
        super().add_argument(action)
        if isinstance(action, argparse._SubParsersAction):
            self._action_max_length += self._indent_increment


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
        formatter_class=Help,
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


def called(path: str) -> str:
    """What a sentence calls this file."""
    return "standard input" if path == "-" else path


def read_text(path: str) -> str:
    """The text of a file, or of standard input for `-`.

    Raises Misused when there is no such file, when it is too large to be meant, or when it is not UTF-8 text.
    """
    found, name = read_bytes(path), called(path)
    marked = _SHOWN_AS.get(found[:2])
    if marked or b"\x00" in found[:200]:
        raise Misused(f"{name}: this is {marked or 'UTF-16 or not text at all'}. Save it as UTF-8 text and try again.")
    try:
        return found.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = found.count(b"\n", 0, error.start) + 1
        raise Misused(f"{name}, line {line}: this is not UTF-8 text. Save the file as UTF-8 and try again.") from None


def read_bytes(path: str) -> bytes:
    """What is in a file, or comes from standard input for `-`, up to the limit.

    Raises Misused when there is no such file, or when it is too large to be meant.
    """
    name = called(path)
    try:
        if path == "-":
            found = _up_to_the_limit(sys.stdin.buffer)
        else:
            with Path(path).open("rb") as file:
                found = _up_to_the_limit(file)
    except FileNotFoundError:
        raise Misused(f"{name}: there is no such file. Check the name and the folder ({Path.cwd()}).") from None
    except IsADirectoryError:
        raise Misused(f"{name}: this is a folder. Name a file in it.") from None
    except PermissionError:
        raise Misused(f"{name}: this file may not be read by you. Ask who owns it for leave to read it.") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise Misused(f"{name}: this file cannot be read ({reason.lower()}). Copy it again.") from None
    if len(found) >= LARGEST_FILE_BYTES:
        limit_mb = LARGEST_FILE_BYTES // 1_000_000
        raise Misused(f"{name}: this file has {limit_mb} MB or more, so it is not what was meant. Name another file.")
    return found


def _up_to_the_limit(file: BinaryIO) -> bytes:
    """No more than the limit is ever held, however large the file is."""
    return file.read(LARGEST_FILE_BYTES)


def say(options: argparse.Namespace, card: "Card", page: Callable[[Any], str], status: int) -> int:
    """Print the card as a page for people, or with `--json` as one object for programs; give the status back."""
    if options.json:
        import json

        text = json.dumps(card.as_json(), indent=2, ensure_ascii=False)
    else:
        text = page(card)
    write(sys.stdout, text)
    return status


def write(stream: Any, text: str) -> None:
    """Print text; a reader who has gone away (`| head`) is no mistake."""
    try:
        print(text, file=stream, flush=True)
    except BrokenPipeError:
        nobody_reads(stream)


def nobody_reads(stream: Any) -> None:
    """Let what is still to be written go nowhere: Python flushes once more at exit, and would complain."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def write_whole(file: Path, content: bytes) -> None:
    """The file as a whole or not at all, as a printer must not be sent half of it.

    Raises Misused when it cannot be written.
    """
    half = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        half.write_bytes(content)
        half.replace(file)
    except OSError as error:
        half.unlink(missing_ok=True)
        raise Misused(f"{file}: this file cannot be written ({(error.strerror or str(error)).lower()}).") from None
