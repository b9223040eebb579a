"""What a verdict rests on: the size, its budget, how likely it is good, what would settle it, what is questioned."""

import math
from dataclasses import dataclass

from fingertight.anatomy.model import Check, Instrument
from fingertight.ledger.folds.judged import counted, gap_budget, gap_limits, limits_of, verdict_of
from fingertight.ledger.readings.questioned import slip_sentence
from fingertight.ledger.readings.sized import (
    Spot,
    budget_of_spot,
    instrument_of,
    measures_alike,
    spots_of,
    tool_of,
    warmth_of,
)
from fingertight.ledger.state import State
from fingertight.measure.budget import difference_budget, enough_readings, reading_budget
from fingertight.measure.shape import out_of_round
from fingertight.measure.verdict import Settling, Verdict, Way, Word, chance_good, settled_by
from fingertight.quantity import converted
from fingertight.uncertainty.budget import Budget

_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Standing:
    """A verdict with all it rests on. `spot`: the size that decided, None for a gap; `spread`: “out of round” or
    “taper” where that decided. chance_good: 0 to 1; within: the limits it was held against [unit of the check]."""

    verdict: Verdict
    budget: Budget
    chance_good: float
    within: tuple[float | None, float | None]
    spot: Spot | None = None
    spread: str = ""

    @property
    def of_shape(self) -> bool:
        """Whether a spread decided."""
        return bool(self.spread)


def standing_of(state: State, check: Check) -> Standing | None:
    """What does the verdict of a check rest on? None while there is no verdict."""
    verdict = verdict_of(state, check.id)
    if verdict is None:
        return None
    within = limits_of(check)
    if check.gap is not None:
        found = gap_budget(state, check)
        budget = found[1] if found else Budget(())
        return _standing(verdict, budget, gap_limits(check, verdict.worst, verdict.uncertainty))
    spots = spots_of(state, check, counted(state, check))
    spot = min(spots, key=lambda each: abs(each.size - verdict.worst))
    budget = budget_of_spot(state, check, spot, spots)
    if within != (None, None) and abs(spot.size - verdict.worst) < _SAME:
        return _standing(verdict, budget, within, spot)
    unsure = max((budget_of_spot(state, check, each, spots) for each in spots), key=lambda each: each.expanded)
    # The margin is to the limit of out-of-round or taper, whichever decided.
    limit = verdict.worst + verdict.margin
    taken = [(each.at, each.across, each.size) for each in spots]
    is_round = check.out_of_round_max is not None and abs((out_of_round(taken) or 0.0) - verdict.worst) < _SAME
    spread = "out of round" if is_round else "taper"
    return _standing(verdict, difference_budget(unsure, unsure), (None, limit), spread=spread)


def budget_of(state: State, check: Check) -> Budget | None:
    """The uncertainty budget of the size a verdict rests on [unit of the check]; None while there is none."""
    found = standing_of(state, check)
    return found.budget if found else None


def chance_of(state: State, check: Check) -> float | None:
    """How likely the part is good by this measurement, 0 to 1; None while there is no verdict."""
    found = standing_of(state, check)
    return found.chance_good if found else None


def settled_by_of(state: State, check: Check) -> Settling | None:
    """The one thing that would settle a check that is too close to call; None for any other."""
    found = standing_of(state, check)
    if found is None or found.verdict.word is not Word.CLOSE:
        return None
    if found.spot is None:
        return _of_two(state, check, found)
    spots = spots_of(state, check, counted(state, check))
    spot, budget = found.spot, found.budget
    alike = [each.readings for each in spots if each.instrument == spot.instrument]
    now = instrument_of(state, check, spot.instrument)
    warm = warmth_of(state, check, now, spot) if now else None
    cold = reading_budget(tool_of(now, check.unit), alike, len(spot.readings)) if now and warm else None
    others = [
        (other.title, reading_budget(tool_of(other, check.unit), alike, len(spot.readings)))
        for other in could_measure(state, check)
        if now is None or other.id != now.id
    ]
    enough = enough_readings(budget, alike, len(spot.readings), found.verdict.margin)
    return settled_by(found.verdict.margin, budget, cold=cold, readings=enough, instruments=others)


