"""The commands that stand in the docs, and what the docs say they print."""

import re
from pathlib import Path
from typing import NamedTuple

from tests.repository.source import ROOT

BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LEFT_OUT = "…"


class Shown(NamedTuple):
    """One command of a page, and the lines the page shows after it; a line `…` stands for any lines."""

    page: str
    command: str
    printed: str


def pages() -> list[Path]:
    """The README, CONTRIBUTING and every page of docs."""
    return [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").glob("*.md"))]


def commands() -> list[Shown]:
    """Every `$ …` of every console block, in order."""
    found = []
    for page in pages():
        for block in BLOCK.findall(page.read_text("utf-8")):
            for piece in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
                command, _, printed = piece.partition("\n")
                found.append(Shown(page.name, command, printed))
    return found


def agrees(shown: str, printed: str) -> bool:
    """Whether a page shows what was printed.

    >>> agrees("one\\n…\\nfour\\n", "one\\ntwo\\nthree\\nfour\\n"), agrees("one\\n", "one\\ntwo\\n")
    (True, False)
    """
    pieces = [re.escape(line) if line.strip() != LEFT_OUT else ".*" for line in shown.rstrip("\n").split("\n")]
    return re.fullmatch("\n".join(pieces), printed.rstrip("\n"), re.DOTALL) is not None
