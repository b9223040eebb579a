"""By how many teeth is a camshaft out of its place against the crank? As chances, since angles are never sure."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fingertight.setting.timing.angles import CYCLE, TURN, wrapped

MOST_TEETH = 3
NO_TOOTH = 0.1
"""How likely it is beforehand that no whole tooth explains a camshaft that is out: common practice, no source. The rest
is shared alike among the numbers of teeth."""
SOUND_DEG = 2.0
"""How far a sound engine may lie from its stated timing, in degrees of the crank (±, limits): play of gears, keys and
grinding together. Common practice, no source; workshop forums tell of 3."""


@dataclass(frozen=True, slots=True)
class Shift:
    """How much later than stated the camshaft is [crank deg], and how sure (standard uncertainty, [crank deg])."""

    later_deg: float
    standard_deg: float


def tooth_deg(crank_teeth: int) -> float:
    """What is one tooth, in degrees of the crank? 360 by the teeth of the wheel on the crank.

    A tooth of the cam wheel is the same: it has twice the teeth and turns half as far.

    >>> tooth_deg(24), round(tooth_deg(22), 2)
    (15.0, 16.36)

    crank_teeth: 1 or more. Source: a wheel of z teeth goes 360 / z on for each; checked in tests/outside/timing.toml.
    Raises ValueError for no teeth.
    """
    if crank_teeth < 1:
        raise ValueError("a wheel has teeth")
    return TURN / crank_teeth


def offset_deg(offset_mm: float, pitch_circle_mm: float) -> float:
    """How far is the camshaft turned, in degrees of the crank, when its dot stands so far off along the pitch circle?

    An arc: 720 · s / (π · D), twice the camshaft’s own angle.

    >>> round(offset_deg(0.010, 2.731), 3)
    0.839

    offset_mm: along the pitch circle [mm]. pitch_circle_mm: of the cam wheel [mm], above 0; any one unit for both.
    Source: the circle; checked against a published sprocket. Raises ValueError for no circle.
    """
    if not pitch_circle_mm > 0:
        raise ValueError("a pitch circle is above 0")
    return CYCLE * offset_mm / (math.pi * pitch_circle_mm)


def together(shifts: Sequence[Shift]) -> tuple[Shift, float]:
    """Several shifts of one camshaft as one, weighted by how sure each is; and the largest contradiction among them.

    The second figure is how many standard uncertainties the shift that is furthest from the mean lies from it: above 2
    they do not tell of one shift.

    >>> mean, furthest = together([Shift(16, 1), Shift(18, 1)])
    >>> mean.later_deg, round(mean.standard_deg, 2), round(furthest, 2)
    (17.0, 0.71, 1.0)

    Source: weighted mean, GUM (JCGM 100:2008) 5.1.2. Raises ValueError where there is none.
    """
    if not shifts:
        raise ValueError("there is no shift")
    weights = [1 / one.standard_deg**2 for one in shifts]
    first = shifts[0].later_deg
    mean = first + math.fsum(
        weight * wrapped(one.later_deg - first, CYCLE) for weight, one in zip(weights, shifts, strict=True)
    ) / math.fsum(weights)
    furthest = max(abs(wrapped(one.later_deg - mean, CYCLE)) / one.standard_deg for one in shifts)
    return Shift(wrapped(mean, CYCLE), 1 / math.sqrt(math.fsum(weights))), furthest


def chances(shift: Shift, crank_teeth: int) -> Mapping[int | None, float]:
    """How likely is each number of teeth late (plus) or early (minus), −3 to 3, and that it is none of them (None)?

    By Bayes’ rule: every number alike beforehand, `NO_TOOTH` for anything else, which may lie anywhere between.

    >>> likely = chances(Shift(17.0, 1.4), crank_teeth=20)
    >>> round(likely[1], 2), round(likely[0], 2), round(likely[None], 2)
    (0.97, 0.0, 0.03)

    shift: within half a turn of the crank. Source: Bayes’ rule with a normal error, GUM (JCGM 100:2008) 6.3; tested by
    simulation.
    """
    tooth = tooth_deg(crank_teeth)
    numbers = range(-MOST_TEETH, MOST_TEETH + 1)
    share = (1 - NO_TOOTH) / len(numbers)
    weights: dict[int | None, float] = {
        number: share * _normal(shift.later_deg - number * tooth, shift.standard_deg) for number in numbers
    }
    weights[None] = NO_TOOTH / (len(numbers) * tooth)
    whole = math.fsum(weights.values())
    return {number: weight / whole for number, weight in weights.items()}


def whole_turn(shift: Shift, crank_teeth: int) -> bool:
    """Is the camshaft in its place but for a whole turn of the crank: was the wrong top dead centre taken?

    >>> whole_turn(Shift(359, 1.2), 20), whole_turn(Shift(18, 1.2), 20)
    (True, False)
    """
    return abs(wrapped(shift.later_deg, CYCLE)) > TURN - (MOST_TEETH + 0.5) * tooth_deg(crank_teeth)


def _normal(away: float, standard: float) -> float:
    return math.exp(-0.5 * (away / standard) ** 2) / (standard * math.sqrt(math.tau))
