"""What every command that writes a PDF shares: its name, the fingerprint on it, refusals of the printer."""

from argparse import Namespace
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from fingertight.cli.terminal import Misused, write_whole


def check_pdf_name(options: Namespace) -> None:
    """Refuse a name of another kind of file: a machine file named here by a slip would be written over."""
    if options.output and not options.output.lower().endswith(".pdf"):
        raise Misused(f"--output: {options.output} is no name of a PDF; write one that ends in .pdf.")


def fingerprint(text: str) -> str:
    """The SHA-256 of a machine file with the line ends the web app keeps it with: both prints of it say the same."""
    return sha256(text.replace("\r\n", "\n").encode()).hexdigest()


def print_to(file: str, pdf: Callable[[], bytes]) -> None:
    """A PDF, written whole or not at all. Raises Misused with the printer's sentence where there is none to make."""
    from fingertight.paper.sheets import CannotPrint

    try:
        made = pdf()
    except CannotPrint as refusal:
        raise Misused(str(refusal)) from None
    write_whole(Path(file), made)
