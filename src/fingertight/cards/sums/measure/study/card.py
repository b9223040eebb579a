"""The answer of a study: its numbers for programs, and the page for people."""

import math
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, SumCard
from fingertight.measure.study.fit import Fit


@dataclass(frozen=True)
class PersonCard(Card):
    """One person or instrument. name: a letter unless names were asked for; readings: part by part.

    away: their mean less that of the others, null where the table has gaps; scatter: standard deviation about their own
    means; times: that through the others'. away_chance, times_chance: of so much by chance alone, all people together.
    """

    name: str
    readings: tuple[tuple[float, ...], ...]
    mean: float
    away: float | None
    away_chance: float | None
    apart_by_mean: bool
    scatter: float | None
    times: float | None
    times_chance: float | None
    apart_by_scatter: bool


@dataclass(frozen=True)
class SourceCard(Card):
    """A row of the analysis of variance; F and its chance null where nothing is below it, or nothing scatters there."""

    name: str
    squares: float
    degrees_of_freedom: int
    mean_square: float
    f: float | None
    chance: float | None


@dataclass(frozen=True)
class MethodCard(Card):
    """What one reading varies by, as standard deviations: repeat (the same hands again), between (other hands), gauge
    (both), part, total; shares 0 to 1; classes of part told apart. Null where it is not known."""

    method: str
    repeat: float
    between: float | None
    gauge: float | None
    part: float | None
    total: float | None
    share_of_total: float | None
    share_of_tolerance: float | None
    classes: int | None


@dataclass(frozen=True)
class StudyCard(SumCard):
    """A study of a gauge, sizes in `unit`. methods: the first counts. pooled: the interaction was left in
    repeatability; zeroed: variances that came out negative and count as 0. fit: by the tolerance, or where there is
    none by all that varies; wrong: the chance that one reading judges a part wrongly. split_by_mean, split_by_scatter:
    they differ, and nobody can be called the odd one. gaps: readings that lack, by part.
    """

    unit: str
    instruments: bool
    names: str
    parts: tuple[str, ...]
    people: tuple[PersonCard, ...]
    sources: tuple[SourceCard, ...]
    pooled: bool
    zeroed: tuple[str, ...]
    methods: tuple[MethodCard, ...]
    between_at_least: float | None
    between_at_most: float | None
    tolerance: float | None
    min: float | None
    max: float | None
    fit: Fit | None
    wrong: float | None
    split_by_mean: bool
    split_by_scatter: bool
    gaps: dict[str, int]
    decimals: int

    @property
    def is_no(self) -> bool:
        """The gauge is not fit."""
        return self.fit is Fit.NOT

    @property
    def several(self) -> bool:
        """Whether more than one part was read."""
        return len(self.parts) > 1

    @property
    def counts(self) -> MethodCard:
        """The method that counts."""
        return self.methods[0]

    @property
    def mean(self) -> float:
        """The mean of all readings."""
        values = [value for person in self.people for cell in person.readings for value in cell]
        return math.fsum(values) / len(values)

    @property
    def answer(self) -> Answer:
        """Is it fit, how far do hands differ, who stands apart; then the tables and pictures."""
        from fingertight.cards.sums.measure.study.said import lead, notes, title
        from fingertight.cards.sums.measure.study.tables import drawings, sections

        return Answer(
            title=title(self),
            lead=tuple(lead(self)),
            sections=tuple(sections(self)),
            notes=tuple(notes(self)),
            sources=(
                "analysis of variance, average and range, 10 and 30 %: AIAG Measurement Systems Analysis, 4th ed.",
                "scatter: Cochran’s test, ISO 5725-2:1994",
                *(("wrong verdicts: JCGM 106:2012",) if self.wrong is not None else ()),
            ),
            drawings=tuple(drawings(self)),
        )
