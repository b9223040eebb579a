"""An uncertainty budget: each cause with what it adds, and all of them together."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fingertight.uncertainty.coverage import TWO_SIGMA, factor
from fingertight.uncertainty.standard import COVERAGE

Shape = Literal["normal", "rectangular", "triangular", "u-shaped"]


@dataclass(frozen=True, slots=True)
class Line:
    """One cause. `standard` is in the cause's own unit, `sensitivity` in units of the result per unit of the cause.

    dof: degrees of freedom, infinite where the figure is not taken from readings. shape: how its values are spread.
    note: what a person should know of it.
    """

    source: str
    standard: float
    sensitivity: float = 1.0
    dof: float = math.inf
    shape: Shape = "normal"
    note: str = ""

    @property
    def part(self) -> float:
        """What this cause alone adds to the uncertainty of the result [unit of the result]."""
        return abs(self.sensitivity * self.standard)


@dataclass(frozen=True, slots=True)
class Budget:
    """All causes of one result; `correlations` gives r for pairs of lines by their places, where it is not 0.

    >>> budget = Budget((Line("step", 3.0), Line("scatter", 4.0, dof=4)))
    >>> budget.standard, round(budget.dof, 1), round(budget.coverage, 2)
    (5.0, 9.8, 2.29)

    Source: GUM (JCGM 100:2008) 5.1.2, 5.2.2 and G.4.1 (Welch and Satterthwaite).
    """

    lines: tuple[Line, ...]
    correlations: Mapping[tuple[int, int], float] = field(default_factory=dict)
    standard: float = field(init=False, repr=False, compare=False)
    """The combined standard uncertainty u of the result [its unit]."""
    dof: float = field(init=False, repr=False, compare=False)
    """The effective degrees of freedom; infinite where no line is taken from few readings. Lines that hang together
    count as one, with the fewest any of them has: Welch and Satterthwaite hold for independent causes only."""

    def __post_init__(self) -> None:
        parts = [line.sensitivity * line.standard for line in self.lines]
        standard = math.hypot(*parts)
        freedoms = [line.dof for line in self.lines]
        if self.correlations:
            standard, parts, freedoms = self._hanging_together(parts, freedoms)
        spread = sum([part**4 / dof for part, dof in zip(parts, freedoms, strict=True) if dof != math.inf])
        object.__setattr__(self, "standard", standard)
        object.__setattr__(self, "dof", standard**4 / spread if spread and standard else math.inf)

    def _hanging_together(self, parts: list[float], freedoms: list[float]) -> tuple[float, list[float], list[float]]:
        """u with the correlations, and the parts with those that hang together taken as one."""
        square = math.fsum(part * part for part in parts)
        shared = math.fsum(2 * r * parts[one] * parts[other] for (one, other), r in self.correlations.items())
        places = {place for pair in self.correlations for place in pair}
        alone = [place for place in range(len(parts)) if place not in places]
        together = math.sqrt(max(math.fsum(parts[place] ** 2 for place in places) + shared, 0.0))
        return (
            math.sqrt(max(square + shared, 0.0)),
            [*(parts[place] for place in alone), together],
            [*(freedoms[place] for place in alone), min(freedoms[place] for place in places)],
        )

    @property
    def coverage(self) -> float:
        """The factor k for about 95 of 100 times: 2, or Student's t for 95.45 % where degrees of freedom are few."""
        dof = self.dof
        # What is as good as infinite is not looked up: 2 is meant.
        return COVERAGE if dof > 1e6 else factor(TWO_SIGMA, dof)

    @property
    def expanded(self) -> float:
        """The expanded uncertainty U = k·u [unit of the result]."""
        return self.coverage * self.standard

    def share(self, line: Line) -> float:
        """What part of the variance comes from this line, 0 to 1 (correlations left out)."""
        whole = math.fsum(each.part**2 for each in self.lines)
        return line.part**2 / whole if whole else 0.0

    def without(self, source: str) -> "Budget":
        """The same budget as if this cause were not there. Correlations are kept for the lines that stay.

        >>> Budget((Line("step", 3.0), Line("warmth", 4.0))).without("warmth").standard
        3.0
        """
        kept = [place for place, line in enumerate(self.lines) if line.source != source]
        moved = {old: new for new, old in enumerate(kept)}
        pairs = {
            (moved[one], moved[other]): r
            for (one, other), r in self.correlations.items()
            if one in moved and other in moved
        }
        return Budget(tuple(self.lines[place] for place in kept), pairs)
