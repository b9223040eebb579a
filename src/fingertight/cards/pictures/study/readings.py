"""What everybody read: part by part with a line for each, and person by person against the mean of the part."""

import math
from collections.abc import Collection, Sequence

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number
from fingertight.cards.pictures.study.axes import (
    BASE,
    LEFT,
    LETTERS,
    RIGHT,
    WIDE,
    axis_of,
    below_the_axis,
    dot,
    level,
    limit_lines,
)

Cells = Sequence[Sequence[Sequence[float]]]
"""By person, then by part: the readings."""

_MOST_NAMED, _LEAST_APART = 12, 12.0


def by_part(
    cells: Cells,
    people: Sequence[str],
    parts: Sequence[str],
    *,
    limits: tuple[float | None, float | None],
    apart: Collection[int],
    says: str,
) -> Drawing:
    """Every reading over its part; a line joins each person's means. Lines side by side: all see the parts alike.

    limits: smallest and largest, None where there is none; apart: places of who stands apart, drawn to be seen.
    """
    axis = axis_of((value for row in cells for cell in row for value in cell), limits)
    wide = (RIGHT - 14 - LEFT) / len(parts)

    def x(part: int) -> float:
        return LEFT + wide * (part + 0.5)

    shapes: list[Stroke | Words] = [*axis.drawn(), *limit_lines(axis, limits)]
    ends: list[tuple[float, str]] = []
    for person, row in enumerate(cells):
        means = [(part, math.fsum(cell) / len(cell)) for part, cell in enumerate(row) if cell]
        path = "L".join(f"{number(round(x(part), 2))} {number(axis.y(mean))}" for part, mean in means)
        shapes.append(Stroke(f"M{path}", "warn" if person in apart else "steel"))
        ends.append((axis.y(means[-1][1]), people[person]))
        shapes += [dot(x(part), axis.y(value)) for part, cell in enumerate(row) for value in cell]
    if len(people) <= _MOST_NAMED and max(map(len, people)) <= 2:
        shapes += _named(ends)
    words, room = below_the_axis(parts, x, wide)
    return Drawing(says, WIDE, BASE + room + 4, (*shapes, *words), unit_mm=0.25, stroke=1.2)


def by_person(
    cells: Cells,
    people: Sequence[str],
    *,
    limits: tuple[float | None, float | None],
    apart: Collection[int],
    says: str,
) -> Drawing:
    """Every reading over who read it, with their mean as a bar; where there are several parts, less the part's mean.

    Level bars: no bias; tight dots: steady hands. limits: drawn where there was one part only.
    """
    one = len(cells[0]) == 1
    middles = [0.0 if one else _mean([value for row in cells for value in row[part]]) for part in range(len(cells[0]))]
    away = [
        [value - middle for cell, middle in zip(row, middles, strict=True) for value in cell] for row in cells
    ]  # fmt: skip
    within = limits if one else (None, None)
    axis = axis_of((value for row in away for value in row), within)
    wide = (RIGHT - LEFT) / len(people)

    def x(person: int) -> float:
        return LEFT + wide * (person + 0.5)

    shapes: list[Stroke | Words] = [*axis.drawn(), *limit_lines(axis, within)]
    for person, row in enumerate(away):
        step = 0.7 * wide / len(row)
        for place, value in enumerate(row):
            shapes.append(dot(x(person) + step * (place - (len(row) - 1) / 2), axis.y(value)))
        mean = axis.y(math.fsum(row) / len(row))
        shapes.append(level(x(person), mean, 0.8 * wide, "warn" if person in apart else "bold"))
    words, room = below_the_axis(people, x, wide)
    return Drawing(says, WIDE, BASE + room + 4, (*shapes, *words), unit_mm=0.25, stroke=1.2)


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values) if values else 0.0


def _named(ends: Sequence[tuple[float, str]]) -> list[Words]:
    """A letter at the end of each line; where lines end close together the letters stand below one another."""
    words, free = [], -math.inf
    for y, name in sorted(ends):
        free = max(y, free + _LEAST_APART)
        words.append(Words(name, RIGHT + 4, free + 4, LETTERS, "start"))
    return words
