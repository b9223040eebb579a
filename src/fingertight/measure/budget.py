"""The uncertainty budget of a reading, and of the difference of two: instrument, repeats, temperature."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from fingertight.measure.temperature import APART_C, REFERENCE_C, THERMOMETER_C, Expansion
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits, of_mean, of_resolution, pooled

RESOLUTION, ERROR, REPEATS = "reading to the nearest step", "error of the instrument", "scatter of the repeats"
THERMOMETER, PART_GROWS, TOOL_GROWS = "temperature", "growth of the part", "growth of the instrument"
APART = "part and instrument differ in warmth"
MOST_READINGS = 30
"""More readings of one spot than these nobody takes (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Tool:
    """What is read with: its smallest step and the largest error allowed, both as limits [unit of the reading]."""

    resolution: float
    error: float


@dataclass(frozen=True, slots=True)
class Warmth:
    """At what temperature it was measured [°C], what part and instrument are made of, how far the °C may be off.

    instrument_c: the instrument's own temperature, where it was taken; as the part otherwise. apart_c: how far the two
    may differ from what is said.
    """

    temperature_c: float
    part: Expansion
    instrument: Expansion
    limits_c: float = THERMOMETER_C
    instrument_c: float | None = None
    apart_c: float = APART_C


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
    counts: a scatter that is read in steps holds the step already, and a step hides a scatter that is smaller.

    >>> round(reading_budget(Tool(0.01, 0.005)).expanded, 4)
    0.0082

    Source: GUM (JCGM 100:2008) 4.2.3, 4.3.7, F.2.2.1, H.1; that the larger counts: common practice, no source.
    """
    step, hidden_step, error = _tool_lines(tool)
    scatter, dof = pooled(spots)
    if not dof:
        return Budget((step, *error, *_warmth_lines(size, warmth)))
    mean = of_mean(scatter, readings)
    said = f"{dof + 1} readings" if len(spots) == 1 else f"{dof} more than one for each spot"
    if mean >= step.standard:
        return Budget((Line(REPEATS, mean, dof=dof, note=said), hidden_step, *error, *_warmth_lines(size, warmth)))
    repeats = Line(REPEATS, mean, 0.0, dof, note=f"{said}; contained in the step")
    return Budget((step, repeats, *error, *_warmth_lines(size, warmth)))


@lru_cache(maxsize=256)
def _tool_lines(tool: Tool) -> tuple[Line, Line, tuple[Line, ...]]:
    """The step, the step where it is contained in the scatter, and the error where there is one."""
    note = f"step {tool.resolution:g}"
    step = Line(RESOLUTION, of_resolution(tool.resolution), shape="rectangular", note=note)
    hidden = replace(step, sensitivity=0.0, note=f"{note}; contained in the scatter")
    error = Line(ERROR, of_limits(tool.error), shape="rectangular", note=f"limits ± {tool.error:g}")
    return step, hidden, (error,) if tool.error else ()


def _warmth_lines(size: float, warmth: Warmth | None) -> tuple[Line, ...]:
    """What is unsure of the correction to 20 °C: the degrees, and how both materials grow.

    How much an unsure growth does hangs on degrees that are unsure too: √(ΔT² + u²(ΔT)) holds both orders of the
    product.
    """
    if warmth is None:
        return ()
    part, tool = warmth.part, warmth.instrument
    by_c = warmth.temperature_c - REFERENCE_C
    tool_by_c = by_c if warmth.instrument_c is None else warmth.instrument_c - REFERENCE_C
    degrees, apart = of_limits(warmth.limits_c), of_limits(warmth.apart_c)
    return (
        Line(
            THERMOMETER,
            degrees,
            size * (part.per_c - tool.per_c),
            shape="rectangular",
            note=f"± {warmth.limits_c:g} °C",
        ),
        Line(APART, apart, size * tool.per_c, shape="rectangular", note=f"± {warmth.apart_c:g} °C"),
        _growth(PART_GROWS, part, size * math.hypot(by_c, degrees)),
        _growth(TOOL_GROWS, tool, size * math.hypot(tool_by_c, degrees, apart)),
    )


def _growth(source: str, grows: Expansion, sensitivity: float) -> Line:
    note = f"({grows.per_c * 1e6:g} ± {grows.limits_per_c * 1e6:g}) millionths per °C"
    return Line(source, of_limits(grows.limits_per_c), sensitivity, shape="rectangular", note=note)


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

    Source: GUM (JCGM 100:2008) 4.2.3, with the scatter as found so far and the mean where it is.
    """
    scatter, dof = pooled(spots)
    if not dof:
        return None
    rest = tuple(line for line in budget.lines if line.source not in {REPEATS, RESOLUTION})
    step = next((line for line in budget.lines if line.source == RESOLUTION), Line(RESOLUTION, 0.0))
    for wanted in range(readings + 1, MOST_READINGS + 1):
        mean = Line(REPEATS, of_mean(scatter, wanted), dof=dof + wanted - readings)
        counts = mean if mean.standard >= step.standard else replace(step, sensitivity=1.0)
        if Budget((*rest, counts)).expanded <= abs(margin):
            return wanted
    return None
