"""Coverage factors, and how likely it is to lie beyond: normal, or Student's t where the scatter is itself unsure."""

import math
from collections.abc import Callable
from functools import cache
from statistics import NormalDist

TWO_SIGMA = 0.9545
"""The share of a normal distribution within two standard deviations; k = 2 is chosen for it."""

_NORMAL = NormalDist()


@cache
def _students() -> tuple[Callable[[float, float], float], Callable[[float, float], float]]:
    """Student's t, its share below and where that is reached: read only where degrees of freedom are few."""
    from scipy.special import stdtr, stdtrit

    return stdtr, stdtrit


def factor(share: float, dof: float = math.inf) -> float:
    """How many standard uncertainties hold this share of all cases, as much on either side?

    share: above 0, below 1. dof: degrees of freedom, infinite for a normal distribution.

    >>> round(factor(0.95), 2), round(factor(0.95, 4), 2)
    (1.96, 2.78)

    Source: GUM (JCGM 100:2008) table G.2, NIST Technical Note 1297 table B.1.
    Raises ValueError for a share that is none, or no degrees of freedom.
    """
    if not 0 < share < 1:
        raise ValueError("the share must lie between 0 and 1")
    if not dof > 0:
        raise ValueError("without degrees of freedom nothing can be said")
    upper = (1 + share) / 2
    if math.isinf(dof):
        return _NORMAL.inv_cdf(upper)
    return float(_students()[1](dof, upper))


def below(distance: float, dof: float = math.inf) -> float:
    """The chance that the truth lies less than so many standard uncertainties above the estimate.

    >>> round(below(1.4), 2)
    0.92

    Source: JCGM 106:2012, 7.2 and 7.3 (normal distribution); t for few degrees of freedom, GUM (JCGM 100:2008) G.3.
    """
    if math.isinf(dof):
        return _NORMAL.cdf(distance)
    return float(_students()[0](dof, distance))


def distance(chance: float, dof: float = math.inf) -> float:
    """How many standard uncertainties inside a limit give this chance of conforming (one limit)?

    >>> round(distance(0.95), 2)
    1.64

    Source: JCGM 106:2012 table 1 (normal distribution); t for few degrees of freedom, GUM (JCGM 100:2008) G.3.
    """
    return _NORMAL.inv_cdf(chance) if math.isinf(dof) else float(_students()[1](dof, chance))
