"""Published tables, a file each, named after their source; the first lines say edition, table and how it was read."""

import csv
from importlib.resources import files


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one table file, each under the names of its columns.

    >>> rows("iso-4762.csv")[6]
    {'size': 'M6', 'driver': '5 mm key'}

    Raises FileNotFoundError for a table that is not here.
    """
    text = files(__name__).joinpath(table).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("# ")))
