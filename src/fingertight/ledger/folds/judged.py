"""Readings as they were read, and what they say of a part: the verdict is worked out anew, never kept as truth."""

from dataclasses import replace

from fingertight.anatomy.model import Check
from fingertight.ledger.entry import Entry
from fingertight.ledger.plan import PartPlan
from fingertight.ledger.readings.questioned import marked, question, read_again
from fingertight.ledger.readings.sized import Spot, are_plain, budget_of_spot, spots_of
from fingertight.ledger.state import State, Value
from fingertight.measure.budget import difference_budget
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.verdict import Verdict, Word, judged, sternest
from fingertight.quantity import converted
from fingertight.uncertainty.budget import Budget
from fingertight.uncertainty.standard import combined

FIT = (None, Word.GOOD)
"""The words that let a part stay: good, or never measured."""


def reading(state: State, entry: Entry) -> None:
    """Measured. A new reading of a spot takes the place of the earlier ones there; repeats in one entry all count."""
    said = entry.said
    check = state.plan.anatomy.check_by_id[said["check"]]
    over = next((part for part in check.bare if state.moves.is_on(part)), None)
    fresh = [
        Value(
            each.get("at"),
            each.get("across"),
            converted(each["value"], said["unit"], check.unit),
            entry.id,
            over,
            instrument=said.get("instrument"),
            temperature_c=said.get("temperature"),
        )
        for each in said["values"]
    ]
    read_again(state, check, fresh)
    spots = {(value.at, value.across) for value in fresh}
    kept = [value for value in state.values.get(check.id, ()) if (value.at, value.across) not in spots]
    state.values[check.id] = marked(state, check, [*kept, *fresh])
    _forget_decision(state, check.id)
    question(state, check)
    _changed(state, check.id)


def decide(state: State, entry: Entry) -> None:
    """The instructor's word on what was too close to call; a student's word does not count."""
    if entry.said.get("as") == "student":
        return
    state.decided[entry.said["check"]] = Word(entry.said["verdict"])
    _changed(state, entry.said["check"])


def forget(state: State, part: str) -> None:
    """The part is renewed: what was read of the old one says nothing of the new one."""
    for check in state.plan.parts[part].measured_by:
        if state.plan.anatomy.check_by_id[check].gap is None:
            for value in state.values.pop(check, ()):
                state.flags.mend("odd-reading", check, value.at, value.across)
                state.flags.mend("likely-slip", check, value.at, value.across)
                state.read_twice.pop((check, value.at, value.across), None)
        _forget_decision(state, check)
        _changed(state, check)


def went_on(state: State, entry: Entry, plan: PartPlan) -> None:
    """A part went on: is it, or what it covers, fit to stay?"""
    for check in plan.watched_by:
        if word_on(state, check) not in FIT:
            _raise_worn(state, entry, plan.id, check, f"{plan.title} went on")


def finish(state: State, entry: Entry) -> None:
    """The job is said to be done: nothing worn or undecided may be in it."""
    for check in state.plan.anatomy.checks:
        part = check.part or (state.plan.anatomy.check_by_id[check.gap.inner].part if check.gap else None)
        if word_on(state, check.id) not in FIT:
            _raise_worn(state, entry, part, check.id, "The job was finished")


def verdict_of(state: State, check_id: str) -> Verdict | None:
    """What the readings of a check say now; None while there are none that count, or no limit to judge by."""
    if check_id not in state.verdicts:
        check = state.plan.anatomy.check_by_id[check_id]
        state.verdicts[check_id] = _gap_verdict(state, check) if check.gap else _size_verdict(state, check)
    return state.verdicts[check_id]


def word_on(state: State, check_id: str) -> Word | None:
    """The verdict that counts: the instructor's where there is one, else the readings'."""
    found = verdict_of(state, check_id)
    return state.decided.get(check_id, found.word if found else None)


def _forget_decision(state: State, check_id: str) -> None:
    """What was decided on the old readings of a check, or on a gap that rests on them, says nothing of new ones."""
    for each in (check_id, *state.plan.gaps_on.get(check_id, ())):
        state.decided.pop(each, None)


def _changed(state: State, check_id: str) -> None:
    """Work out anew this check and the gaps that rest on it; what is good now is flagged no more."""
    for each in (check_id, *state.plan.gaps_on.get(check_id, ())):
        state.verdicts.pop(each, None)
        if state.flags.stands("worn", each) and word_on(state, each) in FIT:
            state.flags.mend("worn", each)


# -- verdicts ------------------------------------------------------------------------------------------------------


def counted(state: State, check: Check) -> list[Value]:
    """The readings that count: those that cannot be right do not."""
    return [value for value in state.values.get(check.id, ()) if not value.odd]


def limits_of(check: Check) -> tuple[float | None, float | None]:
    """The wear limits; where none is given at all, the sizes when new are the limits."""
    if check.max is None and check.min is None and not (check.out_of_round_max or check.taper_max) and check.new:
        return check.new
    return check.min, check.max


