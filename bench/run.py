"""Measures speed and size beside their floors and peers: `python bench/run.py [FAMILY …] [--date YYYY-MM-DD]`.

Without a family all are run, and the table goes into docs/figures.md; a family alone is only printed.
To add a row: yield it from `rows()` of its family. To add a family: a module with `rows()`, and its name here.
"""

import argparse
import os
import platform
import sqlite3
import sys
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FIGURES = ROOT / "docs" / "figures.md"

FAMILIES = ("moves", "orders", "learning", "replaying", "labels", "tightening", "measuring", "pages", "lessons", "taps")


HEADING = ("what", "beside it, in the same run", "figure", "goal", "met")

ABOUT = """\
# Figures

Written by `make bench`; `python bench/run.py moves` measures one family. Every ratio is of two things measured in one
run on one machine, so read ratios, not times: they repeat within about 15 % on a machine that does nothing else.
Moves and replays are timed by the work of their own process, the best of several rounds in turn; all else by the clock.

"""


def main(arguments: list[str] | None = None) -> int:
    """Print each row as it is measured. 0: every goal that was measured is met; 1: not."""
    parser = argparse.ArgumentParser(description="Measure speed and size beside their floors and peers.")
    parser.add_argument("families", nargs="*", metavar="FAMILY", help=f"{', '.join(FAMILIES)} (all)")
    parser.add_argument("--date", metavar="YYYY-MM-DD", help="the day to write on top of docs/figures.md")
    asked = parser.parse_args(arguments)
    unknown = [name for name in asked.families if name not in FAMILIES]
    if unknown:
        parser.error(f"there is no family {unknown[0]}; the families are {', '.join(FAMILIES)}")
    sys.path.append(str(ROOT))
    described = _machine()
    print(described, flush=True)
    lines, met = [], []
    for name in asked.families or FAMILIES:
        for row in import_module(name).rows():
            print(" | ".join(row.cells()), flush=True)
            lines.append(row.cells())
            met.append(row.met)
    if not asked.families:
        when = f"Measured on {asked.date}. " if asked.date else ""
        FIGURES.write_text(f"{ABOUT}{when}{described}\n\n{_table(lines)}", "utf-8")
        print(f"Written into {FIGURES.relative_to(ROOT)}.")
    return 1 if False in met else 0


def _machine() -> str:
    """The machine in general words, and how busy it was before anything was measured."""
    cores = os.cpu_count() or 1
    said = (
        f"Machine: {platform.system()}, {cores} cores, Python {platform.python_version()}, "
        f"SQLite {sqlite3.sqlite_version}, load and server on the same cores."
    )
    busy = os.getloadavg()[0] / cores if hasattr(os, "getloadavg") else 0.0
    if busy > 0.5:
        said += f" Other programs were at work ({busy:.1f} for each core at the start); served taps suffer from it."
    return said


def _table(lines: Iterable[tuple[str, ...]]) -> str:
    rows = [HEADING, ("---",) * len(HEADING), *lines]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in rows)


if __name__ == "__main__":
    sys.exit(main())
