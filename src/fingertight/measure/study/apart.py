"""Who stands apart: whose mean lies further from the others' than chance allows, whose readings scatter more."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fingertight.measure.study.anova import chance_of_f
from fingertight.uncertainty.coverage import below

SURE = 0.05
"""The chance that anybody at all is said to stand apart where nobody does."""


@dataclass(frozen=True, slots=True)
class Hands:
    """How one person compares with the others. by: their mean less the others' [unit], or their scatter through the
    others'. chance: of so much by chance alone, reckoned for all people together. apart: less than 1 in 20."""

    by: float
    chance: float
    apart: bool


@dataclass(frozen=True, slots=True)
class Compared:
    """Everybody against the others. split: so many differ that nobody can be called the odd one (always so of two)."""

    hands: tuple[Hands, ...]
    split: bool

    @property
    def apart(self) -> tuple[int, ...]:
        """The places of those who stand apart."""
        return tuple(place for place, one in enumerate(self.hands) if one.apart)


def means_apart(means: Sequence[float], counts: Sequence[int], square: float, dof: int) -> Compared:
    """Whose mean stands apart from that of the others?

    t = (x̄ᵢ − mean of the others) / √(s² (1/nᵢ + Σ 1/nⱼ / m²)), the furthest first and then left out, so that one far
    mean does not make its neighbours far; each t counts times the number of people (Bonferroni), so that all of them
    together are wrong in 5 of 100 studies. means: of two people or more [unit]; counts: readings behind each; square:
    s², what a reading scatters by [unit²], with its degrees of freedom.

    >>> means_apart([68.15, 68.151, 68.149, 68.17], [6] * 4, 0.002**2, 20).apart
    (3,)

    Source: Student's t with Bonferroni's inequality; the stepping as Cochran's test has it in ISO 5725-2:1994, 7.3.3.
    Raises ValueError for one person, or where nothing scatters.
    """
    if len(means) < 2 or square <= 0 or dof < 1:
        raise ValueError("two people are the least, and their readings must scatter")

    def against(place: int, others: Sequence[int]) -> tuple[float, float]:
        by = means[place] - math.fsum(means[other] for other in others) / len(others)
        doubt = square * (1 / counts[place] + math.fsum(1 / counts[other] for other in others) / len(others) ** 2)
        return by, 2 * below(-abs(by) / math.sqrt(doubt), dof)

    # Of two people the one comparison is the same seen from either side.
    return _stepped(len(means), against, abs, len(means) if len(means) > 2 else 1)


def scatters_apart(squares: Sequence[float], dofs: Sequence[int]) -> Compared:
    """Whose readings scatter more than those of the others?

    F = sᵢ² / mean of the others' s², the largest first and then left out; each counts times the number of people. With
    as many readings everywhere this is Cochran's test: C = sᵢ² / Σ s² is critical where F is. squares: each person's
    variance [unit²], with its degrees of freedom; two people or more.

    >>> scatters_apart([1e-6, 2e-6, 1.5e-6, 40e-6], [4] * 4).apart
    (3,)

    Steadier hands than the others' are no fault, and are not looked for.
    Source: Cochran's test, ISO 5725-2:1994, 7.3.3; by way of F for unequal numbers of readings.
    Raises ValueError for one person, or where nothing scatters.
    """
    if len(squares) < 2 or not any(squares) or min(dofs) < 1:
        raise ValueError("two people are the least, each with a scatter")

    def against(place: int, others: Sequence[int]) -> tuple[float, float]:
        freedom = sum(dofs[other] for other in others)
        beside = math.fsum(squares[other] * dofs[other] for other in others) / freedom
        if beside <= 0:
            return (math.inf, 0.0) if squares[place] > 0 else (1.0, 1.0)
        ratio = squares[place] / beside
        return math.sqrt(ratio), chance_of_f(ratio, dofs[place], freedom)

    return _stepped(len(squares), against, lambda by: by, len(squares))


def _stepped(
    people: int,
    against: Callable[[int, Sequence[int]], tuple[float, float]],
    far: Callable[[float], float],
    looks: int,
) -> Compared:
    """The furthest against all that are left, and out with them while that is no chance; in the end two always stay.

    looks: how many chances there are to be wrong.
    """
    left, out, chances = list(range(people)), list[int](), dict[int, float]()

    def of(place: int) -> tuple[float, float]:
        by, chance = against(place, [other for other in left if other != place])
        return by, min(chance * looks, 1.0)

    while len(left) > 2:
        furthest = max(left, key=lambda place: (far(of(place)[0]), -place))
        chance = of(furthest)[1]
        if chance >= SURE:
            break
        left.remove(furthest)
        out.append(furthest)
        chances[furthest] = chance
    still = len(left) == 2 and any(of(place)[1] < SURE for place in left)
    split = still or 2 * len(out) >= people
    hands = []
    for place in range(people):
        by, chance = of(place)
        hands.append(Hands(by, chances.get(place, chance), place in out and not split))
    return Compared(tuple(hands), split)
