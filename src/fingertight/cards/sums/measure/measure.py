"""Is it worn, and how sure are we: readings of one spot against limits, with the whole uncertainty budget."""

from dataclasses import dataclass, replace
from typing import get_args

from fingertight.anatomy.model import Material
from fingertight.cards.pictures.bell import bell_drawing
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.words import (
    RULES,
    budget_section,
    chance_words,
    settled_words,
    sized,
    verdict_words,
    with_its_doubt,
)
from fingertight.measure.budget import Tool, Warmth, enough_readings, reading_budget
from fingertight.measure.slips import Known, likely_slip
from fingertight.measure.slips import sentence as slip_sentence
from fingertight.measure.temperature import at_20_c, expansion_of
from fingertight.measure.typed import Scale, as_read
from fingertight.measure.verdict import Settling, Word, chance_good, guard_band, judged, settled_by
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.uncertainty.budget import Budget

MATERIALS: tuple[str, ...] = get_args(Material)
_FINER = 10.0
_LIMITS = (("min", "Worn below"), ("max", "Worn past"))


@dataclass(frozen=True)
class MeasureCard(SumCard):
    """A size at 20 °C against its limits [mm]: the verdict, the expanded uncertainty U, and how likely it is good.

    `lines`: the standard uncertainty each cause adds [mm]. unit: what it was asked in.
    """

    verdict: str
    size_mm: float
    readings_mm: tuple[float, ...]
    min_mm: float | None
    max_mm: float | None
    new_mm: tuple[float, float] | None
    margin_mm: float
    u_mm: float
    U_mm: float
    coverage: float
    degrees_of_freedom: float | None
    chance_good: float
    lines: dict[str, float]
    unit: str
    resolution_mm: float
    error_mm: float
    temperature_c: float | None
    material: str
    instrument_material: str

    @property
    def budget(self) -> Budget:
        """The causes line by line [mm]."""
        tool, warmth = Tool(self.resolution_mm, self.error_mm), self._warmth()
        return reading_budget(tool, [self.readings_mm], len(self.readings_mm), self._mean_mm, warmth)

    @property
    def _mean_mm(self) -> float:
        return sum(self.readings_mm) / len(self.readings_mm)

    @property
    def _within(self) -> tuple[float | None, float | None]:
        """What it is held against: its limits, or where there are none what is new."""
        if self._asked_as_new and self.new_mm:
            return self.new_mm
        return self.min_mm, self.max_mm

    @property
    def _asked_as_new(self) -> bool:
        return self.min_mm is None and self.max_mm is None

    def _warmth(self) -> Warmth | None:
        return _warmth(self.temperature_c, self.material, self.instrument_material)

    def _settling(self) -> Settling | None:
        """What would settle it: one ten times finer stands for the better instrument somebody may have."""
        if self.verdict != Word.CLOSE.value:
            return None
        tool, spots, readings = Tool(self.resolution_mm, self.error_mm), [self.readings_mm], len(self.readings_mm)
        cold = reading_budget(tool, spots, readings) if self.temperature_c is not None else None
        finer = reading_budget(Tool(tool.resolution / _FINER, tool.error / _FINER), spots, readings)
        name = f"An instrument ten times finer (step {plain(round(tool.resolution / _FINER, 6))} mm)"
        enough = enough_readings(self.budget, spots, readings, self.margin_mm)
        return settled_by(self.margin_mm, self.budget, cold=cold, readings=enough, instruments=[(name, finer)])

    @property
    def is_no(self) -> bool:
        """Worn is no."""
        return self.verdict == Word.WORN.value

    @property
    def answer(self) -> Answer:
        """The verdict with its reason first, then the chances, then the budget line by line."""
        unit = self.unit
        pm = f"{with_its_doubt(converted(self.size_mm, 'mm', unit), converted(self.U_mm, 'mm', unit))} {unit}"
        lead = [self._verdict(pm), self._risk(), *self._slips()]
        if settling := self._settling():
            lead.append(settled_words(settling, lambda size_mm: f"{self._in(size_mm, 2)} {unit}"))
        limits = tuple(None if one is None else converted(one, "mm", unit) for one in self._within)
        new = None if self.new_mm is None else _pair(self.new_mm, unit)
        drawing = bell_drawing(
            converted(self.size_mm, "mm", unit),
            converted(self.u_mm, "mm", unit),
            (limits[0], limits[1]),
            new,
            (pm, f"The size {pm} on its bar; {chance_words(1 - self.chance_good)} lies past a limit."),
        )
        notes = [self._unfit()] if self._unfit() else []
        if abs(self.size_mm - self._mean_mm) > 5e-7:
            added = self._in(self.size_mm - self._mean_mm, 2)
            notes.append(f"Brought to 20 °C: {added} {unit} was added to what was read.")
        guard = f"{round(guard_band(), 2)} U"
        return Answer(
            title=f"{verdict_words(Word(self.verdict))}: {pm}",
            lead=tuple(lead),
            sections=(
                Section("Against its limits", tuple(self._limits())),
                budget_section(self._scaled(), unit),
                Section(
                    "Rule",
                    (
                        ("good", "the whole of size ± U lies within the limits"),
                        ("worn", "the whole of size ± U lies past one"),
                        ("too close to call", "a limit lies within size ± U"),
                        ("at 95 % of conformity", f"a guard band of {guard} would do, where both sides agree on it"),
                    ),
                ),
            ),
            notes=tuple(notes),
            sources=RULES,
            drawings=(drawing,),
        )

    def _slips(self) -> list[str]:
        """What looks like a slip: asked, and worked out all the same."""
        known = Known(self.min_mm, self.max_mm, self.new_mm)
        found = {read: likely_slip(read, known) for read in self.readings_mm}
        return [slip_sentence(read, likely, "mm") for read, likely in found.items() if likely]

    def _verdict(self, pm: str) -> str:
        side = "inside" if self.margin_mm >= 0 else "past"
        margin = f"{self._in(abs(self.margin_mm), 3)} {self.unit}"
        nearest = "new" if self._asked_as_new else "limit"
        where = f"{margin} {side} its nearest {nearest}" if abs(self.margin_mm) > 5e-8 else f"right at its {nearest}"
        if self.verdict == Word.CLOSE.value:
            return f"Too close to call: {pm} is {where}, and that is less than it may be out."
        return f"{verdict_words(Word(self.verdict))}: {pm} is {where}."

    def _risk(self) -> str:
        bad, good = 1 - self.chance_good, self.chance_good
        if self.verdict == Word.GOOD.value:
            return f"The chance that it is worn all the same: {chance_words(bad)}."
        if self.verdict == Word.WORN.value:
            return f"The chance that it is good all the same: {chance_words(good)}."
        return f"Called good, it would be worn {chance_words(bad)} times; called worn, good {chance_words(good)} times."

    def _unfit(self) -> str:
        ends = [end for end in self._within if end is not None]
        spans = [ends[1] - ends[0]] if len(ends) == 2 else []
        if self.new_mm and self.max_mm is not None:
            spans.append(self.max_mm - self.new_mm[1])
        if self.new_mm and self.min_mm is not None:
            spans.append(self.new_mm[0] - self.min_mm)
        span = min((one for one in spans if one > 0), default=None)
        if span is None or self.U_mm <= span / 2:
            return ""
        return (
            f"This instrument cannot judge this limit: ± {self._in(self.U_mm, 2)} {self.unit} is more than half of the "
            f"{self._in(span, 3)} {self.unit} between what is good and what is not. Take one ten times finer."
        )

    def _limits(self) -> list[tuple[str, ...]]:
        rows: list[tuple[str, ...]] = []
        if self.new_mm:
            rows.append(("new", f"{self._in(self.new_mm[0])} to {self._in(self.new_mm[1])} {self.unit}"))
        if self.min_mm is not None:
            rows.append(("worn below", f"{self._in(self.min_mm)} {self.unit}"))
        if self.max_mm is not None:
            rows.append(("worn past", f"{self._in(self.max_mm)} {self.unit}"))
        rows.append(("read", ", ".join(self._in(one) for one in self.readings_mm) + f" {self.unit}"))
        rows.append(("chance that it is good", chance_words(self.chance_good)))
        return rows

    def _in(self, size_mm: float, figures: int = 0) -> str:
        size = converted(size_mm, "mm", self.unit)
        return sized(size) if figures else plain(round(size, 4 if self.unit == "mm" else 5))

    def _scaled(self) -> Budget:
        times, budget = converted(1.0, "mm", self.unit), self.budget
        lines = tuple(replace(line, sensitivity=line.sensitivity * times) for line in budget.lines)
        return Budget(lines, budget.correlations)


