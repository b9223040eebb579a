"""A straight line through readings, by least squares, and how sure it is at any place."""

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StraightLine:
    """y = intercept + slope · (x − origin), with the standard uncertainties of both and how they hang together.

    scatter: of a reading about the line [unit of y], with `dof` degrees of freedom.
    """

    origin: float
    intercept: float
    slope: float
    u_intercept: float
    u_slope: float
    correlation: float
    scatter: float
    dof: int

    def at(self, x: float) -> tuple[float, float]:
        """The line at x, and its standard uncertainty there [unit of y]."""
        away = x - self.origin
        square = (
            self.u_intercept**2
            + (away * self.u_slope) ** 2
            + 2 * away * self.u_intercept * self.u_slope * self.correlation
        )
        return self.intercept + self.slope * away, math.sqrt(max(square, 0.0))


def straight_line(x: Sequence[float], y: Sequence[float], origin: float = 0.0) -> StraightLine:
    """Which straight line fits these readings best?

    >>> line = straight_line([1, 2, 3, 4], [2.1, 3.9, 6.1, 7.9])
    >>> round(line.slope, 2), round(line.intercept, 2)
    (1.96, 0.1)

    Source: GUM (JCGM 100:2008) H.3.2, equations H.13a to H.13g.
    Raises ValueError for fewer than three readings, or all at one x.
    """
    if len(x) != len(y) or len(x) < 3:
        raise ValueError("a line with its uncertainty wants three readings or more")
    away = [one - origin for one in x]
    n = len(away)
    middle_x, middle_y = math.fsum(away) / n, math.fsum(y) / n
    square = math.fsum((one - middle_x) ** 2 for one in away)
    if square <= 0:
        raise ValueError("all readings are at one place: no line follows from them")
    slope = math.fsum((one - middle_x) * (other - middle_y) for one, other in zip(away, y, strict=True)) / square
    intercept = middle_y - slope * middle_x
    left = math.fsum((other - intercept - slope * one) ** 2 for one, other in zip(away, y, strict=True))
    scatter = math.sqrt(left / (n - 2))
    mean_square = math.fsum(one * one for one in away)
    u_slope = scatter / math.sqrt(square)
    u_intercept = scatter * math.sqrt(mean_square / (n * square))
    correlation = -math.fsum(away) / math.sqrt(n * mean_square) if mean_square else 0.0
    return StraightLine(origin, intercept, slope, u_intercept, u_slope, correlation, scatter, n - 2)
