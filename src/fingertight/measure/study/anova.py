"""Analysis of variance: how much of what readings differ comes from parts, from people, from reading again.

Sums of squares are worked out exactly, on the decimal figures as they were typed: however many leading digits the
readings have in common, none are lost.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

Readings = Sequence[float]
Cells = Sequence[Sequence[Readings]]
"""By person, then by part: the readings."""

POOLED_ABOVE = 0.25
"""An interaction less sure than this is no interaction, and goes into repeatability (AIAG MSA, 4th ed., appendix A)."""


@dataclass(frozen=True, slots=True)
class Source:
    """One source of variation: its sum of squares [square of the unit] and its degrees of freedom."""

    squares: float
    dof: int

    @property
    def mean_square(self) -> float:
        """The sum of squares for each degree of freedom; 0 where there is none."""
        return self.squares / self.dof if self.dof else 0.0

    def against(self, other: "Source") -> tuple[float | None, float | None]:
        """F against another source, and the chance of so large an F by chance alone.

        None where nothing scatters in the other.

        >>> Source(8.0, 2).against(Source(6.0, 6))[0]
        4.0
        """
        if not other.mean_square:
            return None, None
        f = self.mean_square / other.mean_square
        return f, chance_of_f(f, self.dof, other.dof)


@dataclass(frozen=True, slots=True)
class Components:
    """Variances of one reading by where they come from [square of the unit]. part: None where there was one part only.

    pooled: the interaction was left in repeatability. zeroed: what came out negative and counts as 0.
    """

    repeat: float
    person: float
    interaction: float
    part: float | None
    pooled: bool = False
    zeroed: tuple[str, ...] = ()

    @property
    def between(self) -> float:
        """Between hands: people, and people on parts (reproducibility)."""
        return self.person + self.interaction

    @property
    def gauge(self) -> float:
        """Gauge and hands together: repeatability and reproducibility."""
        return self.repeat + self.between

    @property
    def total(self) -> float:
        """All of it, with the parts."""
        return self.gauge + (self.part or 0.0)


@dataclass(frozen=True, slots=True)
class OneWay:
    """Groups of readings compared: between them, within them."""

    between: Source
    within: Source
    usual_size: float
    """Readings in a group; where groups are not alike the size that stands for them, n₀."""

    @property
    def r_squared(self) -> float:
        """The share of the whole sum of squares that lies between groups."""
        whole = self.between.squares + self.within.squares
        return self.between.squares / whole if whole else 0.0

    @property
    def scatter(self) -> float:
        """The standard deviation within groups [unit]."""
        return math.sqrt(self.within.mean_square)

    def components(self) -> Components:
        """What one reading varies by, within and between the groups; a negative variance counts as 0."""
        person = (self.between.mean_square - self.within.mean_square) / self.usual_size
        return Components(
            self.within.mean_square, max(person, 0.0), 0.0, None, False, ("people",) if person < 0 else ()
        )


@dataclass(frozen=True, slots=True)
class TwoWay:
    """People on parts, each part read as often by each: parts, people, people on parts, reading again."""

    part: Source
    person: Source
    interaction: Source
    repeat: Source
    readings: int
    """How often each part was read by each person."""

    @property
    def pools(self) -> bool:
        """Whether the interaction is no more than scatter, and is left in repeatability."""
        _, chance = self.interaction.against(self.repeat)
        return chance is not None and chance > POOLED_ABOVE

    @property
    def pooled(self) -> Source:
        """Interaction and repeatability as one."""
        return Source(self.interaction.squares + self.repeat.squares, self.interaction.dof + self.repeat.dof)

    @property
    def error(self) -> Source:
        """What people are held against: the interaction, or where that is none both as one."""
        return self.pooled if self.pools else self.interaction

    def components(self, *, pool: bool | None = None) -> Components:
        """What one reading varies by; a negative variance counts as 0. pool: None lets the interaction's chance decide.

        σ²(people on parts) = (MSi − MSr) / n, σ²(people) = (MSo − MSi) / (p·n), σ²(parts) = (MSp − MSi) / (o·n).

        Source: AIAG Measurement Systems Analysis, 4th ed., appendix A; any text on two-way random effects.
        """
        pooling = self.pools if pool is None else pool
        people, parts, n = self.person.dof + 1, self.part.dof + 1, self.readings
        error = (self.pooled if pooling else self.interaction).mean_square
        repeat = self.pooled.mean_square if pooling else self.repeat.mean_square
        found = {
            "people": (self.person.mean_square - error) / (parts * n),
            "people on parts": 0.0 if pooling else (error - repeat) / n,
            "parts": (self.part.mean_square - error) / (people * n),
        }
        person, interaction, part = (max(value, 0.0) for value in found.values())
        zeroed = tuple(name for name, value in found.items() if value < 0)
        return Components(repeat, person, interaction, part, pooling, zeroed)


def one_way(groups: Sequence[Readings]) -> OneWay:
    """How much do groups of readings differ, and how much do readings within a group?

    SSb = Σ nᵢ (x̄ᵢ − x̄)², SSw = ΣΣ (x − x̄ᵢ)². groups: two or more, one at least with two readings [any unit].

    >>> found = one_way([[1000000000000.4, 1000000000000.3], [1000000000000.6, 1000000000000.5]])
    >>> found.between.squares, found.within.squares
    (0.04, 0.01)

    Source: NIST/ITL Statistical Reference Datasets, analysis of variance; all digits that are certified there.
    Raises ValueError for one group, an empty one, or nothing that was read twice.
    """
    if len(groups) < 2 or not all(groups):
        raise ValueError("two groups or more are compared, each with a reading")
    exact = [[exactly(value) for value in group] for group in groups]
    count = sum(map(len, exact))
    if count == len(exact):
        raise ValueError("nothing was read twice: nothing is known of how readings scatter")
    grand = sum(map(sum, exact), Fraction()) / count
    means = [sum(group, Fraction()) / len(group) for group in exact]
    between = sum((len(group) * (mean - grand) ** 2 for group, mean in zip(exact, means, strict=True)), Fraction())
    within = sum((_squares(group) for group in exact), Fraction())
    size = (count - sum(len(group) ** 2 for group in exact) / count) / (len(exact) - 1)
    return OneWay(Source(float(between), len(exact) - 1), Source(float(within), count - len(exact)), size)


def two_way(cells: Cells) -> TwoWay:
    """How much do parts, people, and people on parts differ, and how much does reading again?

    cells: by person, then by part: the readings, as many everywhere, two or more; two people and two parts or more.

    >>> found = two_way([[[1.0, 2.0], [3.0, 4.0]], [[2.0, 3.0], [4.0, 5.0]]])
    >>> found.part.squares, found.person.squares, found.interaction.squares, found.repeat.squares
    (8.0, 2.0, 0.0, 2.0)

    Source: AIAG Measurement Systems Analysis, 4th ed., appendix A; any text on the two-way analysis of variance.
    Raises ValueError for a table that is smaller, or has gaps.
    """
    people, parts = len(cells), len(cells[0]) if cells else 0
    n = len(cells[0][0]) if parts else 0
    if people < 2 or parts < 2 or n < 2:
        raise ValueError("two people, two parts and two readings are the least")
    if any(len(row) != parts or any(len(cell) != n for cell in row) for row in cells):
        raise ValueError("the table has gaps")
    exact = [[[exactly(value) for value in cell] for cell in row] for row in cells]
    means = [[sum(cell, Fraction()) / n for cell in row] for row in exact]
    by_person = [sum(row, Fraction()) / parts for row in means]
    by_part = [sum(column, Fraction()) / people for column in zip(*means, strict=True)]
    # With as many readings everywhere each sum of squares is that of means, times how many readings stand in one.
    between_cells = n * _squares([mean for row in means for mean in row])
    person = parts * n * _squares(by_person)
    part = people * n * _squares(by_part)
    repeat = sum((_squares(cell) for row in exact for cell in row), Fraction())
    return TwoWay(
        part=Source(float(part), parts - 1),
        person=Source(float(person), people - 1),
        interaction=Source(float(between_cells - person - part), (people - 1) * (parts - 1)),
        repeat=Source(float(repeat), people * parts * (n - 1)),
        readings=n,
    )


def chance_of_f(f: float, dof: int, other: int) -> float:
    """The chance that F is as large as this or larger where nothing but chance is at work.

    >>> round(chance_of_f(4.256, 2, 9), 3)
    0.05

    Source: the F distribution, by scipy; 4.26 stands in every table for 5 % with 2 and 9 degrees of freedom.
    """
    from scipy.special import fdtrc

    return float(fdtrc(dof, other, f))


def exactly(value: float) -> Fraction:
    """The decimal figure that was typed, not the binary one nearest to it.

    >>> exactly(0.1)
    Fraction(1, 10)
    """
    return Fraction(repr(float(value)))


def mean_of(readings: Readings) -> float:
    """The mean, exact on the decimal figures [their unit].

    >>> mean_of([0.1, 0.2, 0.3])
    0.2
    """
    return float(sum(map(exactly, readings), Fraction()) / len(readings))


def _squares(values: Sequence[Fraction]) -> Fraction:
    """The sum of squares about the mean."""
    mean = sum(values, Fraction()) / len(values)
    return sum(((value - mean) ** 2 for value in values), Fraction())
