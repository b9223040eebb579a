"""A bore or a journal measured at several heights and in several directions: size, out of round, taper."""

import re
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.measured.places import Place, places_drawing
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.typed import limits_of
from fingertight.cards.sums.measure.words import RULES
from fingertight.cards.sums.measure.workshop.judge import (
    Judged,
    alike,
    in_unit,
    judge,
    judged_section,
    one_limit,
    said,
    tool_fields,
    tool_of,
    unfit,
    worst_of,
)
from fingertight.measure.budget import difference_budget, reading_budget
from fingertight.measure.fits.wear import GENERAL_RULE, JOURNAL_ROUND_PER_DIAMETER, wear_by_length
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.typed import Scale, as_read
from fingertight.measure.verdict import Word
from fingertight.quantity import NotUnderstood, converted

EXAMPLE = "top 68.05 68.06; middle 68.04 68.05; bottom 68.03 68.04"
_ROW = re.compile(r"\s*([^0-9.,+-][^0-9]*?)?\s*([0-9.,].*)\Z", re.DOTALL)
MOST_HEIGHTS = 12


@dataclass(frozen=True)
class BoreCard(SumCard):
    """Sizes [mm] by height and direction; what decides, out of round and taper, each against its limit. wear_mm: the
    largest reading less the smallest of all."""

    heights: tuple[str, ...]
    readings_mm: tuple[tuple[float, ...], ...]
    judged: tuple[Judged, ...]
    verdict: str
    wear_mm: float
    outside: bool
    unit: str

    @property
    def is_no(self) -> bool:
        """Worn is no."""
        return self.verdict == Word.WORN.value

    @property
    def answer(self) -> Answer:
        """What decides first, then every reading in its place."""
        unit, sizes = self.unit, self.judged
        lead = [f"{one.what[:1].upper()}{one.what[1:]}: {said(one, unit)}{_says(one)}." for one in sizes]
        for one in sizes:
            lead += unfit(one, unit, from_zero=one.what in _SPREADS)
        if len(self.heights) < 2:
            lead.append("One height says nothing of taper: read it near both ends of the travel too.")
        if len(self.readings_mm[0]) < 2:
            lead.append("One direction says nothing of out of round: read it along the crank and across it.")
        directions = tuple(f"direction {number}" for number in range(1, len(self.readings_mm[0]) + 1))
        rows = tuple(
            (height or "–", *(in_unit(size, unit) for size in row))
            for height, row in zip(self.heights, self.readings_mm, strict=True)
        )
        notes = [f"Largest less smallest of all readings: {in_unit(self.wear_mm, unit)}."]
        notes += self._general_rule()
        if not self.outside:
            notes.append("Rock the gauge and take the smallest reading: only that is square to the bore.")
        return Answer(
            title=f"{'Journal' if self.outside else 'Bore'}: {self.verdict or 'no limit to judge by'}",
            lead=tuple(lead),
            sections=(Section("Readings", rows, ("height", *directions)), judged_section(sizes, unit)),
            notes=tuple(notes),
            sources=(*RULES, "out of round and taper: largest less smallest, common practice, no source"),
            drawings=(self._drawn(),),
        )

    def _general_rule(self) -> list[str]:
        """What a general rule would allow a journal, where no limit was given for how round it is."""
        if not self.outside or any(one.what == _SPREADS[0] and one.max_mm is not None for one in self.judged):
            return []
        allowed = in_unit(wear_by_length(JOURNAL_ROUND_PER_DIAMETER, self.judged[0].size_mm), self.unit)
        return [f"A general rule would allow {allowed} out of round ({GENERAL_RULE}); the maker’s limit comes first."]

    def _drawn(self) -> Drawing:
        places = [
            Place(height or f"{nth}", f"direction {number}" if len(row) > 1 else "", True)
            for nth, (height, row) in enumerate(zip(self.heights, self.readings_mm, strict=True), start=1)
            for number in range(1, len(row) + 1)
        ]
        drawn = places_drawing("shaft" if self.outside else "bore", places)
        if drawn is None:
            raise LookupError("a bore and a shaft can be drawn")
        return drawn


def _says(one: Judged) -> str:
    return f", {one.verdict}" if one.verdict else ""


