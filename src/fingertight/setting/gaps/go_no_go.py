"""Between which sizes a gap lies when one leaf goes and another does not, and which leaves prove a range."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from fingertight.setting.gaps.leaves import Stack, stacks


class Set(StrEnum):
    """The verdict on a gap."""

    GOOD = "good"
    SMALL = "too small"
    LARGE = "too large"
    CLOSE = "too close to call"


@dataclass(frozen=True, slots=True)
class Between:
    """A gap known by leaves: no smaller than `low_mm`, smaller than `high_mm` (infinite where no leaf stopped)."""

    low_mm: float
    high_mm: float
    goes: Stack | None = None
    stops: Stack | None = None

    @property
    def middle_mm(self) -> float | None:
        """The middle of what is marked on both leaves [mm], the best single figure; None where one side is open."""
        if self.goes is None or self.stops is None:
            return None
        return (self.goes.thickness_mm + self.stops.thickness_mm) / 2

    @property
    def standard_mm(self) -> float | None:
        """Its standard uncertainty [mm]: anywhere between the leaves, and each leaf anywhere within its limits.

        u² = (no-go − go)² / 12 + (a² + b²) / 12, a and b the limits of both leaves, each counting half.
        Source: GUM (JCGM 100:2008) 4.3.7 (rectangular), 5.1.2.
        """
        if self.goes is None or self.stops is None:
            return None
        apart = self.stops.thickness_mm - self.goes.thickness_mm
        return math.hypot(apart, self.goes.error_mm, self.stops.error_mm) / math.sqrt(12)

    def share_within(self, least_mm: float, most_mm: float) -> float | None:
        """Which share of what is possible lies within a range, all sizes between being as likely; None: one side open.

        >>> between(Stack((0.15,)), Stack((0.20,))).share_within(0.13, 0.17)
        0.4
        """
        if math.isinf(self.high_mm) or self.goes is None:
            return None
        wide = self.high_mm - self.low_mm
        return round(max(min(self.high_mm, most_mm) - max(self.low_mm, least_mm), 0.0) / wide, 9)


def between(goes: Stack | None, stops: Stack | None) -> Between:
    """Between which sizes does the gap lie? A leaf that goes is no thicker than the gap, one that does not is.

    >>> found = between(Stack((0.15,), 0.004), Stack((0.20,), 0.004))
    >>> round(found.low_mm, 3), round(found.high_mm, 3), round(found.middle_mm, 3), round(found.standard_mm, 4)
    (0.146, 0.204, 0.175, 0.0145)

    Holds for faces that are flat and parallel: a leaf bridges a hollow, and the gap is larger than it says.
    Raises ValueError when what goes is as thick as what does not, or nothing was tried.
    """
    if goes is None and stops is None:
        raise ValueError("nothing was tried")
    if goes is not None and stops is not None and goes.thickness_mm >= stops.thickness_mm - 1e-9:
        raise ValueError("what goes is thinner than what does not")
    return Between(
        low_mm=max(goes.at_least_mm, 0.0) if goes else 0.0,
        high_mm=stops.at_most_mm if stops else math.inf,
        goes=goes,
        stops=stops,
    )


def judged(found: Between, least_mm: float, most_mm: float) -> Set:
    """Is the gap within its range, proven on both sides?

    good: a leaf no thinner than the least goes, and one no thicker than the most does not. too small: a leaf no thicker
    than the least does not go. too large: a leaf no thinner than the most goes. Else it is too close to call.

    >>> judged(between(Stack((0.15,)), Stack((0.17,))), 0.13, 0.17).value
    'good'
    >>> judged(between(Stack((0.15,)), Stack((0.20,))), 0.13, 0.17).value
    'too close to call'

    Source: conformity and nonconformity each proven, ISO 14253-1:2017; the leaves as go and no-go limit gauges.
    """
    grain = 1e-9
    if found.low_mm >= least_mm - grain and found.high_mm <= most_mm + grain:
        return Set.GOOD
    if found.high_mm <= least_mm + grain:
        return Set.SMALL
    if found.low_mm >= most_mm - grain:
        return Set.LARGE
    return Set.CLOSE


@dataclass(frozen=True, slots=True)
class Proof:
    """The leaves that prove a range: `goes` must go and `stops` must not; `small` that does not go proves it too small,
    `large` that goes too large. None: no leaf and no stack of these does."""

    goes: Stack | None
    stops: Stack | None
    small: Stack | None
    large: Stack | None

    @property
    def proves(self) -> bool:
        """Whether both sides of the range can be proven with these leaves at once."""
        return (
            self.goes is not None
            and self.stops is not None
            and (self.goes.thickness_mm < self.stops.thickness_mm - 1e-9)
        )


def proof(least_mm: float, most_mm: float, leaves_mm: Sequence[float], error_mm: float | None = None) -> Proof:
    """Which leaf must go, and which must not, so that the gap is surely within this range?

    The thinnest that is surely no thinner than the least, and the thickest that is surely no thicker than the most: a
    leaf above the most that does not go leaves the sizes between unproven. A single leaf is taken unless a stack of
    two comes nearer by more than a quarter of the range, or no single one will do.

    >>> found = proof(0.13, 0.17, (0.05, 0.06, 0.10, 0.15, 0.20))
    >>> found.goes.leaves_mm, found.stops.leaves_mm
    ((0.15,), (0.06, 0.1))

    Source: the limits of go and no-go gauges, with what each leaf may be off.
    """
    all_of_them = list(stacks(leaves_mm, 2, error_mm))
    grain, apart = 1e-9, (most_mm - least_mm) / 4
    over = [one for one in all_of_them if one.at_least_mm >= least_mm - grain]
    under = [one for one in all_of_them if one.at_most_mm <= most_mm + grain]
    goes = _nearest(over, least_mm, apart, [one for one in over if one.at_most_mm <= most_mm])
    if goes is not None:
        under = [one for one in under if one.thickness_mm > goes.thickness_mm + grain] or under
    return Proof(
        goes=goes,
        stops=_nearest(under, most_mm, apart),
        small=_nearest([one for one in all_of_them if one.at_most_mm <= least_mm + grain], least_mm, apart),
        large=_nearest([one for one in all_of_them if one.at_least_mm >= most_mm - grain], most_mm, apart),
    )


def _nearest(
    candidates: Sequence[Stack], limit_mm: float, apart_mm: float, rather: Sequence[Stack] = ()
) -> Stack | None:
    """The one nearest to the limit, a single leaf where a stack is not much nearer; one of `rather` where there is."""
    chosen = rather or candidates
    if not chosen:
        return None
    best = min(chosen, key=lambda one: (abs(one.thickness_mm - limit_mm), len(one.leaves_mm), -one.leaves_mm[-1]))
    singles = [one for one in chosen if len(one.leaves_mm) == 1]
    if not singles:
        return best
    single = min(singles, key=lambda one: abs(one.thickness_mm - limit_mm))
    near = abs(single.thickness_mm - limit_mm) - abs(best.thickness_mm - limit_mm)
    return single if near <= apart_mm + 1e-9 else best
