"""The uncertainty budget of a reading, and of the difference of two: instrument, repeats, temperature."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fingertight.measure.temperature import REFERENCE_C, THERMOMETER_C, Expansion
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits, of_mean, of_resolution, pooled

RESOLUTION, ERROR, REPEATS = "reading to the nearest step", "error of the instrument", "scatter of the repeats"
THERMOMETER, PART_GROWS, TOOL_GROWS = "temperature", "growth of the part", "growth of the instrument"
CONTAINED = "contained in the line above it that is larger"


@dataclass(frozen=True, slots=True)
class Tool:
    """What is read with: its smallest step and the largest error allowed, both as limits [unit of the reading]."""

    resolution: float
    error: float


@dataclass(frozen=True, slots=True)
class Warmth:
    """At what temperature it was measured [°C], what part and instrument are made of, how far the °C may be off."""

    temperature_c: float
    part: Expansion
    instrument: Expansion
    limits_c: float = THERMOMETER_C


def reading_budget(
    tool: Tool,
    spots: Sequence[Sequence[float]] = (),
    readings: int = 1,
    size: float = 0.0,
    warmth: Warmth | None = None,
) -> Budget:
    """How sure is a size that is the mean of so many `readings` of one spot?

    spots: the repeats of every spot that was read with this tool, which together say how it scatters. size: about how
    large it is, for the temperature. All in the unit of the reading. The larger of the step and the scatter of the mean
    counts: a scatter that is read in steps holds the step already.

    >>> round(reading_budget(Tool(0.01, 0.005)).expanded, 4)
    0.0082

    Source: GUM (JCGM 100:2008) 4.2.3, 4.3.7, F.2.2.1, H.1; step and repeats as in GUM F.2.2.1 and EA-4/02.
    """
    step = Line(RESOLUTION, of_resolution(tool.resolution), shape="rectangular", note=f"step {tool.resolution:g}")
    lines = [step]
    scatter, dof = pooled(spots)
    if dof:
        mean = of_mean(scatter, readings)
        said = f"{dof + sum(len(spot) > 1 for spot in spots)} repeats"
        repeats = Line(REPEATS, mean, dof=dof, note=said)
        smaller = replace(step, sensitivity=0.0, note=f"{step.note}; {CONTAINED}")
        lines = (
            [repeats, smaller]
            if mean >= step.standard
            else [step, replace(repeats, sensitivity=0.0, note=f"{said}; {CONTAINED}")]
        )
    if tool.error:
        note = f"limits ± {tool.error:g}"
        lines.append(Line(ERROR, of_limits(tool.error), shape="rectangular", note=note))
    return Budget((*lines, *_warmth_lines(size, warmth)))


def _warmth_lines(size: float, warmth: Warmth | None) -> tuple[Line, ...]:
    """What is unsure of the correction to 20 °C: the degrees, and how both materials grow."""
    if warmth is None:
        return ()
    by_c = warmth.temperature_c - REFERENCE_C
    differ = warmth.part.per_c - warmth.instrument.per_c
    return (
        Line(
            THERMOMETER,
            of_limits(warmth.limits_c),
            size * differ,
            shape="rectangular",
            note=f"± {warmth.limits_c:g} °C",
        ),
        Line(PART_GROWS, of_limits(warmth.part.limits_per_c), size * by_c, shape="rectangular"),
        Line(TOOL_GROWS, of_limits(warmth.instrument.limits_per_c), size * by_c, shape="rectangular"),
    )


def difference_budget(outer: Budget, inner: Budget, *, one_tool: bool = False, one_room: bool = True) -> Budget:
    """How sure is a clearance, an outer size less an inner one?

    one_tool: both were read with the same instrument, whose error is then mostly the same in both and falls out: it
    counts as fully correlated. one_room: both at the temperature of one thermometer.

    >>> gauge, micrometer = reading_budget(Tool(0.01, 0.005)), reading_budget(Tool(0.01, 0.005))
    >>> round(difference_budget(gauge, micrometer).expanded, 4)
    0.0115

    Source: GUM (JCGM 100:2008) 5.2.2, equation 16; F.1.2.3 on causes that two readings share.
    """
    first = [replace(line, source=f"outer: {line.source}") for line in outer.lines]
    second = [replace(line, source=f"inner: {line.source}", sensitivity=-line.sensitivity) for line in inner.lines]
    shared = {ERROR} if one_tool else set()
    if one_room:
        shared |= {THERMOMETER}
    if one_tool and one_room:
        shared |= {TOOL_GROWS}
    pairs = {
        (place, len(first) + other): 1.0
        for place, line in enumerate(outer.lines)
        for other, twin in enumerate(inner.lines)
        if line.source == twin.source and line.source in shared
    }
    return Budget((*first, *second), pairs)


def enough_readings(budget: Budget, spots: Sequence[Sequence[float]], readings: int, margin: float) -> int | None:
    """How many readings of the spot would make its mean sure enough for this margin? None where none would.

    Source: GUM (JCGM 100:2008) 4.2.3, with the scatter as found so far.
    """
    scatter, dof = pooled(spots)
    if not dof:
        return None
    rest = Budget(tuple(line for line in budget.lines if line.source not in {REPEATS, RESOLUTION}))
    step = next((line.standard for line in budget.lines if line.source == RESOLUTION), 0.0)
    for wanted in range(readings + 1, 31):
        mean = Line(REPEATS, max(of_mean(scatter, wanted), step), dof=dof + wanted - readings)
        if Budget((*rest.lines, mean)).expanded <= abs(margin):
            return wanted
    return None
