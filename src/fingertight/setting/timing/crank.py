"""The slider crank: where the piston is at an angle of the crank, how fast it goes, and back from depth to angle."""

import math
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Crank:
    """A crank with its rod and piston.

    stroke_mm: twice the throw of the crank [mm], above 0. rod_mm: from hole to hole, middle to middle [mm].
    offset_mm: how far the piston pin travels beside the crank’s middle [mm], plus towards the side on which the
    crankpin goes down. Raises ValueError when such a crank cannot turn: the rod must be longer than throw and offset.
    """

    stroke_mm: float
    rod_mm: float
    offset_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what cannot turn."""
        if not (self.stroke_mm > 0 and self.rod_mm > self.throw_mm + abs(self.offset_mm)):
            raise ValueError("the stroke is above 0, the rod longer than half of it and the offset together")

    @property
    def throw_mm(self) -> float:
        """Half the stroke: from the middle of the crankshaft to that of the crankpin [mm]."""
        return self.stroke_mm / 2

    @property
    def ratio(self) -> float:
        """Rod by throw, n in the books."""
        return self.rod_mm / self.throw_mm

    @property
    def top_mm(self) -> float:
        """How high the pin stands above the crank’s middle at top dead centre, rod and throw in line [mm]."""
        reach = self.rod_mm + self.throw_mm
        return math.sqrt((reach - self.offset_mm) * (reach + self.offset_mm))

    @property
    def travel_mm(self) -> float:
        """How far the piston goes from top to bottom: the stroke, and a little more where there is an offset [mm]."""
        short = self.rod_mm - self.throw_mm
        return self.top_mm - math.sqrt((short - self.offset_mm) * (short + self.offset_mm))

    @property
    def lean_rad(self) -> float:
        """How far the crank is past upright when the piston is at its top [rad]; 0 without an offset."""
        return math.asin(self.offset_mm / (self.rod_mm + self.throw_mm))


def depth_mm(crank: Crank, angle_deg: float) -> float:
    """How far is the piston below its top when the crank has turned so far past top dead centre?

    s = r (1 − cos α) + L − √(L² − r² sin² α) without an offset.

    angle_deg: after top dead centre, minus before it [deg]. Returns the depth [mm], exact: no term is left out.

    >>> crank = Crank(stroke_mm=54, rod_mm=95)
    >>> round(depth_mm(crank, 10), 4), round(depth_mm(crank, -20), 4), depth_mm(crank, 180)
    (0.526, 2.0782, 54.0)

    Source: geometry of the slider crank; checked against published exercises (tests/outside/timing.toml).
    """
    if not crank.offset_mm:  # written so that no digits are lost near the top, where depths are small
        half = math.sin(math.radians(angle_deg) / 2)
        side = crank.throw_mm * math.sin(math.radians(angle_deg))
        return 2 * crank.throw_mm * half * half + side * side / (crank.rod_mm + _upright(crank.rod_mm, side))
    return crank.top_mm - pin_height_mm(crank, angle_deg)


def pin_height_mm(crank: Crank, angle_deg: float) -> float:
    """How high is the piston pin above the crank’s middle, along the cylinder [mm]?

    >>> pin_height_mm(Crank(stroke_mm=2, rod_mm=2), 0)
    3.0

    angle_deg: after top dead centre [deg]. Source: geometry; checked as `depth_mm` is.
    """
    turned = math.radians(angle_deg) + crank.lean_rad
    side = crank.throw_mm * math.sin(turned) - crank.offset_mm
    return crank.throw_mm * math.cos(turned) + _upright(crank.rod_mm, side)


def two_term_depth_mm(crank: Crank, angle_deg: float) -> float:
    """The depth by the formula of the books that leaves all but two terms out: r (1 − cos α + sin² α / 2n) [mm].

    >>> crank = Crank(stroke_mm=54, rod_mm=95)
    >>> round(two_term_depth_mm(crank, 90), 3), round(depth_mm(crank, 90), 3)
    (30.837, 30.918)

    Too small everywhere but at the dead centres: by 0.1 % where the rod is five throws long, by more where it is
    shorter. Without an offset. Source: books on the theory of machines; checked against their exercises.
    """
    turned, n = math.radians(angle_deg), crank.ratio
    return crank.throw_mm * (1 - math.cos(turned) + math.sin(turned) ** 2 / (2 * n))


def slope_mm_per_deg(crank: Crank, angle_deg: float) -> float:
    """How far does the piston go down for one degree more of the crank [mm/deg]?

    Its speed is this times 6 degrees a second for each turn a minute: see `speed_m_s`.

    >>> round(slope_mm_per_deg(Crank(54, 95), 45.38), 3)
    0.404

    Source: the derivative of `depth_mm`, tested against differences.
    """
    turned = math.radians(angle_deg) + crank.lean_rad
    across = crank.throw_mm * math.sin(turned)
    side = across - crank.offset_mm
    down = across + side * crank.throw_mm * math.cos(turned) / _upright(crank.rod_mm, side)
    return math.radians(down)


def speed_m_s(crank: Crank, angle_deg: float, per_min: float) -> float:
    """How fast does the piston go down at this angle and these turns a minute [m/s]? Minus: it goes up.

    >>> round(speed_m_s(Crank(600, 1500), 40, 150), 3)
    3.497

    Source: as `slope_mm_per_deg`; checked against exercises worked without approximation.
    """
    return slope_mm_per_deg(crank, angle_deg) * per_min * 6 / 1000


def two_term_speed_m_s(crank: Crank, angle_deg: float, per_min: float) -> float:
    """The speed by the formula of the books, v = ω r (sin α + sin 2α / 2n) [m/s].

    >>> round(two_term_speed_m_s(Crank(600, 1500), 40, 150), 2)
    3.49

    Source: books on the theory of machines; checked against a public answer key.
    """
    turned, n = math.radians(angle_deg), crank.ratio
    shape = math.sin(turned) + math.sin(2 * turned) / (2 * n)
    return per_min * math.tau / 60 * crank.throw_mm / 1000 * shape


def fastest_deg(crank: Crank) -> float:
    """At which angle after top dead centre is the piston fastest on its way down [deg]?

    Never at half a turn’s middle: only a rod without end would make it 90.

    >>> round(fastest_deg(Crank(stroke_mm=84, rod_mm=153)), 1)
    75.6

    Source: where the slope of `depth_mm` is greatest, found by halving; checked against a worked page.
    """
    return _halved(lambda at: slope_mm_per_deg(crank, at + 0.001) - slope_mm_per_deg(crank, at - 0.001), 30.0, 120.0)


def two_term_fastest_deg(ratio: float) -> float:
    """The same by the two-term formula: cos α = (√(n² + 8) − n) / 4 [deg]. ratio: n, rod by throw, above 1.

    >>> round(two_term_fastest_deg(5), 2)
    79.27

    Source: books on the theory of machines, the crank angle of no acceleration.
    """
    return math.degrees(math.acos((math.sqrt(ratio * ratio + 8) - ratio) / 4))


def angles_at(crank: Crank, down_mm: float) -> tuple[float, float]:
    """At which two angles is the piston so far down: going up (minus, before the top) and going down [deg]?

    down_mm: 0 to `travel_mm`. Without an offset the two are alike but for their sign.

    >>> before, after = angles_at(Crank(54, 95), 10)
    >>> round(before, 2), round(after, 2)
    (-45.38, 45.38)

    Source: the triangle of throw, rod and pin (law of cosines), solved without losing digits near the top.
    Raises ValueError for a depth that this piston never has.
    """
    if not 0 <= down_mm <= crank.travel_mm * (1 + 1e-12):
        raise ValueError("the piston never goes there")
    throw, rod = crank.throw_mm, crank.rod_mm
    height = max(crank.top_mm - down_mm, crank.top_mm - crank.travel_mm)
    away = math.hypot(height, crank.offset_mm)
    # The crankpin lies on two circles: `throw` about the crank, `rod` about the pin. 1 − cos of their half angle:
    short = (rod + throw - away) * (rod - throw + away) / (2 * throw * away)
    half = 2 * math.asin(math.sqrt(min(max(short / 2, 0.0), 1.0)))
    leans = math.atan2(crank.offset_mm, height)
    before, after = leans - half - crank.lean_rad, leans + half - crank.lean_rad
    return math.degrees(before), math.degrees(after)


def dwell_deg(crank: Crank, within_mm: float) -> float:
    """Over how many degrees does the piston stay within so little of its top [deg]?

    >>> round(dwell_deg(Crank(stroke_mm=45, rod_mm=84), 0.01), 2)
    3.03

    within_mm: 0 to `travel_mm`. Source: `angles_at`.
    """
    before, after = angles_at(crank, within_mm)
    return after - before


def _upright(rod_mm: float, side_mm: float) -> float:
    """How much of the rod stands along the cylinder when its lower end is so far to one side [mm]."""
    return math.sqrt((rod_mm - side_mm) * (rod_mm + side_mm))


def _halved(signed: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that falls through 0 between low and high is 0."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if signed(middle) > 0 else (low, middle)
    return (low + high) / 2
