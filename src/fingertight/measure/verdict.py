"""Good, worn, or too close to call: a size against its limits, with its uncertainty."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

from fingertight.uncertainty.coverage import below, distance

if TYPE_CHECKING:
    from fingertight.uncertainty.budget import Budget


class Word(StrEnum):
    """The three verdicts."""

    GOOD = "good"
    WORN = "worn"
    CLOSE = "too close to call"


@dataclass(frozen=True, slots=True)
class Verdict:
    """A verdict, the value it rests on, how far inside the limit that is (negative: past it), and the uncertainty U."""

    word: Word
    worst: float
    margin: float
    uncertainty: float


def judged(value: float, smallest: float | None, largest: float | None, uncertainty: float = 0.0) -> Verdict:
    """Is this size within its limits, past them, or too near to tell?

    good: the whole interval value ± U lies within the limits; worn: the whole interval lies past one; else too close.
    `uncertainty` is U, expanded with k = 2; all in one unit. A size exactly on its limit with U = 0 is good.

    >>> judged(68.071, None, 68.165, 0.008).word.value
    'good'
    >>> judged(68.160, None, 68.165, 0.008).word.value
    'too close to call'

    Source: decision rule of ISO 14253-1:2017 (conformity and nonconformity each proven with U), JCGM 106:2012 clause 8.
    Raises ValueError when there is no limit to judge by.
    """
    margins = []
    if largest is not None:
        margins.append(largest - value)
    if smallest is not None:
        margins.append(value - smallest)
    if not margins:
        raise ValueError("there is no limit to judge by")
    margin = min(margins)
    # What is left of the last digit after a subtraction of two readings is no evidence of wear.
    grain = 1e-9 * max(1.0, abs(value))
    if margin >= uncertainty - grain:
        word = Word.GOOD
    elif margin < -uncertainty - grain:
        word = Word.WORN
    else:
        word = Word.CLOSE
    return Verdict(word, value, margin, uncertainty)


def sternest(verdicts: list[Verdict]) -> Verdict:
    """Of several verdicts on one check the one that decides: worn before too close before good; among equals the first.

    >>> sternest([judged(1, None, 2), judged(3, None, 2)]).word.value
    'worn'
    """
    rank = {Word.WORN: 0, Word.CLOSE: 1, Word.GOOD: 2}
    return min(verdicts, key=lambda verdict: rank[verdict.word])


def chance_good(
    value: float, smallest: float | None, largest: float | None, standard: float, dof: float = math.inf
) -> float:
    """How likely is it that the true size lies within the limits, by this measurement alone? 0 to 1.

    p = Φ((largest − value) / u) − Φ((smallest − value) / u), with Student's t where degrees of freedom are few; nothing
    is supposed of the parts beforehand. Called good it is wrong with 1 − p, called worn with p.
    `standard`: u [unit of the value]; 0 gives 0 or 1.

    >>> round(chance_good(-5.47, None, -5.40, 0.05), 2)
    0.92

    Source: JCGM 106:2012, 7.2 to 7.4.
    """
    if standard <= 0:
        inside = (largest is None or value <= largest) and (smallest is None or value >= smallest)
        return 1.0 if inside else 0.0
    above = below((largest - value) / standard, dof) if largest is not None else 1.0
    under = below((smallest - value) / standard, dof) if smallest is not None else 0.0
    return max(above - under, 0.0)


def guard_band(conformance: float = 0.95, coverage: float = 2.0, dof: float = math.inf) -> float:
    """How far inside its limit must a size be read to be proven good so surely? In expanded uncertainties U = k·u.

    >>> round(guard_band(), 2)
    0.82

    Source: ISO 14253-1:2017 (95 % unless agreed otherwise), ILAC-G8:09/2019; JCGM 106:2012, 8.3.
    """
    return distance(conformance, dof) / coverage


@dataclass(frozen=True, slots=True)
class Rule:
    """A way to decide: how far inside its limit a size must be read, in U, and how often it is then wrong at most."""

    name: str
    guard: float
    wrong_at_most: float
    source: str


RULES = (
    Rule("as it reads, no guard band", 0.0, 0.5, "ILAC-G8:09/2019, simple acceptance"),
    Rule("95 of 100 sure", guard_band(), 0.05, "ISO 14253-1:2017, unless agreed otherwise"),
    Rule("the whole of U", 1.0, 1 - below(2.0), "ILAC-G8:09/2019; the rule here"),
)


def cannot_judge(
    smallest: float | None, largest: float | None, new: tuple[float, float] | None, uncertainty: float
) -> bool:
    """Is the uncertainty so large that nothing could be called good, whatever is read?

    So it is when no size ± U lies within both limits; with one limit, when not even the new size farthest from it does.

    >>> cannot_judge(None, 68.165, (68.0, 68.015), 0.2), cannot_judge(9.99, 10.01, None, 0.02)
    (True, True)

    Source: ISO 14253-1:2017 (where the zone of conformity vanishes); JCGM 106:2012, 8.3.2.
    """
    if smallest is not None and largest is not None:
        return 2 * uncertainty > largest - smallest
    if new is None:
        return False
    room = largest - min(new) if largest is not None else max(new) - (smallest if smallest is not None else min(new))
    return uncertainty > room


@dataclass(frozen=True, slots=True)
class Parts:
    """How the true sizes of many parts are spread: their density, and the sizes between which nearly all lie."""

    density: Callable[[float], float]
    low: float
    high: float

    @classmethod
    def normal(cls, mean: float, deviation: float) -> "Parts":
        """Sizes that scatter about a mean, as many above it as below."""
        scale = 1 / (deviation * math.sqrt(2 * math.pi))
        return cls(
            lambda size: scale * math.exp(-0.5 * ((size - mean) / deviation) ** 2),
            mean - _REACH * deviation,
            mean + _REACH * deviation,
        )


@dataclass(frozen=True, slots=True)
class Risks:
    """Over many parts, of all of them: worn ones that pass, good ones refused, and both that are left undecided."""

    passed_though_worn: float
    refused_though_good: float
    undecided_though_worn: float
    undecided_though_good: float

    @property
    def undecided(self) -> float:
        """All that are left undecided."""
        return self.undecided_though_worn + self.undecided_though_good


_REACH, _STEPS = 8.0, 400


def risks(
    limit: float | None,
    spread: tuple[float, float] | Parts,
    standard: float,
    guard: float = 0.0,
    *,
    smallest: float | None = None,
) -> Risks:
    """What does a rule do to a heap of parts whose sizes are spread so?

    A part passes when it is read `guard` or more inside its limits, is refused when read as far past one, and is
    undecided between. limit: the largest size; spread: mean and standard deviation of the true sizes, or any Parts;
    standard: u of a reading, normal; all in one unit.

    >>> over = risks(limit=10.0, spread=(9.0, 0.5), standard=0.1)
    >>> round(over.passed_though_worn, 4), round(over.refused_though_good, 4)
    (0.0034, 0.0056)

    Source: JCGM 106:2012, 9.5 (global consumer's and producer's risk), integrated by Simpson's rule between the limits.
    Raises ValueError when there is no limit, or no uncertainty.
    """
    if smallest is None and limit is None:
        raise ValueError("there is no limit to judge by")
    if standard <= 0:
        raise ValueError("without uncertainty nothing is called wrong")
    parts = spread if isinstance(spread, Parts) else Parts.normal(*spread)
    lower, upper = (-math.inf if smallest is None else smallest), (math.inf if limit is None else limit)

    def inside(size: float, by: float) -> float:
        """The chance that a part of this size is read at least so far inside the limits."""
        return max(below((upper - by - size) / standard) - below((lower + by - size) / standard), 0.0)

    edges = sorted({parts.low, parts.high, *(end for end in (lower, upper) if parts.low < end < parts.high)})
    worn, good = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for start, end in pairwise(edges):
        kind = good if lower <= (start + end) / 2 <= upper else worn
        kind[0] += _simpson(parts.density, start, end)
        kind[1] += _simpson(lambda size: parts.density(size) * inside(size, guard), start, end)
        kind[2] += _simpson(lambda size: parts.density(size) * (1 - inside(size, -guard)), start, end)
    return Risks(worn[1], good[2], max(worn[0] - worn[1] - worn[2], 0.0), max(good[0] - good[1] - good[2], 0.0))


def _simpson(function: Callable[[float], float], start: float, end: float) -> float:
    width = (end - start) / _STEPS
    odd = sum(function(start + step * width) for step in range(1, _STEPS, 2))
    even = sum(function(start + step * width) for step in range(2, _STEPS, 2))
    return (function(start) + 4 * odd + 2 * even + function(end)) * width / 3


class Way(StrEnum):
    """What would settle a size that is too close to call."""

    READ_AGAIN = "read again"
    BETTER_INSTRUMENT = "better instrument"
    LET_IT_COOL = "let it cool"
    INSTRUCTOR = "instructor decides"


@dataclass(frozen=True, slots=True)
class Settling:
    """The one thing that would settle it: the way, how many readings of the spot, with which instrument, and the
    uncertainty U there would be then [unit of the size]."""

    way: Way
    uncertainty: float
    readings: int = 0
    instrument: str = ""


def settled_by(
    margin: float,
    budget: "Budget",
    *,
    cold: "Budget | None" = None,
    readings: int | None = None,
    instruments: "Sequence[tuple[str, Budget]]" = (),
) -> Settling:
    """Which one thing would make this size sure enough: the cheapest first?

    margin: how far it is from its limit. cold: the budget at 20 °C, where it was measured warm. readings: how many in
    all would do, where more would. instruments: what else there is, each with the budget it would give.

    >>> from fingertight.measure.budget import Tool, reading_budget
    >>> now, finer = reading_budget(Tool(0.01, 0.005)), reading_budget(Tool(0.001, 0.003))
    >>> settled_by(0.005, now, instruments=[("micrometer-75", finer)]).instrument
    'micrometer-75'

    Source: the budget worked out anew with each change (GUM (JCGM 100:2008) 5.1); the order is common practice, no
    source.
    """
    need = abs(margin)
    if cold is not None and cold.expanded <= need < budget.expanded:
        return Settling(Way.LET_IT_COOL, cold.expanded)
    if readings is not None:
        return Settling(Way.READ_AGAIN, need, readings=readings)
    would = [(each.expanded, name) for name, each in instruments if each.expanded <= need]
    if would:
        # The coarsest that will do: the finest is wanted elsewhere.
        unsure, name = max(would)
        return Settling(Way.BETTER_INSTRUMENT, unsure, instrument=name)
    return Settling(Way.INSTRUCTOR, budget.expanded)
