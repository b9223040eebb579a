"""Readings that cannot be right take no part in a verdict; those that look like a slip do, and both are questioned."""

from dataclasses import replace
from functools import lru_cache

from fingertight.anatomy.model import Check
from fingertight.ledger.readings.sized import instrument_of
from fingertight.ledger.state import State, Value
from fingertight.measure.odd import far_from_others, out_of_bounds
from fingertight.measure.slips import Known, Likely, likely_slip, nearest_place, out_of_reach, sentence, turn_of
from fingertight.quantity import UNITS, converted, plain, unit_named

ASKED = ("odd-reading", "likely-slip")
"""The kinds of flags that question a reading."""
_STEPS_ALIKE = 3
"""Readings within so many steps of the instrument are the same reading taken twice (common practice, no source)."""


def marked(state: State, check: Check, values: list[Value]) -> list[Value]:
    """Mark what cannot be right: out of all bounds or the instrument's reach, with a part still on, or far from the
    middle of the others."""
    known = (check.min, check.max, check.new)
    first = [
        value.with_part_on is not None
        or out_of_bounds(value.value, *known)
        or _beyond_its_instrument(state, check, value)
        for value in values
    ]
    left = [value.value for value, odd in zip(values, first, strict=True) if not odd]
    far = iter(far_from_others(left, *known))
    marks = [odd or next(far) for odd in first]
    return [value if value.odd is odd else replace(value, odd=odd) for value, odd in zip(values, marks, strict=True)]


def question(state: State, check: Check) -> None:
    """Raise and close the flags of all readings of a check as they stand now."""
    values = state.values[check.id]
    odd_spots = {(value.at, value.across) for value in values if value.odd}
    for value in values:
        if (value.at, value.across) not in odd_spots:
            state.flags.mend("odd-reading", check.id, value.at, value.across)
    for value in values:
        if value.odd:
            _raise_odd(state, check, value)
        elif asks := slip_sentence(state, check, value):
            cause = ("likely-slip", check.id, value.at, value.across)
            mend = "Read this spot again; the same again stands."
            state.flags.raise_(cause, check.part, value.entry, f"{spot_name(check, value)}: {asks}", mend)


def read_again(state: State, check: Check, fresh: list[Value]) -> None:
    """What is read anew is questioned no more for what it was; read the same as before, it stands."""
    spots = {(value.at, value.across) for value in fresh}
    if len(spots) == len(fresh) and not any(
        state.flags.stands(kind, check.id, *spot) for spot in spots for kind in ASKED
    ):
        return  # most readings: each spot once, none of them questioned
    before = {(value.at, value.across): value for value in state.values.get(check.id, ())}
    for value in fresh:
        spot = (value.at, value.across)
        alike = [one.value for one in fresh if (one.at, one.across) == spot and one is not value]
        if state.flags.stands("likely-slip", check.id, *spot) and spot in before:
            alike.append(before[spot].value)
        if any(abs(value.value - one) <= _near(state, check, value) for one in alike):
            state.read_twice[check.id, *spot] = value.value
    for spot in spots:
        for kind in ASKED:
            state.flags.mend(kind, check.id, *spot)


def slip_of(state: State, check: Check, value: Value) -> Likely | None:
    """The slip that would explain this reading, where it is not plausible and was not read twice."""
    twice = state.read_twice.get((check.id, value.at, value.across))
    if twice is not None and abs(twice - value.value) <= _near(state, check, value):
        return None
    others = tuple(one.value for one in state.values[check.id] if not one.odd and one is not value)
    instrument = instrument_of(state, check, value.instrument)
    unit = unit_named(check.unit)
    metric = unit.measures == "length" and check.unit not in {"in", "thou"}
    turn = None
    if instrument is not None and unit.measures == UNITS[instrument.unit].measures:
        one = turn_of(instrument.kind, instrument.unit)
        turn = None if one is None else converted(one, instrument.unit, check.unit)
    known = Known(
        check.min, check.max, check.new, others, turn, bool(instrument and instrument.kind == "micrometer"), metric
    )
    return likely_slip(value.value, known)


def slip_sentence(state: State, check: Check, value: Value) -> str:
    """The question about a reading that looks like a slip, or is of a place there is not; "" where there is none."""
    for said, places in ((value.at, check.at), (value.across, check.across)):
        if said is not None and places and said not in places:
            meant = nearest_place(said, places)
            asks = f"is {meant} meant?" if meant else f"its places are {', '.join(places)}."
            return f"it has no place “{said[:40]}”; {asks}"
    low, high = _believed(check.min, check.max, check.new)
    if low <= value.value <= high:
        return ""  # most readings: they need no more sums
    found = slip_of(state, check, value)
    return sentence(value.value, found, check.unit) if found else ""


def spot_name(check: Check, value: Value) -> str:
    """What people call the spot of a reading: the check, with its place where it has one."""
    spot = ", ".join(each for each in (value.at, value.across) if each)
    return f"{check.title} ({spot})" if spot else check.title


@lru_cache(maxsize=1024)
def _believed(smallest: float | None, largest: float | None, new: tuple[float, float] | None) -> tuple[float, float]:
    """Between which sizes a reading of a check is believed; a replay asks for each of its readings."""
    return Known(smallest, largest, new).believed


def _near(state: State, check: Check, value: Value) -> float:
    instrument = instrument_of(state, check, value.instrument)
    step = converted(instrument.resolution, instrument.unit, check.unit) if instrument else 0.0
    return _STEPS_ALIKE * step + 1e-9


def _beyond_its_instrument(state: State, check: Check, value: Value) -> bool:
    instrument = instrument_of(state, check, value.instrument)
    if instrument is None or instrument.range is None:
        return False
    if instrument.unit == check.unit:
        return out_of_reach(value.value, instrument.range)
    same_kind = UNITS[instrument.unit].measures == unit_named(check.unit).measures
    return same_kind and out_of_reach(converted(value.value, check.unit, instrument.unit), instrument.range)


def _raise_odd(state: State, check: Check, value: Value) -> None:
    name = spot_name(check, value)
    size = f"{plain(round(value.value, 6))} {check.unit}"
    if value.with_part_on is not None:
        on = state.plan.parts[value.with_part_on].title
        text = f"{name}: {size} was read while {on} is still on."
        mend = f"Take {on} off and read again."
    else:
        text = f"{name}: {size} cannot be right beside {_known(state, check, value)}."
        found = slip_of(state, check, value)
        asks = sentence(value.value, found, check.unit).partition(": ")[2] if found else ""
        mend = f"{asks[:1].upper()}{asks[1:]} Read again." if asks else _LOOK
    state.flags.raise_(("odd-reading", check.id, value.at, value.across), check.part, value.entry, text, mend)


_LOOK = "Look at the decimal mark and the unit, and read again."


def _known(state: State, check: Check, value: Value) -> str:
    if check.new:
        return f"{plain(check.new[0])} to {plain(check.new[1])} {check.unit} when new"
    limit = check.max if check.max is not None else check.min
    if limit is not None:
        return f"the limit of {plain(limit)} {check.unit}"
    instrument = instrument_of(state, check, value.instrument)
    if instrument is not None and instrument.range and _beyond_its_instrument(state, check, value):
        low, high = map(plain, instrument.range)
        return f"what {instrument.title} shows, {low} to {high} {instrument.unit}"
    return "the others"
