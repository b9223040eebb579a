"""What a dial says while a shaft turns under it: run-out, how far its middle is off, what is left of roundness."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

LEAST_FOR_MIDDLE = 6
"""So many readings evenly round say where the middle is and how well (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Middle:
    """The circle that fits best: how far its middle is off [as the readings], towards which angle from the first
    reading [deg], and what is left beside it, largest less smallest."""

    off: float
    towards_deg: float
    left: float


def run_out(readings: Sequence[float]) -> float:
    """The total run-out: the largest reading of a turn less the smallest [as the readings].

    >>> round(run_out([0.002, -0.003]), 4)
    0.005

    Source: an FAA powerplant knowledge test item (run-out of a crankshaft is the sum of both readings of the dial).
    """
    return max(readings) - min(readings)


def middle_of(readings: Sequence[float]) -> Middle:
    """Where is the middle, by readings evenly round one turn?

    Least squares of r(θ) = r₀ + e·cos(θ − φ); for angles evenly apart e·cos φ = 2/n Σ r cos θ, e·sin φ = 2/n Σ r sin θ.

    >>> found = middle_of([0.05 + 0.03 * math.cos(math.radians(45 * nth - 90)) for nth in range(8)])
    >>> round(found.off, 6), round(found.towards_deg, 3), round(found.left, 9)
    (0.03, 90.0, 0.0)

    Source: least squares circle for small eccentricity, ISO 12181-1; first harmonic of the readings.
    """
    count, mean = len(readings), sum(readings) / len(readings)
    angles = [2 * math.pi * nth / count for nth in range(count)]
    east = 2 / count * sum(read * math.cos(angle) for read, angle in zip(readings, angles, strict=True))
    north = 2 / count * sum(read * math.sin(angle) for read, angle in zip(readings, angles, strict=True))
    left = [
        read - mean - east * math.cos(angle) - north * math.sin(angle)
        for read, angle in zip(readings, angles, strict=True)
    ]
    towards = math.degrees(math.atan2(north, east)) % 360
    return Middle(math.hypot(east, north), towards, max(left) - min(left))
