"""Published tables as they are kept: a CSV file each, named after its source; the first lines say what it is."""

import csv
import os.path


class Tables:
    """The tables of one folder. Their first lines, `# name: text`, say source, edition, table and how it was read."""

    def __init__(self, folder: str) -> None:
        self._folder = folder

    def rows(self, table: str) -> list[dict[str, str]]:
        """The rows of one table file, each under the names of its columns.

        >>> Tables(os.path.join(os.path.dirname(__file__), "tighten", "tables")).rows("iso-4762.csv")[6]
        {'size': 'M6', 'driver': '5 mm key'}

        Raises FileNotFoundError for a table that is not here.
        """
        lines = csv.reader(line for line in self._lines(table) if not line.startswith("# "))
        columns = next(lines)
        return [dict(zip(columns, line, strict=True)) for line in lines]

    def about(self, table: str) -> dict[str, str]:
        """What the first lines of a table say of it.

        >>> Tables(os.path.join(os.path.dirname(__file__), "tighten", "tables")).about("iso-4762.csv")["edition"]
        '2004'
        """
        said = (line.removeprefix("# ").strip().partition(": ") for line in self._lines(table) if line.startswith("# "))
        return {name: text for name, _, text in said}

    def _lines(self, table: str) -> list[str]:
        """Read as plainly as can be: `fingertight thread` reads a dozen tables before it answers."""
        with open(os.path.join(self._folder, table), encoding="utf-8", newline="") as file:
            return file.readlines()
