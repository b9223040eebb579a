"""The answer to a sum as plain text: a page to read at the bench, or to pin to the wall."""

from collections.abc import Iterable, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from fingertight.cards.sums.answer import FIRST, Curve, Section, SumCard

if TYPE_CHECKING:
    from fingertight.cards.pictures.bolts import BoltPicture

WIDE = 100
_APART = "  "
_LEAST = 30
"""No cell of a row is made narrower than this."""
_BAR = 40


def answer_page(card: SumCard) -> str:
    """Title and answer first, then the tables, what to mind, and where it is from."""
    answer = card.answer
    blocks = [
        "\n".join(_wrapped(answer.title)),
        "\n".join(line for sentence in answer.lead for line in _wrapped(sentence)),
        *("\n".join(_wrapped(f"Caution: {said}")) for said in answer.cautions),
        _drawn(answer.picture_says, answer.picture) if answer.picture else "",
        *("\n".join(_wrapped(drawn.says)) for drawn in answer.drawings),
        *("\n".join(_section(section)) for section in answer.sections if section.rows),
        *("\n".join(_bars(curve, answer.curves)) for curve in answer.curves),
        "\n".join(line for note in answer.notes for line in _wrapped(note)),
        "\n".join(_wrapped(f"From: {'; '.join(answer.sources)}.", indent="  ")) if answer.sources else "",
        FIRST,
    ]
    return "\n\n".join(block for block in blocks if block)


def _drawn(says: str, picture: "BoltPicture") -> str:
    """The bolts where they sit, by their numbers in the order; nothing where two would stand on each other."""
    columns, lines = 56, max(round(picture.height / picture.width * 28), 1)
    grid = [[" "] * (columns + 3) for _ in range(lines)]
    for dot in picture.dots:
        number = str(dot.number)
        row = min(round(dot.y / picture.height * lines - 0.5), lines - 1)
        column = min(max(round(dot.x / picture.width * columns) - len(number) // 2, 1), columns - len(number))
        if any(cell != " " for cell in grid[row][column - 1 : column + len(number) + 1]):
            return ""
        grid[row][column : column + len(number)] = number
    said = ["".join(line).rstrip() for line in grid]
    filled = [number for number, line in enumerate(said) if line]
    return "\n".join([says, *said[filled[0] : filled[-1] + 1]])


def _bars(curve: Curve, beside: Sequence[Curve]) -> Iterable[str]:
    """A bar for each step, on one scale for all curves."""
    most = max(height for one in beside for height in one.heights) or 1.0
    wide = max(len(step) for step in curve.steps)
    yield curve.name
    for step, height in zip(curve.steps, curve.heights, strict=True):
        bar = "█" * round(height / most * _BAR)
        yield f"{_APART}{step:>{wide}}{_APART}{round(height * 100):>4} %{_APART}{bar}".rstrip()


def _section(section: Section) -> Iterable[str]:
    rows = [section.columns, *section.rows] if section.columns else list(section.rows)
    width = [max(len(row[column]) for row in rows if column < len(row)) for column in range(max(map(len, rows)))]
    need = min(width[-1], _LEAST)
    over = sum(width[:-1]) + len(_APART) * len(width) + need - WIDE
    if over > 0:  # the widest column gives way
        widest = width.index(max(width[:-1]))
        width[widest] = max(width[widest] - over, _LEAST)
    width[-1] = max(WIDE - sum(width[:-1]) - len(_APART) * len(width), need)
    if section.heading:
        yield section.heading
    for row in rows:
        yield from _row(row, width)


def _row(row: Sequence[str], width: Sequence[int]) -> Iterable[str]:
    """One row, each cell wrapped in its column; a row that ends early has the room that is left for its last cell."""
    ends = sum(width[len(row) - 1 :]) + len(_APART) * (len(width) - len(row))
    wide = [*width[: len(row) - 1], ends]
    cells = [wrap(cell, room) or [""] for cell, room in zip(row, wide, strict=True)]
    for line in range(max(len(cell) for cell in cells)):
        said = (cell[line] if line < len(cell) else "" for cell in cells)
        yield "".join(f"{_APART}{text:{room}}" for text, room in zip(said, wide, strict=True)).rstrip()


def _wrapped(sentence: str, indent: str = "") -> list[str]:
    return wrap(sentence, WIDE, subsequent_indent=indent) or [""]
