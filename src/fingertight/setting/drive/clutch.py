"""The centrifugal clutch: shoes on springs, flung against a drum."""

import math
from dataclasses import dataclass, replace

DRY, IN_OIL = 0.30, 0.10
"""Friction of a lining on its drum, dry and in oil: common practice, no source; exercises have 0.25 to 0.4."""


def _rad_s(per_min: float) -> float:
    return per_min * math.tau / 60


@dataclass(frozen=True, slots=True)
class Clutch:
    """Like shoes that slide outwards, each pulled in by its spring.

    mass_g: of one shoe with its lining. radius_mm: from the shaft’s middle to the middle of the shoe’s mass, at rest.
    drum_mm: inside diameter. spring_n: how strong each shoe is pulled in at rest; rate_n_mm: how much more for each
    millimetre outwards; travel_mm: how far the lining is from the drum at rest.
    Raises ValueError for what no clutch has.
    """

    shoes: int
    mass_g: float
    radius_mm: float
    drum_mm: float
    friction: float
    spring_n: float
    rate_n_mm: float = 0.0
    travel_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        sizes = (self.mass_g, self.radius_mm, self.drum_mm, self.friction)
        if self.shoes < 1 or min(sizes) <= 0 or min(self.spring_n, self.rate_n_mm, self.travel_mm) < 0:
            raise ValueError("mass, radius, drum and friction are above 0, springs and travel 0 or more")
        if self.touching_mm >= self.drum_mm / 2:
            raise ValueError("the middle of the shoe’s mass lies inside the drum")

    @property
    def touching_mm(self) -> float:
        """The radius of the shoe’s mass when it touches the drum [mm]."""
        return self.radius_mm + self.travel_mm

    @property
    def pulled_in_n(self) -> float:
        """The pull of one spring when its shoe touches the drum [N]."""
        return self.spring_n + self.rate_n_mm * self.travel_mm

    @property
    def moves_per_min(self) -> float:
        """The speed at which the shoes leave their stops [1/min]: m ω² r = spring.

        >>> round(Clutch(3, 5000, 200, 600, 0.3, 200).moves_per_min)
        135
        """
        return self._speed_for(self.spring_n, self.radius_mm)

    @property
    def touches_per_min(self) -> float:
        """The speed at which they touch the drum: there it begins to carry [1/min].

        Where the spring’s pull grows slower than the fling, a shoe that has left its stop goes all the way at once.
        """
        return self._speed_for(self.pulled_in_n, self.touching_mm)

    @property
    def engages_per_min(self) -> float:
        """The speed at which it begins to carry on the way up [1/min]: not before the shoes have left their stops."""
        return max(self.moves_per_min, self.touches_per_min)

    def _speed_for(self, pull_n: float, radius_mm: float) -> float:
        return math.sqrt(pull_n / (self.mass_g / 1000 * radius_mm / 1000)) * 60 / math.tau

    def press_n(self, per_min: float) -> float:
        """How strong one shoe presses on the drum [N]: m ω² r − spring, 0 where it does not touch.

        >>> round(Clutch(4, 6000, 150, 500, 0.35, 700, 75, 10).press_n(400), 1)
        234.4
        """
        flung = self.mass_g / 1000 * _rad_s(per_min) ** 2 * self.touching_mm / 1000
        return max(flung - self.pulled_in_n, 0.0)

    def torque_nm(self, per_min: float) -> float:
        """What it carries before it slips [N·m]: shoes · friction · press · drum radius.

        >>> round(Clutch(4, 1866, 75, 200, 0.3, 552.5).torque_nm(1200), 1)
        198.9

        The shoes slide straight outwards; pivoted shoes that lead grip more and those that trail less, which is not
        reckoned here. Source: textbooks of machine design; checked against published exercises.
        """
        return self.shoes * self.friction * self.press_n(per_min) * self.drum_mm / 2000

    def power_kw(self, per_min: float) -> float:
        """What it passes on at this speed before it slips [kW].

        >>> round(Clutch(4, 6000, 150, 500, 0.35, 700, 75, 10).power_kw(400), 2)
        3.44
        """
        return self.torque_nm(per_min) * _rad_s(per_min) / 1000

    def speed_for(self, torque_nm: float) -> float:
        """From which speed on does it carry this torque [1/min]?

        >>> clutch = Clutch(4, 1866, 75, 200, 0.3, 552.5)
        >>> round(clutch.speed_for(clutch.torque_nm(1000)))
        1000
        """
        press = torque_nm / (self.shoes * self.friction * self.drum_mm / 2000)
        return max(self._speed_for(self.pulled_in_n + press, self.touching_mm), self.moves_per_min)

    def worn(self, lining_mm: float) -> "Clutch":
        """The same when so much of the lining is gone: the shoe goes further, its spring pulls more; what the lost
        lining weighed is left out."""
        return replace(self, travel_mm=self.travel_mm + lining_mm)

    def with_springs(self, share: float) -> "Clutch":
        """The same with springs that pull this share of what they did, 0.9 for a tenth less."""
        return replace(self, spring_n=self.spring_n * share, rate_n_mm=self.rate_n_mm * share)


def ring_spring_n(tension_n: float, shoes: int) -> float:
    """How strong is each shoe pulled in by one spring that goes round all of them? 2 · T · sin(180° / n).

    >>> round(ring_spring_n(100, 3), 1)
    173.2

    Source: two pulls along the sides of a regular polygon: statics. Raises ValueError for fewer than two shoes.
    """
    if shoes < 2:
        raise ValueError("a spring goes round two shoes or more")
    return 2 * tension_n * math.sin(math.pi / shoes)