def sizes_of(state: State, check: Check) -> dict[tuple[str | None, str | None], float]:
    """The size at each spot, of the readings that count [unit of the check]; of several at one spot their mean."""
    by_spot: dict[tuple[str | None, str | None], list[float]] = {}
    for value in counted(state, check):
        by_spot.setdefault((value.at, value.across), []).append(value.value)
    return {spot: sum(sizes) / len(sizes) for spot, sizes in by_spot.items()}


def could_measure(state: State, check: Check) -> tuple[Instrument, ...]:
    """The instruments of the machine's file that measure this kind of size, are made for it and reach it."""
    usual = state.plan.anatomy.instrument_by_id.get(check.instrument or "")
    sizes = [size for size in (*(check.new or ()), check.min, check.max) if size is not None]
    return tuple(
        instrument
        for instrument in state.plan.anatomy.instruments
        if measures_alike(instrument, check.unit)
        and (usual is None or instrument.id == usual.id or _could_stand_in(instrument, usual))
        and _reaches(instrument, check.unit, sizes)
    )


# What goes where: a bore wants an instrument for bores, an outside one for outsides.
_OUTSIDE = {"vernier", "micrometer"}


def _could_stand_in(other: Instrument, usual: Instrument) -> bool:
    return other.kind is not None and (other.kind == usual.kind or {other.kind, usual.kind} <= _OUTSIDE)


def _reaches(instrument: Instrument, unit: str, sizes: list[float]) -> bool:
    if instrument.range is None:
        return True
    low, high = (converted(end, instrument.unit, unit) for end in instrument.range)
    over = 0.01 * (high - low)
    return all(low - over <= size <= high + over for size in sizes)


def slips_of(state: State, check: Check) -> dict[tuple[str | None, str | None], str]:
    """The readings that look like a slip and were not read again, by spot, each with its question."""
    return {
        (value.at, value.across): asks
        for value in state.values.get(check.id, ())
        if not value.odd and (asks := slip_sentence(state, check, value))
    }


def _standing(
    verdict: Verdict,
    budget: Budget,
    within: tuple[float | None, float | None],
    spot: Spot | None = None,
    *,
    spread: str = "",
) -> Standing:
    smallest, largest = within
    dof = budget.dof if budget.lines else math.inf
    standard = verdict.uncertainty / (budget.coverage if budget.lines else 2.0)
    chance = chance_good(verdict.worst, smallest, largest, standard, dof)
    return Standing(verdict, budget, chance, within, spot, spread)


def _of_two(state: State, check: Check, found: Standing) -> Settling:
    """A gap or a spread: what would settle it is a better instrument for its wider part, or nothing here."""
    need = abs(found.verdict.margin)
    if check.gap is None:
        others = [
            (other.title, difference_budget(one, one))
            for other in could_measure(state, check)
            for one in (reading_budget(tool_of(other, check.unit)),)
        ]
        return settled_by(found.verdict.margin, found.budget, instruments=others)
    checks = state.plan.anatomy.check_by_id
    sources = [checks[check.gap.outer], checks[check.gap.inner]]
    best = []
    for one in sources:
        times = converted(1.0, one.unit, check.unit)
        choice = min(
            (
                (reading_budget(tool_of(other, one.unit)).expanded * times, other.title)
                for other in could_measure(state, one)
            ),
            default=(math.inf, ""),
        )
        best.append(choice)
    together = math.hypot(best[0][0], best[1][0])
    if together <= need < found.budget.expanded:
        names = " and ".join(dict.fromkeys(name for _, name in best))
        return Settling(Way.BETTER_INSTRUMENT, together, instrument=names)
    return Settling(Way.INSTRUCTOR, found.budget.expanded)
