"""The end gap of a piston ring: what it says of the bore, at each depth."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits, of_resolution


def gap_growth_mm(bore_growth_mm: float) -> float:
    """By how much does the gap open when the bore grows by so much? π times as much: the ring is as long as before.

    >>> round(gap_growth_mm(0.10), 3)
    0.314

    Source: the circumference of a circle. One army manual gives 0.08 mm of gap for 0.03 mm of bore: rounded from
    0.001 in.
    """
    return math.pi * bore_growth_mm


def bore_growth_mm(gap_growth: float) -> float:
    """By how much is the bore larger when the gap is larger by so much [mm]? 1/π of it.

    >>> round(bore_growth_mm(0.10), 4)
    0.0318

    Source: as `gap_growth_mm`.
    """
    return gap_growth / math.pi


@dataclass(frozen=True, slots=True)
class Taper:
    """What gaps at several depths say: by how much the bore is larger at each than at the smallest [mm], the taper, and
    its budget."""

    larger_mm: tuple[float, ...]
    taper_mm: float
    budget: Budget


def taper(gaps_mm: Sequence[float], step_mm: float, leaf_error_mm: float) -> Taper:
    """How much taper has the bore by the gaps of one ring at several depths? (largest − smallest) / π.

    gaps_mm: the thickest leaf that goes, at each depth. step_mm: to the next thicker leaf, which does not; the true gap
    lies anywhere between. leaf_error_mm: what a leaf may be off.

    >>> found = taper([0.45, 0.35, 0.30], step_mm=0.05, leaf_error_mm=0.004)
    >>> round(found.taper_mm, 4), round(found.budget.expanded, 3)
    (0.0477, 0.013)

    It holds for a ring pushed square with the piston; it says nothing of out-of-round. Source: geometry; GUM (JCGM
    100:2008) 5.1.2, F.2.2.1 (step) and 4.3.7 (limits). Raises ValueError for fewer than two depths.
    """
    if len(gaps_mm) < 2:
        raise ValueError("a taper wants two depths")
    smallest, largest = min(gaps_mm), max(gaps_mm)
    by = math.sqrt(2) / math.pi
    lines = (
        Line("between two leaves, at both depths", of_resolution(step_mm), by, shape="rectangular"),
        Line("thickness of the leaves", of_limits(leaf_error_mm), by, shape="rectangular"),
    )
    return Taper(
        tuple(round(bore_growth_mm(gap - smallest), 9) for gap in gaps_mm),
        bore_growth_mm(largest - smallest),
        Budget(lines),
    )


def gap_elsewhere_mm(gap_mm: float, measured_in_mm: float, bore_mm: float) -> float:
    """What is the gap of a ring in another bore than that it was measured in [mm]?

    >>> round(gap_elsewhere_mm(0.25, 68.0, 68.165), 3)
    0.768

    Source: as `gap_growth_mm`.
    """
    return gap_mm + gap_growth_mm(bore_mm - measured_in_mm)
