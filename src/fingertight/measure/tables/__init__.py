"""Published tables, a file each, named after their source; the first lines say edition, table and how it was read."""

import csv
import os.path

_HERE = os.path.dirname(__file__)


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one table file, each under the names of its columns.

    >>> rows("expansion.csv")[0]
    {'material': 'steel', 'per_c_e6': '11.5', 'limits_e6': '1.5', 'source': 'Swyt 1994; GUM H.1'}

    Raises FileNotFoundError for a table that is not here.
    """
    lines = csv.reader(line for line in _lines(table) if not line.startswith("# "))
    columns = next(lines)
    return [dict(zip(columns, line, strict=True)) for line in lines]


def about(table: str) -> dict[str, str]:
    """What the first lines of a table say of it: source, edition, table, how it was read.

    >>> about("expansion.csv")["table"]
    'typical coefficients of linear expansion near 20 °C, in 10⁻⁶ per °C'
    """
    said = (line.removeprefix("# ").strip().partition(": ") for line in _lines(table) if line.startswith("# "))
    return {name: text for name, _, text in said}


def _lines(table: str) -> list[str]:
    with open(os.path.join(_HERE, table), encoding="utf-8", newline="") as file:
        return file.readlines()