def _compute(typed: Typed) -> BoreCard:
    unit = typed.unit("unit")
    heights, table = _table(typed, unit)
    round_max, taper_max = (one_limit(typed, name, label, unit) for name, label in _SHAPE)
    smallest, largest = _size_limits(typed, unit, round_max, taper_max)
    flat = [size for row in table for size in row]
    if round_max is not None and len(table[0]) < 2:
        raise NotUnderstood("Out of round: one direction says nothing of it; write two readings at each height.")
    if taper_max is not None and len(table) < 2:
        raise NotUnderstood("Taper: one height says nothing of it; write two heights or more, with ; between them.")
    budget = reading_budget(tool_of(typed))
    outside = smallest is not None and largest is None
    ends = {} if outside else {"largest": max(flat)}
    if smallest is not None:
        ends["smallest"] = min(flat)
    found = [judge(what, size, budget, smallest, largest) for what, size in ends.items()]
    taken = [
        (height or str(nth), str(number), size)
        for nth, (height, row) in enumerate(zip(heights, table, strict=True))
        for number, size in enumerate(row)
    ]
    two = difference_budget(budget, budget)
    for what, spread, limit in zip(_SPREADS, (out_of_round(taken), taper(taken)), (round_max, taper_max), strict=True):
        if spread is not None:
            found.append(judge(what, spread, two, None, limit))
    return BoreCard(
        heights=tuple(heights),
        readings_mm=tuple(table),
        judged=tuple(found),
        verdict=worst_of(found),
        wear_mm=round(max(flat) - min(flat), 9),
        outside=outside,
        unit=unit,
    )


_SHAPE = (("round-max", "Out of round allowed"), ("taper-max", "Taper allowed"))
_SPREADS = ("out of round", "taper")


def _size_limits(
    typed: Typed, unit: str, round_max: float | None, taper_max: float | None
) -> tuple[float | None, float | None]:
    """The limits of the size, which may be left out; new alone is one."""
    if not any(typed.has(name) for name in ("min", "max", "new")):
        return None, None
    smallest, largest, new = limits_of(typed, unit)
    if smallest is None and largest is None and new and round_max is None and taper_max is None:
        return new
    return smallest, largest


def _table(typed: Typed, unit: str) -> tuple[list[str], list[tuple[float, ...]]]:
    """The heights, and the sizes at each [mm]. Raises NotUnderstood where a row cannot be read or lacks a reading."""
    pieces = [piece for piece in re.split(r"[;\n]", typed.text("readings")) if piece.strip()]
    if len(pieces) > MOST_HEIGHTS:
        raise NotUnderstood(
            f"Readings: {len(pieces)} heights are more than anybody measures; write up to {MOST_HEIGHTS}."
        )
    if not pieces:
        raise NotUnderstood(f"Readings: nothing was typed; write for example {EXAMPLE}.")
    heights, table = [], []
    for piece in pieces:
        name, text = _named(piece)
        where = f"Readings, {name}" if name else "Readings"
        try:
            read = as_read(text, Scale(unit))
            table.append(tuple(round(converted(value, read.unit, "mm"), 9) for value in read.values))
        except NotUnderstood as slip:
            raise NotUnderstood(f"{where}: {slip}") from None
        if name and name in heights:
            raise NotUnderstood(
                f"Readings: “{name}” stands twice; give each height a name of its own, with all its readings after it."
            )
        heights.append(name)
    _of_one_part([size for row in table for size in row])
    few, many = min(map(len, table)), max(map(len, table))
    if few != many:
        place = next(nth for nth, row in enumerate(table) if len(row) == few)
        raise NotUnderstood(
            f"Readings: {heights[place] or f'height {place + 1}'} has {few} where others have {many}; write as many at "
            "each height, in the same directions."
        )
    return heights, table


def _named(piece: str) -> tuple[str, str]:
    """A height’s name and its readings: “top 68.05 68.06”, or with a colon where the name is a number, “10: 68.05”."""
    name, colon, text = piece.rpartition(":")
    if not colon:
        found = _ROW.match(piece)
        if not found:
            raise NotUnderstood(f"Readings: “{piece.strip()}” has no size in it; write for example {EXAMPLE}.")
        name, text = found[1] or "", found[2]
    return " ".join(name.split()), text


def _of_one_part(sizes: list[float]) -> None:
    """Raises NotUnderstood where sizes lie so far apart that they cannot be of one bore or journal."""
    least, most = min(sizes), max(sizes)
    if not alike(least, most):
        raise NotUnderstood(
            f"Readings: {in_unit(least, 'mm')} and {in_unit(most, 'mm')} are not of one part; write a height that is a "
            "number with a colon, as 10 mm: 68.05 68.06, and look at the decimal marks."
        )


SUM = Sum(
    name="bore",
    title="Bore or journal",
    question="whether a bore or a journal is worn, out of round or tapered, from readings at heights and in directions",
    fields=(
        Field("readings", "Readings", "text", "heights with ; between, one reading for each direction", EXAMPLE,
              must=True, first=True),
        Field("max", "Worn past", "text", "of a bore: the largest it may be", "68.165"),
        Field("min", "Worn below", "text", "of a journal: the smallest it may be", "29.92"),
        Field("new", "New", "text", "smallest and largest when new", "68.000 68.015"),
        Field("round-max", "Out of round allowed", "text", "the most at one height", "0.05"),
        Field("taper-max", "Taper allowed", "text", "the most in one direction", "0.05"),
        *tool_fields(),
    ),
    compute=_compute,
    card=BoreCard,
    example=f'"{EXAMPLE}" --max 68.165 --round-max 0.05 --taper-max 0.05 --error 0.005',
)  # fmt: skip
