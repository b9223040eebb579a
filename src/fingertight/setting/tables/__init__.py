"""Published tables, a file each, named after their source; the first lines say edition, table and how it was read."""

import csv
import os.path

_HERE = os.path.dirname(__file__)


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one table file, each under the names of its columns.

    >>> rows("iso-3448.csv")[7]
    {'grade': '32', 'least': '28.8', 'most': '35.2'}

    Raises FileNotFoundError for a table that is not here.
    """
    lines = csv.reader(line for line in _lines(table) if not line.startswith("# "))
    columns = next(lines)
    return [dict(zip(columns, line, strict=True)) for line in lines]


def about(table: str) -> dict[str, str]:
    """What the first lines of a table say of it: source, edition, table, how it was read.

    >>> about("sae-j300-2015.csv")["edition"]
    'January 2015'
    """
    said = (line.removeprefix("# ").strip().partition(": ") for line in _lines(table) if line.startswith("# "))
    return {name: text for name, _, text in said}


def _lines(table: str) -> list[str]:
    with open(os.path.join(_HERE, table), encoding="utf-8", newline="") as file:
        return file.readlines()
