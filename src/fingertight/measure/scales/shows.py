"""What an instrument shows at a reading: the lines that are seen, the line that meets, and how they add up."""

import math
from dataclasses import dataclass

from fingertight.measure.scales.kinds import Scales

_GRAIN = 1e-6
"""A millionth of a step: what is left of the last digit after a division is none."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A reading taken apart. whole: of the main scale, sleeve or small hand [unit]; line: the line of thimble, dial or
    vernier that meets (or the last before the mark); tenth: the line of the sleeve's vernier, 0 without."""

    whole: float
    line: int
    tenth: int = 0


def steps_of(reading: float, scales: Scales) -> int:
    """The reading in steps of the instrument, to the nearest one.

    >>> from fingertight.measure.scales.kinds import KINDS
    >>> steps_of(17.384, KINDS["micrometer-0.01"])
    1738
    """
    return math.floor(reading / scales.step + 0.5 + _GRAIN)


def shown_at(reading: float, scales: Scales) -> Shown:
    """What stands where at this reading, to the nearest step?

    >>> from fingertight.measure.scales.kinds import KINDS
    >>> shown_at(17.38, KINDS["micrometer-0.01"])
    Shown(whole=17.0, line=38, tenth=0)
    >>> shown_at(17.88, KINDS["micrometer-0.01"])
    Shown(whole=17.5, line=38, tenth=0)
    >>> shown_at(34.62, KINDS["vernier-0.02"])
    Shown(whole=34.0, line=31, tenth=0)
    """
    steps = steps_of(reading, scales)
    tenths = scales.vernier or 1
    a_mark = scales.parts * tenths if scales.kind in {"micrometer", "vernier"} else scales.parts
    marks, rest = divmod(steps, a_mark)
    size = scales.mark if scales.kind in {"micrometer", "vernier"} else scales.step * scales.parts
    line, tenth = divmod(rest, tenths)
    return Shown(round(marks * size, 6), line, tenth)


def reading_of(shown: Shown, scales: Scales) -> float:
    """What these lines add up to [unit].

    >>> from fingertight.measure.scales.kinds import KINDS
    >>> reading_of(Shown(17.5, 38), KINDS["micrometer-0.01"])
    17.88
    """
    tenths = scales.vernier or 1
    return round(shown.whole + (shown.line * tenths + shown.tenth) * scales.step, 6)