def _pair(pair: tuple[float, float], unit: str) -> tuple[float, float]:
    return converted(pair[0], "mm", unit), converted(pair[1], "mm", unit)


def _sizes(typed: Typed, name: str, label: str, unit: str) -> tuple[float, ...]:
    """Sizes typed into one box [mm]."""
    text = typed.text(name)
    if not text:
        return ()
    try:
        read = as_read(text, Scale(unit))
        return tuple(round(converted(value, read.unit, "mm"), 9) for value in read.values)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None


def _compute(typed: Typed) -> MeasureCard:
    unit = typed.unit("unit")
    readings = _sizes(typed, "readings", "Readings", unit)
    new = _new(_sizes(typed, "new", "New", unit))
    smallest, largest = (_one(_sizes(typed, name, label, unit), label) for name, label in _LIMITS)
    if smallest is not None and largest is not None and smallest > largest:
        raise NotUnderstood(
            f"The limits are turned round: worn below {plain(smallest)} and past {plain(largest)} mm; "
            "write the smaller as Worn below."
        )
    if smallest is None and largest is None and new is None:
        raise NotUnderstood(
            "There is no limit to judge by; write Worn past for what wears larger, Worn below for smaller."
        )
    _new_within(new, smallest, largest)
    temperature_c, material = typed.size("temperature"), typed.choice("material")
    instrument_material = typed.choice("instrument-material")
    warmth = _warmth(temperature_c, material, instrument_material)
    tool = Tool(typed.must("resolution"), typed.size("error") or 0.0)
    size = mean = sum(readings) / len(readings)
    if warmth:
        size = at_20_c(mean, warmth.part, warmth.instrument, warmth.temperature_c)
    budget = reading_budget(tool, [readings], len(readings), mean, warmth)
    within = (smallest, largest) if smallest is not None or largest is not None else new or (None, None)
    verdict = judged(size, within[0], within[1], budget.expanded)
    dof = budget.dof
    return MeasureCard(
        verdict=verdict.word.value,
        size_mm=round(size, 9),
        readings_mm=readings,
        min_mm=smallest,
        max_mm=largest,
        new_mm=new,
        margin_mm=round(verdict.margin, 9),
        u_mm=budget.standard,
        U_mm=budget.expanded,
        coverage=budget.coverage,
        degrees_of_freedom=None if dof > 1e6 else dof,
        chance_good=chance_good(size, within[0], within[1], budget.standard, dof),
        lines={line.source: line.part for line in budget.lines},
        unit=unit,
        resolution_mm=tool.resolution,
        error_mm=tool.error,
        temperature_c=temperature_c,
        material=material,
        instrument_material=instrument_material,
    )


