"""Run-out of a shaft from the dial's readings: total, how far the middle is off, what is left of roundness."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Curve, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.typed import sizes_of
from fingertight.cards.sums.measure.words import RULES, risk_words
from fingertight.cards.sums.measure.workshop.judge import (
    Judged,
    in_unit,
    judge,
    judged_section,
    one_limit,
    said,
    tool_fields,
    tool_of,
    unfit,
)
from fingertight.measure.budget import difference_budget, reading_budget
from fingertight.measure.fits.round import LEAST_FOR_MIDDLE, Middle, middle_of, run_out
from fingertight.measure.verdict import Word
from fingertight.quantity import NotUnderstood, converted, plain

HELD = ("between centres", "in V-blocks")


@dataclass(frozen=True)
class RunoutCard(SumCard):
    """The readings of one turn [mm]; judged: the total run-out; middle: how far the middle is off [mm], towards which
    angle from the first reading [deg], and what is left (null with fewer than six readings)."""

    readings_mm: tuple[float, ...]
    judged: Judged
    off_mm: float
    off_towards_deg: float | None
    left_mm: float | None
    held: str
    unit: str

    @property
    def is_no(self) -> bool:
        """Past its limit is no."""
        return self.judged.verdict == Word.WORN.value

    @property
    def answer(self) -> Answer:
        """The total, what it means for the shaft, then the readings."""
        unit, one = self.unit, self.judged
        lead = [
            f"Run-out {said(one, unit)}, largest less smallest of a turn{f': {one.verdict}' if one.verdict else ''}."
        ]
        lead += unfit(one, unit, from_zero=True)
        if one.chance_good is not None:
            lead.append(risk_words(Word(one.verdict), one.chance_good))
        lead += self._middle()
        notes = [
            "With the dial halfway between where it is held, how far the middle is off is how far the shaft is bent."
        ]
        notes += ["Dial square to the shaft and pressed in a little; turn by hand, and leave out keyway and oil hole."]
        if self.held == HELD[1]:
            notes.append(
                "In V-blocks a shaft that is not round shows run-out though it is straight: check its roundness with a "
                "micrometer first."
            )
        steps = tuple(f"{plain(round(360 / len(self.readings_mm) * nth))}°" for nth in range(len(self.readings_mm)))
        low = min(self.readings_mm)
        heights = tuple(round(converted(each - low, "mm", unit), 6) for each in self.readings_mm)
        return Answer(
            title=f"Run-out: {one.verdict or said(one, unit)}",
            lead=tuple(lead),
            cautions=(
                "Straightening a crank bends or breaks it: only where its maker allows it, and never by hammer.",
            ),
            sections=(
                judged_section([one], unit),
                Section(
                    "Read",
                    tuple((step, in_unit(each, unit)) for step, each in zip(steps, self.readings_mm, strict=True)),
                ),
            ),
            notes=tuple(notes),
            sources=(
                *RULES,
                "run-out: an FAA powerplant knowledge test item",
                "the middle: least squares circle, ISO 12181-1",
            ),
            curves=(Curve("Over the lowest reading, as a share of the run-out", steps, _shares(heights)),)
            if len(steps) >= LEAST_FOR_MIDDLE and one.size_mm
            else (),
        )

    def _middle(self) -> list[str]:
        """How far the middle is off and which way, as far as the readings know it."""
        off = in_unit(self.off_mm, self.unit)
        if self.off_towards_deg is None or self.left_mm is None:
            return [
                f"The middle of the shaft is off by {off} there: half of what the dial shows, if the shaft is round."
            ]
        said = [f"The middle of the shaft is off by {off} there, by all readings of the turn."]
        left = f"beside {{}} {in_unit(self.left_mm, self.unit)} are left, of roundness, dirt and reading."
        if self.left_mm > 2 * self.off_mm:
            said.append(f"Most of it is no bend: {left.format('the middle')}")
        elif self.off_mm:
            way = plain(round(self.off_towards_deg))
            said.append(f"It is furthest out {way}° after the first reading; {left.format('that')}")
        return said


def _shares(heights: tuple[float, ...]) -> tuple[float, ...]:
    most = max(heights)
    return tuple(round(height / most, 4) for height in heights)


def _compute(typed: Typed) -> RunoutCard:
    unit = typed.unit("unit")
    readings = sizes_of(typed, "readings", "Readings", unit)
    if len(readings) < 2:
        raise NotUnderstood(
            "Readings: two at least, the highest and the lowest of a turn; write for example 0.02 -0.03."
        )
    budget = reading_budget(tool_of(typed))
    limit = one_limit(typed, "max", "Limit", unit)
    total = judge("run-out", run_out(readings), difference_budget(budget, budget), None, limit)
    middle: Middle | None = middle_of(readings) if len(readings) >= LEAST_FOR_MIDDLE else None
    return RunoutCard(
        readings_mm=readings,
        judged=total,
        off_mm=round(middle.off if middle else total.size_mm / 2, 9),
        off_towards_deg=round(middle.towards_deg, 6) if middle else None,
        left_mm=round(middle.left, 9) if middle else None,
        held=typed.choice("held"),
        unit=unit,
    )


SUM = Sum(
    name="runout",
    title="Run-out",
    question="how far a shaft runs out by a dial, whether that is allowed, and which way it is bent",
    fields=(
        Field("readings", "Readings", "text", "of one turn, evenly round; or only the highest and the lowest",
              "0.00 0.01 0.03 0.04 0.03 0.01 0.00 -0.01", must=True, first=True),
        Field("max", "Limit", "text", "the most the dial may go from end to end", "0.04"),
        Field("held", "Held", "choice", "how the shaft is held", usual=HELD[0], choices=HELD),
        *tool_fields(),
    ),
    compute=_compute,
    card=RunoutCard,
    example='"0.00 0.01 0.03 0.04 0.03 0.01 0.00 -0.01" --max 0.04 --error 0.012',
)  # fmt: skip