def _size_verdict(state: State, check: Check) -> Verdict | None:
    values = counted(state, check)
    if not values:
        return None
    if are_plain(check, values):
        of_one, of_two = state.plan.uncertainty(check), state.plan.uncertainty(check, check)
        sizes = [(value.value, of_one) for value in values]
        taken = [(value.at, value.across, value.value) for value in values]
    else:
        spots = spots_of(state, check, values)
        sizes = [(spot.size, budget_of_spot(state, check, spot, spots).expanded) for spot in spots]
        taken = [(spot.at, spot.across, spot.size) for spot in spots]
        of_one = max(unsure for _, unsure in sizes)
        of_two = combined([of_one, of_one])
    smallest, largest = limits_of(check)
    found = []
    if smallest is not None or largest is not None:
        # The size stands first: shape has the word only where it says worse of the part.
        found.append(_nearest_to_its_limit(sizes, smallest, largest))
    for limit, spread_of in ((check.out_of_round_max, out_of_round), (check.taper_max, taper)):
        if limit is not None and (spread := spread_of(taken)) is not None:
            found.append(judged(spread, None, limit, of_two))
    return sternest(found) if found else None


def _nearest_to_its_limit(sizes: list[tuple[float, float]], smallest: float | None, largest: float | None) -> Verdict:
    """The size with the least margin decides; where sizes are not equally sure, the sternest verdict does first."""
    if len({unsure for _, unsure in sizes}) == 1:
        ends = (min(sizes), max(sizes))
        return min((judged(*_in_order(end, smallest, largest)) for end in ends), key=lambda verdict: verdict.margin)
    verdicts = [judged(*_in_order(size, smallest, largest)) for size in sizes]
    return sternest(sorted(verdicts, key=lambda verdict: verdict.margin))


def _in_order(
    size: tuple[float, float], smallest: float | None, largest: float | None
) -> tuple[float, float | None, float | None, float]:
    return size[0], smallest, largest, size[1]


def extremes(state: State, outer: Check, inner: Check) -> tuple[Spot, Spot] | None:
    """The largest outer and the smallest inner size of a gap, each in the unit of its check; None while one is not
    measured."""
    outers, inners = spots_of(state, outer, counted(state, outer)), spots_of(state, inner, counted(state, inner))
    if not outers or not inners:
        return None
    return max(outers, key=lambda spot: spot.size), min(inners, key=lambda spot: spot.size)


def _gap_verdict(state: State, check: Check) -> Verdict | None:
    if check.gap is None:
        return None
    checks = state.plan.anatomy.check_by_id
    outer, inner = checks[check.gap.outer], checks[check.gap.inner]
    outers, inners = counted(state, outer), counted(state, inner)
    if not outers or not inners or limits_of(check) == (None, None):
        return None
    if are_plain(outer, outers) and are_plain(inner, inners):
        wide = converted(max(value.value for value in outers), outer.unit, check.unit)
        narrow = converted(min(value.value for value in inners), inner.unit, check.unit)
        unsure = converted(state.plan.uncertainty(outer, inner), outer.unit, check.unit)
        return judged(wide - narrow, *gap_limits(check, wide - narrow, unsure), unsure)
    found = gap_budget(state, check)
    if found is None:
        return None
    size, budget = found
    unsure = budget.expanded
    return judged(size, *gap_limits(check, size, unsure), unsure)


def gap_limits(check: Check, size: float, unsure: float) -> tuple[float | None, float | None]:
    """The limits of a gap. Where only a largest one is given, a gap that is not surely there is held against 0 too: a
    shaft larger than its bore has no clearance, however far that is from the most."""
    smallest, largest = limits_of(check)
    if smallest is None and largest is not None and largest >= 0 and size < unsure + 1e-9:
        return min(0.0, check.new[0]) if check.new else 0.0, largest
    return smallest, largest


def gap_budget(state: State, check: Check) -> tuple[float, Budget] | None:
    """A gap with its budget [unit of the gap]; None while one of its two checks is not measured.

    Both instruments count as independent, though one may have read both: their errors are then the less.
    """
    if check.gap is None:
        return None
    checks = state.plan.anatomy.check_by_id
    outer, inner = checks[check.gap.outer], checks[check.gap.inner]
    ends = extremes(state, outer, inner)
    if ends is None:
        return None
    sizes, budgets = [], []
    for spot, one in zip(ends, (outer, inner), strict=True):
        spots = spots_of(state, one, counted(state, one))
        times = converted(1.0, one.unit, check.unit)
        budget = budget_of_spot(state, one, spot, spots)
        budgets.append(Budget(tuple(replace(line, sensitivity=line.sensitivity * times) for line in budget.lines)))
        sizes.append(spot.size * times)
    return sizes[0] - sizes[1], difference_budget(*budgets)


def _measured_on(state: State, check: Check) -> str:
    sources = (check.gap.outer, check.gap.inner) if check.gap else (check.id,)
    measured = dict.fromkeys(state.plan.anatomy.check_by_id[source].part for source in sources)
    return " or ".join(state.plan.parts[part].title for part in measured if part) or "what was measured"


def _raise_worn(state: State, entry: Entry, part: str | None, check_id: str, when: str) -> None:
    check = state.plan.anatomy.check_by_id[check_id]
    if word_on(state, check_id) is Word.WORN:
        text = f"{when}, but {check.title} is worn."
        mend = f"Renew {_measured_on(state, check)}, or let the instructor decide."
    else:
        text = f"{when}, but {check.title} is too close to call."
        mend = "Take better readings, or let the instructor decide."
    state.flags.raise_(("worn", check_id), part, entry.id, text, mend)
