"""The threads of the published series, with the basic sizes that follow from diameter and pitch."""

import math
import re
from functools import cache
from typing import NamedTuple

from fingertight.quantity import plain
from fingertight.tighten.tables import rows

INCH_MM = 25.4
SERIES: dict[str, str] = {
    "coarse": "ISO metric, coarse pitch",
    "fine": "ISO metric, fine pitch",
    "UNC": "Unified coarse (UNC)",
    "UNF": "Unified fine (UNF)",
    "BSW": "British Standard Whitworth (BSW)",
    "G": "ISO pipe thread, parallel (G)",
}


class Thread(NamedTuple):
    """A thread of a published series, with the basic sizes that follow from its diameter and pitch.

    ISO and Unified threads have the 60° profile of ISO 68-1, BSW and G the 55° Whitworth profile.
    """

    name: str
    size: str
    series: str
    diameter_mm: float
    pitch_mm: float

    @property
    def _depth(self) -> tuple[float, float, float]:
        """How far pitch, nut minor and bolt root diameter lie below the diameter, in pitches."""
        if self.series in {"BSW", "G"}:
            return 0.640327, 1.280654, 1.280654  # BS 84: depth 0.640327 P, the same for bolt and nut
        # ISO 724: H = 0.866025 P; d − 3/4 H, d − 5/4 H, d − 17/12 H
        height = math.sqrt(3) / 2
        return 0.75 * height, 1.25 * height, 17 / 12 * height

    @property
    def flank_angle_deg(self) -> int:
        """Angle between the flanks [deg]: 60 for ISO and Unified threads (ISO 68-1, ASME B1.1), 55 by BS 84 (BSW, G).

        >>> threads()["M6"].flank_angle_deg, threads()["G1/8"].flank_angle_deg
        (60, 55)
        """
        return 55 if self.series in {"BSW", "G"} else 60

    @property
    def threads_per_inch(self) -> float:
        """How many threads there are to the inch: 25.4 / P.

        >>> round(threads()["M6"].threads_per_inch, 1), threads()["1/4-20 UNC"].threads_per_inch
        (25.4, 20.0)
        """
        return round(INCH_MM / self.pitch_mm, 6)

    @property
    def pitch_diameter_mm(self) -> float:
        """Basic pitch diameter d2 [mm]: d − 0.6495 P for 60° threads (ISO 724, ASME B1.1).

        >>> round(threads()["M6"].pitch_diameter_mm, 3)
        5.35
        """
        return self.diameter_mm - self._depth[0] * self.pitch_mm

    @property
    def minor_internal_mm(self) -> float:
        """Basic minor diameter D1 of the nut thread [mm]: d − 1.0825 P for 60° threads (ISO 724, ASME B1.1).

        >>> round(threads()["M6"].minor_internal_mm, 3)
        4.917
        """
        return self.diameter_mm - self._depth[1] * self.pitch_mm

    @property
    def minor_external_mm(self) -> float:
        """Diameter d3 at the root of the bolt thread [mm]: d − 1.2269 P for 60° threads (ISO 724).

        >>> round(threads()["M6"].minor_external_mm, 3)
        4.773
        """
        return self.diameter_mm - self._depth[2] * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """Nominal tensile stress area [mm²] of a bolt.

        ISO 898-1 (ISO threads; here also BSW and G): π/4 · ((d2 + d3)/2)². ASME B1.1 (UNC, UNF): π/4 · (d − 0.9743 P)²,
        at most 2.2 % less for the same diameter and pitch.

        >>> round(threads()["M8"].stress_area_mm2, 1), round(threads()["1/4-20 UNC"].stress_area_mm2, 1)
        (36.6, 20.5)
        """
        if self.series in {"UNC", "UNF"}:
            return math.pi / 4 * (self.diameter_mm - 0.9743 * self.pitch_mm) ** 2
        return math.pi / 4 * ((self.pitch_diameter_mm + self.minor_external_mm) / 2) ** 2


@cache
def threads() -> dict[str, Thread]:
    """Every thread of the tables under its name, as they stand there.

    >>> threads()["M8x1"].pitch_mm
    1.0
    """
    found = []
    for row in rows("iso-261.csv"):
        size, pitch = f"M{plain(float(row['diameter_mm']))}", float(row["pitch_mm"])
        name = size if row["series"] == "coarse" else f"{size}x{plain(pitch)}"
        found.append(Thread(name, size, row["series"], float(row["diameter_mm"]), pitch))
    for row in [*rows("asme-b1.1.csv"), *rows("bs-84.csv")]:
        per_inch, size = row["threads_per_inch"], row["size"]
        diameter, pitch = float(row["diameter_in"]) * INCH_MM, INCH_MM / float(per_inch)
        found.append(Thread(f"{size}-{per_inch} {row['series']}", size, row["series"], diameter, pitch))
    for row in rows("iso-228-1.csv"):
        pitch = INCH_MM / float(row["threads_per_inch"])
        found.append(Thread(f"G{row['size']}", row["size"], "G", float(row["diameter_mm"]), pitch))
    return {thread.name: thread for thread in found}


def spaced(size: str) -> str:
    """A size in inches with one space before its fraction.

    >>> spaced("1-1/4"), spaced("3/8 ")
    ('1 1/4', '3/8')
    """
    return re.sub(r"\s*[ -]\s*(?=[0-9]+/)", " ", size.strip())
