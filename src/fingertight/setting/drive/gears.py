"""Trains of wheels: ratio, speeds, torque, which way the last one turns, and which teeth meet again."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

Kind = Literal["gears", "ring gear", "chain", "belt"]

KEEPS: dict[str, tuple[float, float]] = {
    "gears": (0.95, 0.99),
    "ring gear": (0.95, 0.99),
    "chain": (0.94, 0.98),
    "belt": (0.90, 0.97),
}
"""Which share of the torque one mesh passes on, at least and at most: common practice, no source; a gearbox maker’s
page has 1 % lost in each stage."""


@dataclass(frozen=True, slots=True)
class Stage:
    """Wheels in one line, by their teeth, the driver first: those between are idlers. A chain or a toothed belt links
    two; of a ring gear the last has its teeth inside. Raises ValueError for less than two wheels or no teeth."""

    teeth: tuple[int, ...]
    kind: Kind = "gears"

    def __post_init__(self) -> None:
        """Refuse what is no stage."""
        if len(self.teeth) < 2 or min(self.teeth) < 1:
            raise ValueError("a stage has two wheels with teeth")
        if self.kind != "gears" and len(self.teeth) > 2:
            raise ValueError("chain, belt and ring gear link two wheels")

    @property
    def ratio(self) -> float:
        """Turns of the first wheel for one of the last: idlers do not count.

        >>> Stage((20, 60, 10)).ratio
        0.5
        """
        return self.teeth[-1] / self.teeth[0]

    @property
    def reverses(self) -> bool:
        """Whether the last wheel turns the other way than the first.

        >>> Stage((18, 36)).reverses, Stage((20, 60, 10)).reverses, Stage((18, 36), "chain").reverses
        (True, False, False)
        """
        return self.kind == "gears" and len(self.teeth) % 2 == 0

    @property
    def keeps(self) -> tuple[float, float]:
        """Which share of the torque it passes on, at least and at most: once for each mesh."""
        low, high = KEEPS[self.kind]
        meshes = len(self.teeth) - 1 if self.kind == "gears" else 1
        return low**meshes, high**meshes


@dataclass(frozen=True, slots=True)
class Train:
    """Stages one after the other, each driver on the shaft of the wheel before it."""

    stages: tuple[Stage, ...]

    @property
    def ratio(self) -> float:
        """Turns of the first shaft for one of the last.

        >>> Train((Stage((20, 50)), Stage((25, 75)), Stage((26, 65)))).ratio
        18.75

        Source: product of driven by product of drivers; checked against published exercises.
        """
        return math.prod(stage.teeth[-1] for stage in self.stages) / math.prod(stage.teeth[0] for stage in self.stages)

    @property
    def reverses(self) -> bool:
        """Whether the last shaft turns the other way than the first."""
        return sum(stage.reverses for stage in self.stages) % 2 == 1

    def speeds(self, per_min: float) -> tuple[float, ...]:
        """The speed of each shaft, the first included [1/min], minus: the other way than the first.

        >>> Train((Stage((120, 40)), Stage((80, 20)))).speeds(30)
        (30, -90.0, 360.0)
        """
        found = [per_min]
        for stage in self.stages:
            found.append(found[-1] / stage.ratio * (-1 if stage.reverses else 1))
        return tuple(found)

    def torque_nm(self, first_nm: float, keeps: float = 1.0) -> float:
        """The torque of the last shaft [N·m] when this share of it is passed on in all.

        >>> round(Train((Stage((10, 38)),)).torque_nm(500, 0.9))
        1710
        """
        return first_nm * self.ratio * keeps

    @property
    def keeps(self) -> tuple[float, float]:
        """Which share of the torque all stages pass on, at least and at most."""
        return (
            math.prod(stage.keeps[0] for stage in self.stages),
            math.prod(stage.keeps[1] for stage in self.stages),
        )


def meet_again(driver: int, driven: int) -> int:
    """After how many turns of the driver do the same two teeth meet again? driven / greatest common factor.

    >>> meet_again(11, 25), meet_again(11, 33), meet_again(11, 30)
    (25, 3, 30)

    With no common factor every tooth meets every other: a *hunting* pair, which wears evenly. Source: least common
    multiple; checked against a gear maker’s book (a page of toys has 17 where it is 25).
    """
    return driven // math.gcd(driver, driven)


def hunts(teeth: Sequence[int]) -> bool:
    """Whether every tooth meets every other, in each mesh of this stage.

    >>> hunts((49, 24)), hunts((18, 36))
    (True, False)
    """
    return all(math.gcd(one, other) == 1 for one, other in pairwise(teeth))
