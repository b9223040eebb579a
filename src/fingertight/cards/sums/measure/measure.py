"""Is it worn, and how sure are we: readings of one spot against limits, with the whole uncertainty budget."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fingertight.cards.card import Card
from fingertight.cards.pictures.measured.bell import bell_drawing
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.typed import limits_of, others_of, sizes_of
from fingertight.cards.sums.measure.words import (
    RULES,
    budget_section,
    chance_words,
    risk_words,
    rules_section,
    settled_words,
    sized,
    verdict_words,
    with_its_doubt,
)
from fingertight.measure.budget import Tool, Warmth, enough_readings, reading_budget
from fingertight.measure.slips import Known, likely_slip
from fingertight.measure.slips import sentence as slip_sentence
from fingertight.measure.temperature import at_20_c, expansion_of, materials
from fingertight.measure.verdict import Settling, Word, cannot_judge, chance_good, judged, settled_by
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.uncertainty.budget import Budget

MATERIALS = materials()
_FINER = 10.0


@dataclass(frozen=True)
class SettledCard(Card):
    """What would settle it: the way, the U there would be [mm], how many readings in all, which instrument."""

    way: str
    U_mm: float
    readings: int
    instrument: str


@dataclass(frozen=True)
class MeasureCard(SumCard):
    """A size at 20 °C against its limits [mm]: the verdict, the expanded uncertainty U, and how likely it is good.

    `lines`: the standard uncertainty each cause adds [mm]. unit: what it was asked in. others: the other instruments
    there are, their step and error [mm]. cannot_judge: nothing could be called good with this instrument, however often
    it is read.
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
    instrument_temperature_c: float | None
    material: str
    instrument_material: str
    others: dict[str, tuple[float, float]]
    cannot_judge: bool
    settled_by: SettledCard | None = None

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
        return _warmth(self.temperature_c, self.instrument_temperature_c, self.material, self.instrument_material)

    def settling(self) -> Settling | None:
        """What would settle it; where no other instrument was named one ten times finer stands for it."""
        if self.verdict != Word.CLOSE.value:
            return None
        tool, spots, readings = Tool(self.resolution_mm, self.error_mm), [self.readings_mm], len(self.readings_mm)
        cold = reading_budget(tool, spots, readings) if self.temperature_c is not None else None
        finer = Tool(tool.resolution / _FINER, tool.error / _FINER)
        others = {name: Tool(*sizes) for name, sizes in self.others.items()} or {
            f"An instrument ten times finer (step {plain(round(finer.resolution, 6))} mm)": finer
        }
        would = [
            (name, reading_budget(other, size=self._mean_mm, warmth=self._warmth())) for name, other in others.items()
        ]
        enough = enough_readings(self.budget, spots, readings, self.margin_mm)
        return settled_by(self.margin_mm, self.budget, cold=cold, readings=enough, instruments=would)

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
        if self.cannot_judge:
            lead.insert(1, self._unfit())
        if settling := self.settling():
            lead.append(settled_words(settling, lambda size_mm: f"{self._in(size_mm, 2)} {unit}"))
        limits = tuple(None if one is None else converted(one, "mm", unit) for one in self._within)
        new = None if self.new_mm is None else _pair(self.new_mm, unit)
        drawing = bell_drawing(
            converted(self.size_mm, "mm", unit),
            converted(self.u_mm, "mm", unit),
            (limits[0], limits[1]),
            new,
            (pm, f"The size {pm} on its bar; {chance_words(1 - self.chance_good)} lies past a limit."),
            unsure=converted(self.U_mm, "mm", unit),
        )
        notes = list(self._doubts())
        if abs(self.size_mm - self._mean_mm) > 5e-7:
            added = self._in(self.size_mm - self._mean_mm, 2)
            notes.append(f"Brought to 20 °C: {added} {unit} was added to what was read.")
        return Answer(
            title=f"{verdict_words(Word(self.verdict))}: {pm}",
            lead=tuple(lead),
            sections=(
                Section("Against its limits", tuple(self._limits())),
                budget_section(self._scaled(), unit),
                rules_section(converted(self.size_mm, "mm", unit), (limits[0], limits[1]), self._scaled(), unit),
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
        return risk_words(Word(self.verdict), self.chance_good)

    def _unfit(self) -> str:
        between = "between its limits" if None not in self._within else "between what is new and what is worn"
        least_mm = reading_budget(Tool(self.resolution_mm, self.error_mm)).expanded
        return (
            f"This instrument cannot judge this limit at all: ± {self._in(least_mm, 2)} {self.unit} leaves no room "
            f"{between}, and nothing it reads could be called good."
        )

    def _doubts(self) -> Iterator[str]:
        """What the budget does not know, or knows badly."""
        step, dof = self.resolution_mm, self.degrees_of_freedom
        if self.unit == "mm" and any(abs(one / step - round(one / step)) > 1e-6 for one in self.readings_mm):
            yield f"It was read finer than its step of {plain(step)} mm: is the step right?"
        if not self.error_mm:
            yield "The error of the instrument was not said and counts as none: U is the least it can be."
        if len(self.readings_mm) == 1:
            yield "One reading says nothing of how readings scatter, and the budget leaves that out; three would tell."
        elif dof is not None and dof < 3:
            yield f"So few readings know their own scatter badly: U is {self.coverage:.1f} u; one more makes it surer."

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


def _compute(typed: Typed) -> MeasureCard:
    unit = typed.unit("unit")
    readings = sizes_of(typed, "readings", "Readings", unit)
    smallest, largest, new = limits_of(typed, unit)
    temperature_c, material = typed.size("temperature"), typed.choice("material")
    instrument_c, instrument_material = typed.size("instrument-temperature"), typed.choice("instrument-material")
    warmth = _warmth(temperature_c, instrument_c, material, instrument_material)
    tool = Tool(typed.must("resolution"), typed.size("error") or 0.0)
    size = mean = sum(readings) / len(readings)
    if warmth:
        size = at_20_c(mean, warmth.part, warmth.instrument, warmth.temperature_c, warmth.instrument_c)
    budget = reading_budget(tool, [readings], len(readings), mean, warmth)
    within = (smallest, largest) if smallest is not None or largest is not None else new or (None, None)
    verdict = judged(size, within[0], within[1], budget.expanded)
    dof = budget.dof
    card = MeasureCard(
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
        instrument_temperature_c=instrument_c,
        material=material,
        instrument_material=instrument_material,
        others=others_of(typed.text("others")),
        cannot_judge=cannot_judge(within[0], within[1], new, reading_budget(tool).expanded),
    )
    found = card.settling()
    if found is None:
        return card
    return replace(card, settled_by=SettledCard(found.way.value, found.uncertainty, found.readings, found.instrument))


def _warmth(
    temperature_c: float | None, instrument_c: float | None, material: str, instrument_material: str
) -> Warmth | None:
    if temperature_c is None:
        if instrument_c is not None:
            raise NotUnderstood("Temperature: that of the part must be known too; write for example 28 °C.")
        return None
    if not material:
        raise NotUnderstood(
            "Material of the part: with a temperature it must be known what it is made of; choose steel, aluminium …"
        )
    grow = expansion_of(material), expansion_of(instrument_material)
    return Warmth(temperature_c, *grow, instrument_c=instrument_c)


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
        Field("temperature", "Temperature", "size", "of the part, and of the instrument where nothing else is said",
              "28 °C", unit="°C", least=-20,
              most=150),
        Field("instrument-temperature", "Temperature of the instrument", "size", "where it is not as warm as the part",
              "20 °C", unit="°C", least=-20, most=150),
        Field("material", "Material of the part", "choice", choices=MATERIALS),
        Field("instrument-material", "Material of the instrument", "choice", usual="steel", choices=MATERIALS),
        Field("others", "Other instruments there are", "text", "each with its step and its error in mm, apart by ;",
              "micrometer 0.001 0.003; bore gauge 0.01 0.005"),
        Field("unit", "Unit", "unit", "what is meant where none is typed", usual="mm",
              choices=("mm", "in", "thou", "µm")),
    ),
    compute=_compute,
    card=MeasureCard,
    example='"68.152 68.155 68.153" --new "68.000 68.015" --max 68.165 --error 0.005',
)  # fmt: skip
