"""Readings as they were read, and what they say of a part: the verdict is worked out anew, never kept as truth."""

from dataclasses import replace

from fingertight.anatomy.model import Check
from fingertight.ledger.entry import Entry
from fingertight.ledger.plan import PartPlan
from fingertight.ledger.state import State, Value
from fingertight.measure.odd import far_from_others, out_of_bounds
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.verdict import Verdict, Word, judged, sternest
from fingertight.quantity import converted, plain

FIT = (None, Word.GOOD)
"""The words that let a part stay: good, or never measured."""


def reading(state: State, entry: Entry) -> None:
    """Measured. A new reading of a spot takes the place of the earlier ones there; repeats in one entry all count."""
    said = entry.said
    check = state.plan.anatomy.check_by_id[said["check"]]
    over = next((part for part in check.bare if state.moves.is_on(part)), None)
    fresh = [
        Value(each.get("at"), each.get("across"), converted(each["value"], said["unit"], check.unit), entry.id, over)
        for each in said["values"]
    ]
    spots = {(value.at, value.across) for value in fresh}
    for spot in spots:
        state.flags.mend("odd-reading", check.id, *spot)
    kept = [value for value in state.values.get(check.id, ()) if (value.at, value.across) not in spots]
    state.values[check.id] = _marked(check, [*kept, *fresh])
    _forget_decision(state, check.id)
    odd = [value for value in state.values[check.id] if value.odd]
    odd_spots = {(value.at, value.across) for value in odd}
    for value in state.values[check.id]:
        if (value.at, value.across) not in odd_spots:
            state.flags.mend("odd-reading", check.id, value.at, value.across)
    for value in odd:
        _raise_odd(state, check, value)
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


# -- odd readings --------------------------------------------------------------------------------------------------


def _marked(check: Check, values: list[Value]) -> list[Value]:
    """Mark what cannot be right: out of all bounds, with a part still on, or far from the middle of the others."""
    known = (check.min, check.max, check.new)
    first = [value.with_part_on is not None or out_of_bounds(value.value, *known) for value in values]
    left = [value.value for value, odd in zip(values, first, strict=True) if not odd]
    far = iter(far_from_others(left, *known))
    marks = [odd or next(far) for odd in first]
    return [value if value.odd is odd else replace(value, odd=odd) for value, odd in zip(values, marks, strict=True)]


def _raise_odd(state: State, check: Check, value: Value) -> None:
    spot = ", ".join(each for each in (value.at, value.across) if each)
    name = f"{check.title} ({spot})" if spot else check.title
    size = f"{plain(round(value.value, 6))} {check.unit}"
    if value.with_part_on is not None:
        on = state.plan.parts[value.with_part_on].title
        text = f"{name}: {size} was read while {on} is still on."
        mend = f"Take {on} off and read again."
    else:
        text = f"{name}: {size} cannot be right beside {_known(check)}."
        mend = "Look at the decimal mark and the unit, and read again."
    state.flags.raise_(("odd-reading", check.id, value.at, value.across), check.part, value.entry, text, mend)


def _known(check: Check) -> str:
    if check.new:
        return f"{plain(check.new[0])} to {plain(check.new[1])} {check.unit} when new"
    limit = check.max if check.max is not None else check.min
    return "the others" if limit is None else f"the limit of {plain(limit)} {check.unit}"


# -- verdicts ------------------------------------------------------------------------------------------------------


def _counted(state: State, check: Check) -> list[Value]:
    return [value for value in state.values.get(check.id, ()) if not value.odd]


def _limits(check: Check) -> tuple[float | None, float | None]:
    """The wear limits; where none is given at all, the sizes when new are the limits."""
    if check.max is None and check.min is None and not (check.out_of_round_max or check.taper_max) and check.new:
        return check.new
    return check.min, check.max


def _size_verdict(state: State, check: Check) -> Verdict | None:
    values = _counted(state, check)
    if not values:
        return None
    smallest, largest = _limits(check)
    of_one, of_two = state.plan.uncertainty(check), state.plan.uncertainty(check, check)
    found = []
    if smallest is not None or largest is not None:
        # The size stands first: shape has the word only where it says worse of the part.
        sizes = [value.value for value in values]
        ends = [judged(size, smallest, largest, of_one) for size in (min(sizes), max(sizes))]
        found.append(min(ends, key=lambda verdict: verdict.margin))
    taken = [(value.at, value.across, value.value) for value in values]
    for limit, spread_of in ((check.out_of_round_max, out_of_round), (check.taper_max, taper)):
        if limit is not None and (spread := spread_of(taken)) is not None:
            found.append(judged(spread, None, limit, of_two))
    return sternest(found) if found else None


def _gap_verdict(state: State, check: Check) -> Verdict | None:
    if check.gap is None:
        return None
    checks = state.plan.anatomy.check_by_id
    outer, inner = checks[check.gap.outer], checks[check.gap.inner]
    outers, inners = _counted(state, outer), _counted(state, inner)
    smallest, largest = _limits(check)
    if not outers or not inners or (smallest is None and largest is None):
        return None
    wide = converted(max(value.value for value in outers), outer.unit, check.unit)
    narrow = converted(min(value.value for value in inners), inner.unit, check.unit)
    unsure = converted(state.plan.uncertainty(outer, inner), outer.unit, check.unit)
    return judged(wide - narrow, smallest, largest, unsure)


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
