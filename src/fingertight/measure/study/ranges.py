"""The average and range method: the same study by the largest and the smallest reading of each set, as on paper."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from fingertight.measure.study.anova import Cells, mean_of

MANY = 15
"""From more ranges than this the constant for very many is taken (AIAG MSA, 4th ed., appendix C)."""

_REACH, _STEP = 8.0, 0.1


@dataclass(frozen=True, slots=True)
class Ranges:
    """What one reading varies by, as standard deviations [unit]; part: None where there was one part only.

    mean_range: of each person on each part. means_apart, parts_apart: from the smallest mean to the largest.
    """

    mean_range: float
    means_apart: float
    parts_apart: float
    repeat: float
    person: float
    part: float | None

    @property
    def gauge(self) -> float:
        """Gauge and hands together."""
        return math.hypot(self.repeat, self.person)

    @property
    def total(self) -> float:
        """All of it, with the parts."""
        return math.hypot(self.gauge, self.part or 0.0)


def by_ranges(cells: Cells) -> Ranges:
    """What do parts, people and reading again add, by averages and ranges?

    repeat = R̄ / d₂, person = √((means apart / d₂*)² − repeat² / (parts · readings)), part = parts apart / d₂*.
    cells: by person, then by part: the readings, as many everywhere, two or more; two people or more.

    >>> found = by_ranges([[[1.0, 2.0], [3.0, 4.0]], [[2.0, 3.0], [4.0, 5.0]]])
    >>> found.mean_range, found.means_apart, found.parts_apart
    (1.0, 1.0, 2.0)

    Holds for normal scatter. It leaves people on parts out, and a single wild reading makes a whole range.
    Source: AIAG Measurement Systems Analysis, 4th ed., chapter III, section B; constants as `of_ranges`.
    Raises ValueError for a table that is smaller, or has gaps.
    """
    people, parts = len(cells), len(cells[0]) if cells else 0
    n = len(cells[0][0]) if parts else 0
    if people < 2 or n < 2 or any(len(row) != parts or any(len(cell) != n for cell in row) for row in cells):
        raise ValueError("two people and two readings are the least, and as many everywhere")
    all_ranges = [_range(cell) for row in cells for cell in row]
    mean_range = mean_of(all_ranges)
    means_apart = _range([mean_of([value for cell in row for value in cell]) for row in cells])
    by_part = [mean_of([value for row in cells for value in row[part]]) for part in range(parts)]
    repeat = mean_range / of_ranges(n, len(all_ranges))
    person = (means_apart / of_ranges(people, 1)) ** 2 - repeat**2 / (parts * n)
    part = _range(by_part) / of_ranges(parts, 1) if parts > 1 else None
    return Ranges(mean_range, means_apart, _range(by_part), repeat, math.sqrt(max(person, 0.0)), part)


def of_ranges(readings: int, sets: int) -> float:
    """By what is the mean of so many ranges, each of so many readings, divided to give a standard deviation?

    d₂*² = d₂² + d₃² / sets, where d₂ and d₃ are mean and standard deviation of a range in standard deviations; from
    more than 15 ranges d₂ alone, as the tables have it.

    >>> round(of_ranges(3, 1), 4), round(of_ranges(10, 1), 4), round(of_ranges(2, 30), 3)
    (1.9115, 3.179, 1.128)

    Source: Duncan, Quality Control and Industrial Statistics (d₂*); AIAG MSA, 4th ed., appendix C (from memory).
    Raises ValueError for fewer than two readings or no range.
    """
    if readings < 2 or sets < 1:
        raise ValueError("a range wants two readings, and a mean one range")
    mean, deviation = _of_one(readings)
    return mean if sets > MANY else math.sqrt(mean**2 + deviation**2 / sets)


@cache
def _of_one(readings: int) -> tuple[float, float]:
    """Mean and standard deviation of the range of n standard normal readings: its density, summed over its width.

    f(w) = n (n − 1) ∫ φ(x) φ(x + w) (Φ(x + w) − Φ(x))ⁿ⁻² dx.
    """
    count = round(2 * _REACH / _STEP)
    places = [-_REACH + step * _STEP for step in range(count + 1)]
    heights = [math.exp(-0.5 * x * x) / math.sqrt(2 * math.pi) for x in places]
    below = [0.5 * math.erfc(-x / math.sqrt(2)) for x in places]
    moments = [0.0, 0.0]
    for width in range(1, count + 1):
        density = math.fsum(
            heights[low] * heights[low + width] * (below[low + width] - below[low]) ** (readings - 2)
            for low in range(count + 1 - width)
        )
        # Simpson's rule; at width 0 there is nothing, for the width itself stands in both moments.
        weight = (4 if width % 2 else 2 if width < count else 1) / 3
        wide = width * _STEP
        moments[0] += weight * wide * density
        moments[1] += weight * wide**2 * density
    times = readings * (readings - 1) * _STEP**2
    mean, square = (times * moment for moment in moments)
    return mean, math.sqrt(square - mean**2)


def _range(values: Sequence[float]) -> float:
    return max(values) - min(values)
