"""Good, worn, or too close to call: a size against its limits, with its uncertainty."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
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
    is supposed of the parts beforehand. `standard`: u [unit of the value]; 0 gives 0 or 1.

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


def guard_band(conformance: float = 0.95, coverage: float = 2.0) -> float:
    """How far inside its limit must a size be read to be proven good so surely? In expanded uncertainties U = k·u.

    >>> round(guard_band(), 2)
    0.82

    Source: ISO 14253-1:2017 (95 % unless agreed otherwise), ILAC-G8:09/2019; JCGM 106:2012, 8.3.
    """
    return distance(conformance) / coverage


@dataclass(frozen=True, slots=True)
class Risks:
    """Over many parts: how many worn ones pass, how many good ones are thrown away, how many are left undecided."""

    passed_though_worn: float
    refused_though_good: float
    undecided: float


def risks(limit: float, spread: tuple[float, float], standard: float, guard: float = 0.0) -> Risks:
    """What does a rule do to a heap of parts whose sizes scatter about a mean?

    A part passes when it is read `guard` or more below `limit`, is refused when read as much above it, and is undecided
    between. spread: mean and standard deviation of the true sizes; standard: of a reading; guard [all in one unit].

    >>> over = risks(limit=10.0, spread=(9.0, 0.5), standard=0.1)
    >>> round(over.passed_though_worn, 4), round(over.refused_though_good, 4)
    (0.0034, 0.0056)

    Source: JCGM 106:2012, 9.5 (global consumer's and producer's risk), integrated numerically.
    """
    mean, deviation = spread
    steps, reach = 4000, 8.0
    width = 2 * reach * deviation / steps
    worn_passes = good_refused = between = 0.0
    for step in range(steps):
        size = mean - reach * deviation + (step + 0.5) * width
        weight = math.exp(-0.5 * ((size - mean) / deviation) ** 2) / (deviation * math.sqrt(2 * math.pi)) * width
        passes = below((limit - guard - size) / standard)
        refused = 1 - below((limit + guard - size) / standard)
        between += weight * max(1 - passes - refused, 0.0)
        if size > limit:
            worn_passes += weight * passes
        else:
            good_refused += weight * refused
    return Risks(worn_passes, good_refused, between)


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
