"""What a compression gauge should show when an engine is cranked, and what a leak-down tester says."""

from dataclasses import dataclass

from fingertight.setting.timing.crank import Crank, depth_mm

BY_HAND_PER_MIN = 300.0
"""Slower than this is by hand or foot, faster is an electric starter: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Exponents:
    """Between which polytropic exponents the air is compressed, and why."""

    low: float
    high: float
    why: str


def exponents(per_min: float | None = None) -> Exponents:
    """By which exponents is the pressure to be expected? 1.0 would lose all heat, 1.4 none.

    per_min: turns of the crank a minute while cranking; None: not known.

    >>> exponents().low, exponents().high, exponents(200).high, exponents(600).low
    (1.2, 1.35, 1.3, 1.25)

    The slower it turns, the more heat and air are lost. Source: 1.2 to 1.3 an encyclopedia’s article on compression
    ratio; the upper end, and which end goes with which speed, common practice, no source.
    """
    if per_min is None:
        return Exponents(1.20, 1.35, "speed not given")
    if per_min < BY_HAND_PER_MIN:
        return Exponents(1.20, 1.30, "slow: by hand or foot")
    return Exponents(1.25, 1.35, "fast: a starter")


def share_compressed(crank: Crank, closes_deg: float) -> float:
    """Which share of the stroke is left when the inlet valve closes so many degrees after bottom dead centre?

    >>> round(share_compressed(Crank(45, 84), 42), 3)
    0.902

    closes_deg: 0 to 179 [deg]. Source: the slider crank, no term left out (`timing/crank.py`).
    Raises ValueError when it would not close before the top.
    """
    if not -179 <= closes_deg <= 179:
        raise ValueError("it closes between bottom and top")
    return depth_mm(crank, 180.0 - closes_deg) / crank.travel_mm


def effective_ratio(ratio: float, share: float) -> float:
    """The ratio from where the inlet closes: 1 + (ratio − 1) · share; what was let in before goes out again.

    >>> round(effective_ratio(8.6, 0.901), 2)
    7.85

    At cranking speed; a fast engine fills itself by the air’s own push. Source: volumes at both places of the piston.
    """
    return 1 + (ratio - 1) * share


def gauge_bar(inlet_bar: float, ratio: float, exponent: float) -> float:
    """What a gauge shows after compression by this ratio [bar]: inlet · ratio^n − inlet.

    inlet_bar: the air’s own pressure, throttle wide open [bar]; a gauge shows 0 in open air.

    >>> round(gauge_bar(1.01325, 7.5, 1.3), 2)
    12.9

    Tight rings and valves, and a gauge whose valve sits in the plug hole. Source: polytropic compression of a gas;
    checked against published examples.
    """
    return float(inlet_bar * ratio**exponent - inlet_bar)


def leaks(supply_bar: float, cylinder_bar: float) -> float:
    """Which share of the pressure is lost on the way through a leaking cylinder? (supply − cylinder) / supply.

    >>> leaks(80, 60)
    0.25

    It depends on the size of the tester’s own hole: figures of two testers are not alike. Source: FAA AC 43.13-1B,
    differential compression test. Raises ValueError when the cylinder has more than is supplied.
    """
    if not (supply_bar > 0 and 0 <= cylinder_bar <= supply_bar):
        raise ValueError("the cylinder has no more than is supplied")
    return (supply_bar - cylinder_bar) / supply_bar
