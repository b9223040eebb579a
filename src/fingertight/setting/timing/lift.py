"""What dial readings at several angles say of a valve: where it passes a stated lift, and the middle of its lobe."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits, of_resolution

LEAST_READINGS = 5
LEVELS = tuple(0.30 + 0.05 * step for step in range(12))
"""Shares of the largest lift at which the middle is taken: the flanks, where the valve moves fastest."""
_JUMPS_BACK = 0.02
"""A flank may go back by so much of the largest lift: rocking of a dial’s foot (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Steps:
    """What was read with: step of the wheel [deg], of the dial [mm], and how sure top dead centre is (U, [deg])."""

    wheel_deg: float = 1.0
    dial_mm: float = 0.01
    top_deg: float = 0.5


@dataclass(frozen=True, slots=True)
class Placed:
    """A place in the cycle [deg], and what makes it unsure."""

    at_deg: float
    budget: Budget


@dataclass(frozen=True, slots=True)
class LobeCentre:
    """The middle of a lobe. leans_deg: how far the middle near the top lies behind the one near the bottom."""

    at_deg: float
    leans_deg: float
    budget: Budget


@dataclass(frozen=True, slots=True)
class LiftCurve:
    """Lifts [mm] at angles of the crank [deg], in the order of turning.

    Raises ValueError for fewer than five readings, angles that do not go on, a lift below 0, and readings that do not
    rise to one top and fall again; the last names the place as its second argument.
    """

    angles: tuple[float, ...]
    lifts: tuple[float, ...]

    def __post_init__(self) -> None:
        """Refuse what is no lift of a valve."""
        if len(self.angles) < LEAST_READINGS or len(self.angles) != len(self.lifts):
            raise ValueError("five readings or more are wanted")
        if any(later <= one for one, later in zip(self.angles, self.angles[1:], strict=False)):
            raise ValueError("the angles do not go on")
        if min(self.lifts) < 0 or max(self.lifts) <= 0:
            raise ValueError("a lift is 0 or more")
        if self._top in (0, len(self.lifts) - 1):
            raise ValueError("the valve does not rise and fall")
        back = _JUMPS_BACK * max(self.lifts)
        for place in range(1, len(self.lifts)):
            climbs = self.lifts[place] - self.lifts[place - 1]
            if (climbs < -back) if place <= self._top else (climbs > back):
                raise ValueError("the readings do not rise to one top and fall again", place)

    @property
    def _top(self) -> int:
        return self.lifts.index(max(self.lifts))

    @property
    def largest_mm(self) -> float:
        """The largest lift that was read [mm]."""
        return max(self.lifts)

    def lift_at(self) -> Callable[[float], float]:
        """The lift at any angle between the readings: a smooth curve through all of them that never overshoots."""
        from scipy.interpolate import PchipInterpolator

        through = PchipInterpolator(self.angles, self.lifts)
        return lambda angle_deg: float(through(angle_deg))


def passes(curve: LiftCurve, lift_mm: float, *, rising: bool, steps: Steps) -> Placed:
    """Where does the valve pass this lift, going up or coming down?

    lift_mm: above 0, below the largest that was read. Returns the place [deg] with its budget: the step of the wheel,
    the step of the dial by how steep the curve is there, how far a straight line between the two readings would be
    from the smooth curve, and top dead centre itself.

    >>> curve = LiftCurve((0, 10, 20, 30, 40), (0.0, 1.0, 1.5, 1.0, 0.0))
    >>> found = passes(curve, 1.0, rising=True, steps=Steps(1, 0.01, 0.5))
    >>> round(found.at_deg, 2), round(found.budget.expanded, 1)
    (10.0, 0.8)

    Source: interpolation by Fritsch and Butland’s monotone cubic; the budget as GUM (JCGM 100:2008) 5.1.2.
    Raises ValueError where the valve does not pass it on that side.
    """
    at = _crossing(curve, curve.lift_at(), lift_mm, rising)
    return Placed(at, Budget(tuple(_lines(curve, at, lift_mm, rising, steps))))


def lobe_centre(curve: LiftCurve, steps: Steps) -> LobeCentre:
    """Where is the middle of the lobe? Half way between the two angles of the same lift, over the flanks.

    The highest reading itself says little: the valve dwells there as the piston does at its top.

    >>> curve = LiftCurve((0, 10, 20, 30, 40), (0.0, 1.0, 1.5, 1.0, 0.0))
    >>> round(lobe_centre(curve, Steps()).at_deg, 1)
    20.0

    Source: common practice of the trade (half way between equal lifts). Raises ValueError where the two flanks share
    no lift.
    """
    lift_at = curve.lift_at()
    low = max(curve.lifts[0], curve.lifts[-1])
    levels = [share * curve.largest_mm for share in LEVELS if share * curve.largest_mm > low]
    if not levels:
        raise ValueError("the two flanks share no lift")
    pairs = [tuple(_crossing(curve, lift_at, level, rising) for rising in (True, False)) for level in levels]
    middles = [(up + down) / 2 for up, down in pairs]
    at = math.fsum(middles) / len(middles)
    level = levels[len(levels) // 2]
    flanks = [_lines(curve, pairs[len(levels) // 2][side], level, side == 0, steps) for side in (0, 1)]
    lines = [Line(f"{line.source}, {name}", line.standard, 0.5, line.dof, line.shape)
             for name, flank in zip(("rising", "falling"), flanks, strict=True) for line in flank[:-1]]  # fmt: skip
    lines.append(Line("flanks that are not alike", of_limits((max(middles) - min(middles)) / 2), shape="rectangular"))
    lines.append(flanks[0][-1])
    return LobeCentre(at, middles[-1] - middles[0], Budget(tuple(lines)))


def _crossing(curve: LiftCurve, lift_at: Callable[[float], float], lift_mm: float, rising: bool) -> float:
    low, high = _between(curve, lift_mm, rising)
    for _ in range(50):
        middle = (low + high) / 2
        if (lift_at(middle) < lift_mm) == rising:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _between(curve: LiftCurve, lift_mm: float, rising: bool) -> tuple[float, float]:
    """The two neighbouring angles between which the lift is passed, nearest to the top."""
    top = curve.lifts.index(curve.largest_mm)
    places = range(top, 0, -1) if rising else range(top + 1, len(curve.lifts))
    for place in places:
        below = curve.lifts[place - 1] if rising else curve.lifts[place]
        if below <= lift_mm < curve.largest_mm:
            return curve.angles[place - 1], curve.angles[place]
    raise ValueError("the valve does not pass this lift here")


def _lines(curve: LiftCurve, at_deg: float, lift_mm: float, rising: bool, steps: Steps) -> list[Line]:
    low, high = _between(curve, lift_mm, rising)
    lifts = dict(zip(curve.angles, curve.lifts, strict=True))
    rise = lifts[high] - lifts[low]
    straight = low + (lift_mm - lifts[low]) / rise * (high - low)
    return [
        Line("wheel read", of_resolution(steps.wheel_deg), shape="rectangular"),
        Line("dial read", of_resolution(steps.dial_mm) * (high - low) / abs(rise), shape="rectangular"),
        Line("between two readings", of_limits(abs(straight - at_deg)), shape="rectangular"),
        Line("true top dead centre", steps.top_deg / 2),
    ]


def heights(curve: LiftCurve, angles: Sequence[float]) -> list[float]:
    """The lift at each of these angles, 0 outside the readings [mm]."""
    lift_at = curve.lift_at()
    return [max(lift_at(at), 0.0) if curve.angles[0] <= at <= curve.angles[-1] else 0.0 for at in angles]
