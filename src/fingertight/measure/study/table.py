"""Who read what: lines or CSV, as they were typed, become one table of part, person and readings."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from fingertight.measure.study.lines import Header, Line, header_of, is_numeric, parted
from fingertight.quantity import NotUnderstood, converted, read_quantity

MOST_LETTERS, MOST_PEOPLE, MOST_PARTS, MOST_READINGS = 19_000, 60, 60, 3000
# A page of sums hands on the first 20,000 letters of a box: a longer table would lose its end without a word.
_MISSING = {"", "-", "–", "—", "."}
EXAMPLE = "3 Ann 68.152 68.155, one line for each part and person"


@dataclass(frozen=True, slots=True)
class Table:
    """Readings by person, then by part [one unit]; parts is ("",) where all read the same one. A cell may be empty.

    decimals: the most that any reading was typed with. instruments: instruments are compared, not people.
    """

    people: tuple[str, ...]
    parts: tuple[str, ...]
    cells: tuple[tuple[tuple[float, ...], ...], ...]
    decimals: int
    instruments: bool = False

    @property
    def counts(self) -> set[int]:
        """How many readings stand in a cell: one number where the table is full."""
        return {len(cell) for row in self.cells for cell in row}

    @property
    def gaps(self) -> tuple[tuple[int, int, int], ...]:
        """Where readings lack to the most there are of any cell: person and part by their places, and how many lack."""
        most = max(self.counts)
        return tuple(
            (person, part, most - len(cell))
            for person, row in enumerate(self.cells)
            for part, cell in enumerate(row)
            if len(cell) < most
        )

    def all_of(self, person: int) -> tuple[float, ...]:
        """Every reading of one person."""
        return tuple(value for cell in self.cells[person] for value in cell)


def read_table(text: str, unit: str) -> Table:
    """What was read by whom, of which part?

    A line is `part person reading reading …`, or `person reading reading …` where all read the same part, with spaces,
    commas, semicolons or tabs between; or CSV under a header. Lines of the same person and part go together; `#`
    begins a note, - stands for a reading that lacks. unit: what is meant where none is typed, and what comes back.

    >>> table = read_table("Ann 68.15 68.16\\nBen 68.17 68.16", "mm")
    >>> table.people, table.parts, table.cells[1][0]
    (('Ann', 'Ben'), ('',), (68.17, 68.16))
    >>> read_table("part,person,reading\\n1,Ann,2.5\\n1,Ann,2.6\\n1,Ben,2.4\\n1,Ben,2.7", "mm").parts
    ('1',)

    Raises NotUnderstood with the line, what is wrong there and how to mend it.
    """
    if len(text) >= MOST_LETTERS:
        raise NotUnderstood(
            f"Readings: this is longer than the {MOST_LETTERS:,} letters a study may have; leave out columns or parts."
        )
    lines = parted(text)
    if not lines:
        raise NotUnderstood(f"Readings: there is no line with a reading; write for example {EXAMPLE}.")
    header = header_of(lines[0][1])
    rows = _by_header(header, lines[1:], unit) if header else _by_place(lines, unit)
    return _together(rows, header.instruments if header else False)


Row = tuple[str, str, list[float]]


def _by_header(header: Header, lines: Sequence[Line], unit: str) -> list[Row]:
    rows = []
    for number, fields in lines:
        columns, here = list(header.columns), f"Readings, line {number}"
        if len(fields) > len(columns) and header.rest_are_readings:
            columns += ["reading"] * (len(fields) - len(columns))
        if len(fields) > len(columns) or len(fields) <= header.columns.index("person"):
            raise NotUnderstood(
                f"{here}: there are {len(fields)} fields for {len(columns)} columns; write one for each, and numbers "
                "with a point where commas stand between."
            )
        said = dict(zip(columns, fields, strict=False))
        values = [
            _number(field, unit, here)
            for kind, field in zip(columns, fields, strict=False)
            if kind == "reading" and field not in _MISSING
        ]
        if not said["person"] or ("part" in columns and not said.get("part")):
            raise NotUnderstood(f"{here}: who read it, or which part it was, is not written; write it in its column.")
        rows.append((said.get("part", ""), said["person"], values))
    if not rows:
        raise NotUnderstood("Readings: nothing stands under the header; write one line for each part and person.")
    return rows


def _by_place(lines: Sequence[Line], unit: str) -> list[Row]:
    """Without a header: who read it stands first, or second behind the part."""
    votes = [not is_numeric(fields[1]) and fields[1] not in _MISSING for _, fields in lines if len(fields) > 1]
    with_part = 2 * sum(votes) > len(votes) or (2 * sum(votes) == len(votes) and any(map(_is_part, lines)))
    rows = []
    for number, fields in lines:
        here, first = f"Readings, line {number}", 2 if with_part else 1
        if len(fields) <= first:
            what = "part, person and readings" if with_part else "a person and readings"
            raise NotUnderstood(f"{here}: “{' '.join(fields)[:40]}” is not {what}; write for example {EXAMPLE}.")
        who = fields[first - 1]
        if is_numeric(who):
            raise NotUnderstood(
                f"{here}: a name or letter for who read it is wanted where “{who}” stands; people that go by numbers "
                "want a header: part,person,reading."
            )
        values = [_number(field, unit, here) for field in fields[first:] if field not in _MISSING]
        rows.append((fields[0] if with_part else "", who, values))
    return rows


def _is_part(line: Line) -> bool:
    return is_numeric(line[1][0])


def _number(field: str, unit: str, here: str) -> float:
    try:
        value, typed = read_quantity(field, unit)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{here}: {slip}") from None
    size = value if typed == unit else round(converted(value, typed, unit), 9)
    if abs(size) > 1e15:
        raise NotUnderstood(f"{here}: “{field}” is too large to be a reading; write for example 68.02.")
    return size


def _together(rows: Sequence[Row], instruments: bool) -> Table:
    """One table, each name once however it is capitalised; parts in the order they were written."""
    people: dict[str, str] = {}
    parts: dict[str, str] = {}
    cells: dict[tuple[str, str], list[float]] = {}
    for part, person, values in rows:
        place = (person.casefold(), part.casefold())
        people.setdefault(place[0], person)
        parts.setdefault(place[1], part)
        cells.setdefault(place, []).extend(values)
    for what, count, most in (("people", people, MOST_PEOPLE), ("parts", parts, MOST_PARTS)):
        if len(count) > most:
            raise NotUnderstood(f"Readings: {len(count)} {what} are more than the {most} that are studied at once.")
    if sum(map(len, cells.values())) > MOST_READINGS:
        raise NotUnderstood(f"Readings: there are more than the {MOST_READINGS} that are studied at once.")
    _enough(len(people), len(parts), cells)
    values = [value for cell in cells.values() for value in cell]
    return Table(
        tuple(people.values()),
        tuple(parts.values()),
        tuple(tuple(tuple(cells.get((person, part), ())) for part in parts) for person in people),
        min(max(map(_decimals, values)), 9),
        instruments,
    )


def _enough(people: int, parts: int, cells: dict[tuple[str, str], list[float]]) -> None:
    """Raises NotUnderstood for what no study can be made of."""
    if people < 2:
        raise NotUnderstood(
            "Readings: all are of one person or instrument, and nothing tells how hands differ; let two or more read "
            "the same parts, three if it can be."
        )
    if all(len({person for person, other in cells if other == part}) < 2 for _, part in cells):
        raise NotUnderstood(
            "Readings: no part was read by two people; let all read the same parts. A name of two words wants ; "
            "behind it."
        )
    if max(map(len, cells.values())) < 2:
        raise NotUnderstood(
            "Readings: each part was read once by each, and nothing tells how the same hands differ; let all read "
            "again, without a look at the first reading."
        )
    read = {person for (person, _), values in cells.items() if values}
    if len(read) < people:
        raise NotUnderstood("Readings: somebody has no reading at all; write one behind every name, or leave it out.")


def _decimals(value: float) -> int:
    exponent = Decimal(repr(value)).normalize().as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0
