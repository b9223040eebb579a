"""Readings become sizes: repeats of a spot their mean, a warm part its size at 20 °C, each with its budget."""

from collections.abc import Iterable
from dataclasses import dataclass

from fingertight.anatomy.model import Check, Instrument
from fingertight.ledger.state import State, Value
from fingertight.measure.budget import Tool, Warmth, reading_budget
from fingertight.measure.temperature import Expansion, at_20_c, expansion_of
from fingertight.quantity import NotUnderstood, converted, unit_named
from fingertight.uncertainty.budget import Budget


@dataclass(frozen=True, slots=True)
class Spot:
    """One size that counts: where, how large (at 20 °C where the temperature was said), of which readings."""

    at: str | None
    across: str | None
    size: float
    readings: tuple[float, ...]
    instrument: str | None
    temperature_c: float | None = None


def are_plain(check: Check, values: Iterable[Value]) -> bool:
    """Whether each reading stands for itself: no repeats, no temperature, no other instrument than the check's."""
    if check.repeat:
        return False
    seen = set()
    for value in values:
        if value.temperature_c is not None or value.instrument not in (None, check.instrument):
            return False
        if (value.at, value.across) in seen and _is_named(check, value):
            return False
        seen.add((value.at, value.across))
    return True


def spots_of(state: State, check: Check, values: Iterable[Value]) -> list[Spot]:
    """The sizes that count. Repeats of a spot are taken together, where the file names it or says how often it is read;
    readings of no named spot stand each for itself, for nobody said that they are of one."""
    groups: dict[tuple[object, ...], list[Value]] = {}
    for number, value in enumerate(values):
        together = check.repeat is not None or _is_named(check, value)
        key = (value.at, value.across, value.instrument, value.temperature_c, None if together else number)
        groups.setdefault(key, []).append(value)
    return [_spot(state, check, group) for group in groups.values()]


def budget_of_spot(state: State, check: Check, spot: Spot, spots: Iterable[Spot]) -> Budget:
    """How sure is this size, with the scatter of all repeats read with the same instrument? [unit of the check]"""
    instrument = instrument_of(state, check, spot.instrument)
    if instrument is None:
        return Budget(())
    alike = [each.readings for each in spots if each.instrument == spot.instrument]
    tool = tool_of(instrument, check.unit)
    return reading_budget(tool, alike, len(spot.readings), spot.size, warmth_of(state, check, instrument, spot))


def tool_of(instrument: Instrument, unit: str) -> Tool:
    """The instrument's step and error in another unit."""
    return Tool(
        converted(instrument.resolution, instrument.unit, unit), converted(instrument.error, instrument.unit, unit)
    )


def instrument_of(state: State, check: Check, named: str | None) -> Instrument | None:
    """What a reading was taken with: the instrument its entry names, where the file has it, else the check's."""
    known = state.plan.anatomy.instrument_by_id
    return known.get(named or "") or known.get(check.instrument or "")


def warmth_of(state: State, check: Check, instrument: Instrument, spot: Spot) -> Warmth | None:
    """The temperature of a size and how part and instrument grow; None where it was not said, or the file is silent
    about what the part is made of, or no length was read."""
    grows = part_grows(state, check)
    if spot.temperature_c is None or grows is None:
        return None
    return Warmth(spot.temperature_c, grows, expansion_of(instrument.material))


def part_grows(state: State, check: Check) -> Expansion | None:
    """How the part of a check grows when it gets warmer; None where its file is silent, and for no length."""
    if unit_named(check.unit).measures != "length":
        return None
    part = state.plan.anatomy.part_by_id.get(check.part or "")
    if part is None or (part.material is None and part.expansion is None):
        return None
    usual = expansion_of(part.material) if part.material else Expansion(0.0)
    return Expansion(part.expansion * 1e-6) if part.expansion is not None else usual


def _is_named(check: Check, value: Value) -> bool:
    """Whether a reading says all that the file has to say of its spot."""
    if not (check.at or check.across):
        return False
    return (value.at in check.at if check.at else True) and (value.across in check.across if check.across else True)


def _spot(state: State, check: Check, group: list[Value]) -> Spot:
    first = group[0]
    readings = tuple(value.value for value in group)
    size = sum(readings) / len(readings)
    spot = Spot(first.at, first.across, size, readings, first.instrument, first.temperature_c)
    instrument = instrument_of(state, check, spot.instrument)
    warm = warmth_of(state, check, instrument, spot) if instrument else None
    if warm is None:
        return spot
    size = at_20_c(size, warm.part, warm.instrument, warm.temperature_c)
    return Spot(spot.at, spot.across, size, readings, spot.instrument, spot.temperature_c)


def measures_alike(instrument: Instrument, unit: str) -> bool:
    """Whether an instrument measures what is said in this unit."""
    try:
        converted(1.0, instrument.unit, unit)
    except NotUnderstood:
        return False
    return True
