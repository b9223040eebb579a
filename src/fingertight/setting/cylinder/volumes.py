"""Volumes of a cylinder: what the piston sweeps, what is left above it, their ratio and how sure that is."""

import math
from dataclasses import dataclass, replace

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits
from fingertight.uncertainty.together import through

KAPPA = 1.4
"""Ratio of the specific heats of air."""


def disc_ml(diameter_mm: float, height_mm: float) -> float:
    """The volume of a disc or cylinder, π/4 · d² · h [ml].

    >>> round(disc_ml(68, 54), 1)
    196.1
    """
    return math.pi / 4 * diameter_mm * diameter_mm * height_mm / 1000


@dataclass(frozen=True, slots=True)
class Cylinder:
    """One cylinder as measured.

    chamber_ml: in the head, plug in and valves shut. gasket_mm: thickness when tightened; gasket_bore_mm: its hole, 0:
    as the bore. deck_mm: how far the piston stays below the face of the cylinder at its top, minus: how far it stands
    out. crown_ml: what a dish in the piston adds, minus: what a dome takes.
    """

    bore_mm: float
    stroke_mm: float
    chamber_ml: float
    gasket_mm: float = 0.0
    gasket_bore_mm: float = 0.0
    deck_mm: float = 0.0
    crown_ml: float = 0.0

    @property
    def swept_ml(self) -> float:
        """What the piston sweeps [ml]: π/4 · bore² · stroke."""
        return disc_ml(self.bore_mm, self.stroke_mm)

    @property
    def gasket_ml(self) -> float:
        """What the gasket holds [ml]."""
        return disc_ml(self.gasket_bore_mm or self.bore_mm, self.gasket_mm)

    @property
    def deck_ml(self) -> float:
        """What lies between piston and face at the top [ml]; minus where the piston stands out."""
        return disc_ml(self.bore_mm, self.deck_mm)

    @property
    def clearance_ml(self) -> float:
        """All that is left above the piston at its top [ml]."""
        return self.chamber_ml + self.gasket_ml + self.deck_ml + self.crown_ml

    @property
    def ratio(self) -> float:
        """The compression ratio: all of it by what is left, (swept + clearance) / clearance.

        >>> round(Cylinder(68, 45, 21.5).ratio, 2)
        8.6

        Source: FAA, powerplant knowledge test; checked against published examples (tests/outside/setting.toml).
        Raises ValueError when nothing is left.
        """
        if not self.clearance_ml > 0:
            raise ValueError("nothing is left above the piston")
        return 1 + self.swept_ml / self.clearance_ml


def clearance_for_ml(swept_ml: float, ratio: float) -> float:
    """What must be left above the piston for this ratio [ml]? swept / (ratio − 1).

    >>> round(clearance_for_ml(163.4, 8.5), 2)
    21.79

    Source: the definition turned round. Raises ValueError for a ratio of 1 or less.
    """
    if not ratio > 1:
        raise ValueError("a ratio is more than 1")
    return swept_ml / (ratio - 1)


def milled(cylinder: Cylinder, by_mm: float, face_mm2: float) -> Cylinder:
    """The same cylinder when so much is milled off its head (minus: a thicker gasket); face_mm2: how large the hole in
    the face of the head is.

    >>> round(milled(Cylinder(68, 45, 21.5), 0.1, 3632).ratio, 2)
    8.73

    It holds while the chamber’s walls stand square to the face over what is milled.
    Raises ValueError when more is milled off than there is.
    """
    left = cylinder.chamber_ml - by_mm * face_mm2 / 1000
    if left <= 0:
        raise ValueError("more is milled off than the chamber is deep")
    return replace(cylinder, chamber_ml=left)


def to_mill_mm(cylinder: Cylinder, ratio: float, face_mm2: float) -> float:
    """How much must be milled off the head for this ratio [mm]? Minus: so much thicker a gasket.

    >>> round(to_mill_mm(Cylinder(68, 45, 21.5), 9, 3632), 2)
    0.3

    Source: `clearance_for_ml`. Raises ValueError for a ratio of 1 or less.
    """
    return (cylinder.clearance_ml - clearance_for_ml(cylinder.swept_ml, ratio)) * 1000 / face_mm2


@dataclass(frozen=True, slots=True)
class Errors:
    """How far each may be off, to either side: lengths by caliper or micrometer [mm], oil by burette [ml]."""

    bore_mm: float = 0.02
    length_mm: float = 0.05
    oil_ml: float = 0.2


def ratio_budget(cylinder: Cylinder, errors: Errors) -> Budget:
    """How sure is the ratio, and which volume makes it so?

    >>> budget = ratio_budget(Cylinder(68, 45, 21.5), Errors())
    >>> round(budget.expanded, 2), max(budget.lines, key=budget.share).source
    (0.08, 'chamber')

    Every figure may lie anywhere within its limits. Source: GUM (JCGM 100:2008) 4.3.7, 5.1.4 note 2.
    """
    at = (
        cylinder.bore_mm, cylinder.stroke_mm, cylinder.chamber_ml, cylinder.gasket_mm,
        cylinder.gasket_bore_mm or cylinder.bore_mm, cylinder.deck_mm, cylinder.crown_ml,
    )  # fmt: skip
    lines = [
        Line("bore", of_limits(errors.bore_mm), shape="rectangular"),
        Line("stroke", of_limits(errors.length_mm), shape="rectangular"),
        Line("chamber", of_limits(errors.oil_ml), shape="rectangular"),
    ]
    # What is not there is not unsure: no gasket given means the chamber was filled with it on.
    lines += [
        Line("gasket, thickness", of_limits(errors.length_mm) if cylinder.gasket_mm else 0.0, shape="rectangular"),
        Line("gasket, hole", of_limits(10 * errors.length_mm) if cylinder.gasket_mm else 0.0, shape="rectangular"),
        Line("deck height", of_limits(errors.length_mm) if cylinder.deck_mm else 0.0, shape="rectangular"),
        Line("piston crown", of_limits(errors.oil_ml) if cylinder.crown_ml else 0.0, shape="rectangular"),
    ]
    return through(lambda *typed: Cylinder(*typed).ratio, at, lines)[1]


def otto_efficiency(ratio: float, kappa: float = KAPPA) -> float:
    """The efficiency of the ideal Otto cycle, for comparison: 1 − r^(1 − κ).

    >>> round(otto_efficiency(8), 3), round(otto_efficiency(6), 3)
    (0.565, 0.512)

    No engine reaches it: a small one turns a quarter of its fuel into work. Source: any text on the Otto cycle;
    checked against published values. Raises ValueError for a ratio of 1 or less.
    """
    if not ratio > 1:
        raise ValueError("a ratio is more than 1")
    return float(1 - ratio ** (1 - kappa))
