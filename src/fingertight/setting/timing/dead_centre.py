"""True top dead centre: the middle of two readings, how sure it is, and whether they belong to this crank at all."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from fingertight.setting.timing.angles import middle, wrapped
from fingertight.setting.timing.crank import Crank, angles_at, slope_mm_per_deg
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits, of_mean, of_resolution, pooled

MOST_APART_DEG = 30.0
"""Readings of one side further apart than this are not of one stop: common practice, no source."""
DEPTH_LIMIT_MM = 0.25
"""How far off the depth of a stop is usually known, measured through the plug hole: common practice, no source."""
TOO_FLAT_DEG = 10.0
"""A stop nearer to the top than this is met where the piston hardly moves: common practice, no source."""


class Wrong(Enum):
    """Why two readings give no dead centre."""

    SPREAD = "the readings of one side are far apart"
    SAME = "both sides read the same"
    HALF_A_TURN = "top and bottom cannot be told apart"


class NoCentre(ValueError):
    """These readings give no dead centre; `why` says what is wrong with them."""

    def __init__(self, why: Wrong) -> None:
        super().__init__(why.value)
        self.why = why


@dataclass(frozen=True, slots=True)
class Reading:
    """How an angle was read: the step of the wheel [deg], how well the stop repeats (±, [deg]), and where a dial was
    brought to the same reading instead, its step [mm] (0 with a stop)."""

    wheel_step_deg: float = 1.0
    repeats_deg: float = 0.5
    dial_step_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class DeadCentre:
    """Where the wheel reads when the piston is at its top [deg after its 0], and half the arc between the stops.

    shift_deg: how far the middle of the stops lies past the true top, because the pin is offset; taken off already.
    """

    at_deg: float
    half_deg: float
    shift_deg: float
    budget: Budget


def dead_centre(
    first: Sequence[float], second: Sequence[float], reading: Reading, crank: Crank | None = None
) -> DeadCentre:
    """Where is true top dead centre, when the piston meets the same stop from both sides?

    In the middle of the shorter arc: the piston is as far down as many degrees before its top as after it. Only an
    offset pin makes it unlike; where the crank with its offset is known, that is taken off.

    first, second: what the wheel reads at the stop, once or several times a side [deg]. Returns degrees after the
    wheel’s 0.

    >>> found = dead_centre([-31], [37], Reading(wheel_step_deg=1, repeats_deg=0.5))
    >>> found.at_deg, found.half_deg, round(found.budget.expanded, 2)
    (3.0, 34.0, 0.58)

    Source: symmetry of the slider crank; the budget as GUM (JCGM 100:2008) 5.1.2. Raises NoCentre when the two sides
    read the same, when readings of one side are far apart, and when the arcs to both sides are nearly alike, so that
    top and bottom cannot be told apart.
    """
    one, other = (_mean(side) for side in (first, second))
    if any(_is_spread(side, mean) for side, mean in ((first, one), (second, other))):
        raise NoCentre(Wrong.SPREAD)
    at, half = middle(one, other)
    if half < 0.25:
        raise NoCentre(Wrong.SAME)
    if half > 85:
        raise NoCentre(Wrong.HALF_A_TURN)
    shift = _shift_deg(crank, half) if crank and crank.offset_mm else 0.0
    return DeadCentre(wrapped(at - shift), half, shift, Budget(tuple(_lines(first, second, reading, half, crank))))


def half_at(crank: Crank, down_mm: float) -> float:
    """Half the arc between the two angles at which the piston is so far down [deg].

    >>> round(half_at(Crank(54, 95), 10), 3)
    45.382

    Source: `angles_at`.
    """
    before, after = angles_at(crank, down_mm)
    return (after - before) / 2


def depth_for(crank: Crank, half_deg: float) -> float:
    """How far down is a stop that is met so many degrees to either side of the middle [mm]?

    >>> round(depth_for(Crank(54, 95), 45.382), 3)
    10.0

    half_deg: 0 to 180. Source: `half_at`, turned round by halving.
    """
    low, high = 0.0, crank.travel_mm
    for _ in range(60):
        between = (low + high) / 2
        low, high = (between, high) if half_at(crank, between) < half_deg else (low, between)
    return (low + high) / 2


def apart_by_chance(crank: Crank, found: DeadCentre, down_mm: float) -> tuple[float, float]:
    """How far is the arc from the one that stroke, rod and depth of the stop ask for, and how far may it be [deg]?

    Half arcs; the second figure is the expanded uncertainty (k = 2) of their difference.

    >>> found = dead_centre([-31], [37], Reading())
    >>> away, may_be = apart_by_chance(Crank(54, 95), found, 10)
    >>> round(away, 1), round(may_be, 1)
    (-11.4, 0.9)

    Source: `half_at`; limits of the depth as `DEPTH_LIMIT_MM`.
    """
    expected = half_at(crank, down_mm)
    slope = max(slope_mm_per_deg(crank, expected), 1e-3)
    unsure = math.hypot(found.budget.standard, of_limits(DEPTH_LIMIT_MM) / slope)
    return found.half_deg - expected, 2 * unsure


def _mean(side: Sequence[float]) -> float:
    """The mean of angles that lie near each other, wherever the wheel begins again."""
    return wrapped(side[0] + math.fsum(wrapped(each - side[0]) for each in side) / len(side))


def _is_spread(side: Sequence[float], mean_deg: float) -> bool:
    return any(abs(wrapped(each - mean_deg)) > MOST_APART_DEG / 2 for each in side)


def _shift_deg(crank: Crank, half_deg: float) -> float:
    before, after = angles_at(crank, depth_for(crank, half_deg))
    return (before + after) / 2


def _lines(
    first: Sequence[float], second: Sequence[float], reading: Reading, half_deg: float, crank: Crank | None
) -> list[Line]:
    """What makes the middle unsure. Each side counts half: the middle is half of their sum."""
    away = [[wrapped(each - side[0]) for each in side] for side in (first, second)]
    scatter, dof = pooled(away)
    lines = []
    for name, side in (("one side", away[0]), ("the other side", away[1])):
        read = of_resolution(reading.wheel_step_deg) / math.sqrt(len(side))
        lines.append(Line(f"wheel read, {name}", read, 0.5, shape="rectangular"))
        if reading.dial_step_mm and crank:
            dial = of_resolution(reading.dial_step_mm) / slope_mm_per_deg(crank, half_deg) / math.sqrt(len(side))
            lines.append(Line(f"dial read, {name}", dial, 0.5, shape="rectangular"))
        elif not dof:
            lines.append(Line(f"stop met again, {name}", of_limits(reading.repeats_deg), 0.5, shape="rectangular"))
    if dof:
        both = math.hypot(*(of_mean(scatter, len(side)) for side in away))
        lines.append(Line("readings of one side differ", both, 0.5, dof=float(dof)))
    return lines