def _new(sizes: tuple[float, ...]) -> tuple[float, float] | None:
    if not sizes:
        return None
    if len(sizes) != 2:
        raise NotUnderstood("New: two sizes are wanted, the smallest and the largest; write for example 68.000 68.015.")
    if sizes[0] > sizes[1]:
        raise NotUnderstood(
            f"New: it runs from {plain(sizes[0])} down to {plain(sizes[1])} mm; write the smaller size first."
        )
    return sizes[0], sizes[1]


def _new_within(new: tuple[float, float] | None, smallest: float | None, largest: float | None) -> None:
    if new and largest is not None and new[1] > largest:
        raise NotUnderstood(
            f"New ones go up to {plain(new[1])} mm, and past {plain(largest)} mm they are worn; "
            "for what wears smaller write Worn below."
        )
    if new and smallest is not None and new[0] < smallest:
        raise NotUnderstood(
            f"New ones go down to {plain(new[0])} mm, and below {plain(smallest)} mm they are worn; "
            "for what wears larger write Worn past."
        )


def _one(sizes: tuple[float, ...], label: str) -> float | None:
    if len(sizes) > 1:
        raise NotUnderstood(f"{label}: one size is wanted, not {len(sizes)}.")
    return sizes[0] if sizes else None


def _warmth(temperature_c: float | None, material: str, instrument_material: str) -> Warmth | None:
    if temperature_c is None:
        return None
    if not material:
        raise NotUnderstood(
            "Material of the part: with a temperature it must be known what it is made of; choose steel, aluminium …"
        )
    return Warmth(temperature_c, expansion_of(material), expansion_of(instrument_material))


SUM = Sum(
    name="measure",
    title="Is it worn?",
    question="whether a measured size is good, worn or too close to call, and how sure that is",
    fields=(
        Field("readings", "Readings of one spot", "text", "one or several, as they were read", "68.152 68.155 68.153",
              must=True, first=True),
        Field("max", "Worn past", "text", "the largest it may be", "68.165"),
        Field("min", "Worn below", "text", "the smallest it may be", "67.845"),
        Field("new", "New", "text", "smallest and largest when new", "68.000 68.015"),
        Field("resolution", "Step of the instrument", "size", "the smallest step that can be read", "0.01 mm",
              usual="0.01 mm", must=True, unit="mm", above=0, most=10),
        Field("error", "Error of the instrument", "size", "how wrong it may be, ±", "0.005 mm", unit="mm", least=0,
              most=10),
        Field("temperature", "Temperature", "size", "of part and instrument alike", "28 °C", unit="°C", least=-20,
              most=150),
        Field("material", "Material of the part", "choice", choices=MATERIALS),
        Field("instrument-material", "Material of the instrument", "choice", usual="steel", choices=MATERIALS),
        Field("unit", "Unit", "unit", "what is meant where none is typed", usual="mm",
              choices=("mm", "in", "thou", "µm")),
    ),
    compute=_compute,
    card=MeasureCard,
    example='"68.152 68.155 68.153" --new "68.000 68.015" --max 68.165 --error 0.005',
)  # fmt: skip
