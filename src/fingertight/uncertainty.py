"""How sure a reading is: limits and steps as standard uncertainties, combined and expanded (GUM, JCGM 100:2008)."""

import math
from collections.abc import Iterable

COVERAGE = 2.0


def of_limits(half_width: float) -> float:
    """The standard uncertainty of an error known only by its limits ±a: a / √3 [unit of a].

    >>> round(of_limits(0.005), 5)
    0.00289

    Source: GUM (JCGM 100:2008) 4.3.7, rectangular distribution.
    """
    return half_width / math.sqrt(3)


def of_resolution(step: float) -> float:
    """The standard uncertainty of reading to the nearest step d: d / √12 [unit of d].

    >>> round(of_resolution(0.01), 5)
    0.00289

    Source: GUM (JCGM 100:2008) F.2.2.1.
    """
    return step / math.sqrt(12)


def combined(standard: Iterable[float]) -> float:
    """Independent standard uncertainties together: the root of the sum of squares [their unit].

    >>> combined([3.0, 4.0])
    5.0

    Source: GUM (JCGM 100:2008) 5.1.2, sensitivities 1.
    """
    return math.hypot(*standard)


def expanded(standard: float, coverage: float = COVERAGE) -> float:
    """The expanded uncertainty U = k·u, with k = 2 for about 95 of 100 times [unit of u].

    >>> expanded(0.0041)
    0.0082

    Source: GUM (JCGM 100:2008) 6.2.1 and 6.3.3.
    """
    return coverage * standard
