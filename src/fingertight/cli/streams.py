"""What goes in and out of a command: files and standard input as text, one answer, messages."""

import os
import sys
from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import Any, BinaryIO

from fingertight.cli.parser import Misused

LARGEST_FILE_BYTES = 50_000_000
_SHOWN_AS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


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


def say(options: Namespace, card: Any, page: Callable[[Any], str], status: int) -> int:
    """Print the card as a page for people, or with `--json` as one object for programs; give the status back."""
    if options.json:
        from pydantic import TypeAdapter

        text = TypeAdapter(type(card)).dump_json(card, indent=2, by_alias=True).decode()
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
