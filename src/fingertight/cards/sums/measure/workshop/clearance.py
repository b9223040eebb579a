"""The clearance of two parts, an outer size less an inner one: cold, and when both are warm."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.typed import limits_of, sizes_of
from fingertight.cards.sums.measure.words import RULES, budget_section, risk_words
from fingertight.cards.sums.measure.workshop.judge import (
    UNITS,
    Judged,
    Limit,
    alike,
    in_unit,
    judge,
    judged_section,
    said,
    unfit,
)
from fingertight.measure.budget import Tool, difference_budget, reading_budget
from fingertight.measure.temperature import REFERENCE_C, expansion_of, gap_when_warm, materials
from fingertight.measure.verdict import Word
from fingertight.quantity import NotUnderstood, plain
from fingertight.uncertainty.budget import Budget

MATERIALS = materials()
_SIDES = (("outer", "Outer size"), ("inner", "Inner size"))


@dataclass(frozen=True)
class ClearanceCard(SumCard):
    """Both sizes and their difference [mm], each side's instrument as step and error; warm_mm: what is left when they
    are so warm. Below 0 it is interference."""

    outer_mm: float
    inner_mm: float
    outer_readings_mm: tuple[float, ...]
    inner_readings_mm: tuple[float, ...]
    outer_tool_mm: tuple[float, float]
    inner_tool_mm: tuple[float, float]
    judged: Judged
    warm_mm: float | None
    warm_c: tuple[float, float] | None
    unit: str

    @property
    def budget(self) -> Budget:
        """How sure the difference is, cause by cause [mm]."""
        return difference_budget(
            _side_budget(self.outer_tool_mm, self.outer_readings_mm),
            _side_budget(self.inner_tool_mm, self.inner_readings_mm),
        )

    @property
    def is_no(self) -> bool:
        """Worn is no."""
        return self.judged.verdict == Word.WORN.value

    @property
    def answer(self) -> Answer:
        """The clearance, the verdict, and what warmth makes of it."""
        unit, one = self.unit, self.judged
        told = one.verdict or ("clearance" if one.size_mm >= 0 else "interference")
        if one.size_mm < 0 and one.verdict == Word.WORN.value:
            told = "none, interference"
        lead = [f"{in_unit(self.outer_mm, unit)} less {in_unit(self.inner_mm, unit)} leaves {said(one, unit)}."]
        if one.size_mm < 0:
            lead = [
                f"The inner part is larger by {in_unit(-one.size_mm, unit)} (interference): it does not go in freely."
            ]
        lead += unfit(one, unit)
        if one.chance_good is not None:
            lead.append(risk_words(Word(one.verdict), one.chance_good))
        if self.warm_mm is not None and self.warm_c:
            lead.append(self._warm())
        return Answer(
            title=f"Clearance: {told}",
            lead=tuple(lead),
            sections=(
                *((judged_section([one], unit),) if one.verdict else ()),
                *self._both(),
                budget_section(self.budget, "mm"),
            ),
            notes=(
                "It is of the diameter: a part in the middle has half of it on each side.",
                "Largest outer and smallest inner size decide what is worn; smallest outer, largest inner what binds.",
                "Both instruments count as independent; read with one and the same, their errors mostly fall out.",
            ),
            sources=RULES,
        )

    def _warm(self) -> str:
        if self.warm_mm is None or self.warm_c is None:
            return ""
        outer_c, inner_c = (plain(each) for each in self.warm_c)
        if self.warm_mm <= 0:
            tight = in_unit(-self.warm_mm, self.unit)
            return f"At {outer_c} °C outside and {inner_c} °C inside it is gone: {tight} too tight, and it seizes."
        return f"At {outer_c} °C outside and {inner_c} °C inside {in_unit(self.warm_mm, self.unit)} are left."

    def _both(self) -> tuple[Section, ...]:
        rows = []
        for name, readings in (("outer", self.outer_readings_mm), ("inner", self.inner_readings_mm)):
            rows.append((name, ", ".join(in_unit(each, self.unit) for each in readings)))
        return (Section("Read", tuple(rows)),)


def _side_budget(tool_mm: tuple[float, float], readings: tuple[float, ...]) -> Budget:
    return reading_budget(Tool(*tool_mm), [readings], len(readings))


def _compute(typed: Typed) -> ClearanceCard:
    unit = typed.unit("unit")
    sides = [_readings(typed, name, label, unit) for name, label in _SIDES]
    outer, inner = (sum(each) / len(each) for each in sides)
    if not alike(outer, inner):
        raise NotUnderstood(
            f"Outer and inner size: {plain(outer)} mm and {plain(inner)} mm are not of one pair; look at the decimal "
            "marks and the units."
        )
    tools = [(typed.must(f"{name}-resolution"), typed.size(f"{name}-error") or 0.0) for name, _ in _SIDES]
    smallest, largest = _limits(typed, unit)
    budget = difference_budget(*(_side_budget(tool, each) for tool, each in zip(tools, sides, strict=True)))
    warm_mm, warm_c = _warm(typed, outer, inner)
    return ClearanceCard(
        outer_mm=round(outer, 9),
        inner_mm=round(inner, 9),
        outer_readings_mm=sides[0],
        inner_readings_mm=sides[1],
        outer_tool_mm=tools[0],
        inner_tool_mm=tools[1],
        judged=judge("clearance", outer - inner, budget, smallest, largest),
        warm_mm=warm_mm,
        warm_c=warm_c,
        unit=unit,
    )


def _limits(typed: Typed, unit: str) -> tuple[Limit, Limit]:
    """The least and the most clearance; new alone is both. Where a largest one is all that is given, the least is 0:
    a shaft that is larger than its bore has no clearance, however far it is from the most."""
    if not any(typed.has(name) for name in ("min", "max", "new")):
        return None, None
    smallest, largest, new = limits_of(typed, unit)
    if smallest is None and largest is None and new:
        return new
    if smallest is None and largest is not None and largest >= 0:
        smallest = min(0.0, new[0]) if new else 0.0
    return smallest, largest


def _readings(typed: Typed, name: str, label: str, unit: str) -> tuple[float, ...]:
    sizes = sizes_of(typed, name, label, unit)
    if not sizes:
        raise NotUnderstood(f"{label}: nothing was typed; write for example 68.06, or several readings of one spot.")
    if any(size <= 0 for size in sizes):
        raise NotUnderstood(f"{label}: a size is more than 0; write for example 68.06.")
    return sizes


def _warm(typed: Typed, outer: float, inner: float) -> tuple[float | None, tuple[float, float] | None]:
    """What is left when warm, where degrees and materials were said."""
    outer_c, inner_c = typed.size("outer-warm"), typed.size("inner-warm")
    outer_c, inner_c = (inner_c if outer_c is None else outer_c), (outer_c if inner_c is None else inner_c)
    if outer_c is None or inner_c is None:
        return None, None
    made = [typed.choice(f"{name}-material") for name, _ in _SIDES]
    if not all(made):
        raise NotUnderstood("Warm: what both parts are made of must be known; choose cast iron, aluminium … for each.")
    grows = [expansion_of(one).per_c for one in made]
    by_c, inner_by_c = outer_c - REFERENCE_C, inner_c - REFERENCE_C
    left = gap_when_warm(outer, inner, *grows, by_c=by_c, inner_by_c=inner_by_c)
    return round(left, 6), (outer_c, inner_c)


def _side_fields(name: str, label: str, example: str, step: str) -> tuple[Field, ...]:
    return (
        Field(f"{name}-resolution", f"Step, {name}", "size", "of the instrument it was read with", step, usual=step,
              must=True, unit="mm", above=0, most=10),
        Field(f"{name}-error", f"Error, {name}", "size", "how wrong that may be, ±", "0.005 mm", unit="mm", least=0,
              most=10),
        Field(f"{name}-material", f"Material, {name}", "choice", "for how it grows when warm", choices=MATERIALS),
        Field(f"{name}-warm", f"Warm, {name}", "size", "how warm it runs", example, unit="°C", least=-40, most=400),
    )  # fmt: skip


SUM = Sum(
    name="clearance",
    title="Clearance",
    question="the clearance of two parts from their sizes, whether it is worn, and what warmth leaves of it",
    fields=(
        Field("outer", "Outer size", "text", "the bore, at its largest", "68.06", must=True, first=True),
        Field("inner", "Inner size", "text", "the piston or shaft, at its smallest", "67.96", must=True, first=True),
        Field("max", "Worn past", "text", "the most clearance allowed", "0.12"),
        Field("min", "Tight below", "text", "the least clearance allowed", "0.015"),
        Field("new", "New", "text", "smallest and largest when new", "0.015 0.050"),
        *_side_fields("outer", "Outer size", "90 °C", "0.01 mm"),
        *_side_fields("inner", "Inner size", "130 °C", "0.01 mm"),
        Field("unit", "Unit", "unit", "what is meant where none is typed", usual="mm", choices=UNITS),
    ),
    compute=_compute,
    card=ClearanceCard,
    example="68.06 67.96 --new 0.015\\ 0.050 --max 0.12 --outer-error 0.005 --inner-error 0.005",
)  # fmt: skip
