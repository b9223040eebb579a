"""The sum that works a check or a setting out, its boxes filled with what the machine’s file and the readings say."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import pi
from urllib.parse import urlencode

from fingertight.anatomy.model import Anatomy, Check, Engine, Setting
from fingertight.cards.card import Card
from fingertight.cards.sums.every import WHERE, sum_named
from fingertight.ledger.asked.measured import sizes_of
from fingertight.ledger.folds.judged import extremes
from fingertight.ledger.state import State, Value
from fingertight.quantity import plain

FILLED = "filled-in"
"""In an address: the boxes were filled for somebody, who may still have some to fill; nothing is refused yet."""


@dataclass(frozen=True)
class SumLink(Card):
    """A sum with its boxes filled: what it is called, and its address."""

    title: str
    address: str


def sum_of_check(state: State, check: Check, values: Sequence[Value]) -> SumLink | None:
    """The sum of a check with its limits and readings; None where its file names none."""
    if not check.sum:
        return None
    anatomy, unit = state.plan.anatomy, check.unit
    known = _of_engine(anatomy.engine)
    if check.new:
        known["new"] = f"{plain(check.new[0])} {plain(check.new[1])}"
    known |= {name: f"{plain(limit)} {unit}" for name, limit in (("max", check.max), ("min", check.min)) if limit}
    known |= {
        name: f"{plain(limit)} {unit}"
        for name, limit in (("round-max", check.out_of_round_max), ("taper-max", check.taper_max))
        if limit
    }
    instrument = anatomy.instrument_by_id.get(check.instrument or "")
    if instrument:
        known |= {
            name: f"{plain(size)} {instrument.unit}"
            for name, size in (("resolution", instrument.resolution), ("step", instrument.resolution))
        }
        known["error"] = f"{plain(instrument.error)} {instrument.unit}"
    if values:
        known |= _of_readings(state, check, values)
    if check.gap:
        known |= _of_gap(state, check)
    if check.shims:
        known["shims"] = f"{' '.join(plain(shim) for shim in check.shims)} {unit}"
    return _filled(check.sum, known)


def sum_of_setting(anatomy: Anatomy, setting: Setting) -> SumLink | None:
    """The sum of a setting with its range; None where its file names none."""
    if not setting.sum:
        return None
    known = _of_engine(anatomy.engine)
    if setting.range:
        known["range"] = _range(setting.range, setting.unit)
    instrument = anatomy.instrument_by_id.get(setting.instrument or "")
    if instrument and instrument.leaves:
        known["leaves"] = f"{' '.join(plain(leaf) for leaf in instrument.leaves)} {instrument.unit}"
    return _filled(setting.sum, known)


def _of_readings(state: State, check: Check, values: Sequence[Value]) -> dict[str, str]:
    sizes, unit = sizes_of(state, check), check.unit
    each = "; ".join(
        f"{at} {' '.join(plain(round(size, 6)) for (one, _), size in sizes.items() if one == at)}".strip()
        for at in dict.fromkeys(at or "" for at, _ in sizes)
    )
    plainly = " ".join(plain(round(size, 6)) for size in sizes.values())
    found = {
        "float": plainly,
        "gaps": plainly,
        "measured": f"{plain(round(values[-1].value, 6))} {unit}",
        "readings": plainly,
    }
    if check.across:
        found["readings"] = each
    return found


def _of_gap(state: State, check: Check) -> dict[str, str]:
    """The two sizes that decide a gap, and what each was read with."""
    anatomy = state.plan.anatomy
    found: dict[str, str] = {}
    if check.gap is None:
        return found
    sides = {"outer": anatomy.check_by_id[check.gap.outer], "inner": anatomy.check_by_id[check.gap.inner]}
    ends = extremes(state, sides["outer"], sides["inner"])
    for place, (name, side) in enumerate(sides.items()):
        if ends:
            found[name] = f"{' '.join(plain(round(one, 6)) for one in ends[place].readings)} {side.unit}"
        instrument = anatomy.instrument_by_id.get(side.instrument or "")
        if instrument:
            found[f"{name}-resolution"] = f"{plain(instrument.resolution)} {instrument.unit}"
            found[f"{name}-error"] = f"{plain(instrument.error)} {instrument.unit}"
        part = anatomy.part_by_id.get(side.part or "")
        if part and part.material:
            found[f"{name}-material"] = part.material
    return found


def _of_engine(engine: Engine | None) -> dict[str, str]:
    """What the sums ask for by the names of their boxes; where one name means two things, with the sum's before it."""
    if engine is None:
        return {}
    sizes = {"stroke": engine.stroke, "rod": engine.rod, "flywheel": engine.flywheel}
    known = {name: f"{plain(size)} mm" for name, size in sizes.items() if size}
    if engine.bore:
        known["compression.bore"] = f"{plain(engine.bore)} mm"
    if engine.chamber:
        known["chamber"] = f"{plain(engine.chamber)} ml"
    teeth = {"crank-teeth": engine.crank_teeth, "cam-teeth": engine.cam_teeth}
    known |= {name: str(count) for name, count in teeth.items() if count}
    if engine.bore and engine.stroke and engine.chamber:
        swept_ml = pi / 4 * engine.bore**2 * engine.stroke / 1000
        known["cranking.ratio"] = plain(round((swept_ml + engine.chamber) / engine.chamber, 2))
    known |= _of_valves(engine)
    if engine.drive:
        known["stages"] = ", ".join(f"{driving}:{driven}" for driving, driven in engine.drive)
    return known


def _of_valves(engine: Engine) -> Mapping[str, str]:
    events: dict[str, str] = {}
    for valve, pair in (("inlet", engine.inlet), ("exhaust", engine.exhaust)):
        if pair:
            events |= {f"{valve}-opens": plain(pair[0]), f"{valve}-closes": plain(pair[1])}
    if engine.at_lift and events:
        events["lift"] = f"{plain(engine.at_lift)} mm"
    if engine.inlet:
        events["closes"] = plain(engine.inlet[1])
    return events


def _range(pair: tuple[float, float], unit: str) -> str:
    return f"{plain(pair[0])} to {plain(pair[1])} {unit}"


def _filled(name: str, known: Mapping[str, str]) -> SumLink | None:
    """The sum's address, with what is known of what it asks for. Nothing is known of a sum that is not there."""
    if name not in WHERE:
        return None
    asked = sum_named(name)
    fits = {field.name: known.get(f"{name}.{field.name}", known.get(field.name)) for field in asked.fields}
    filled = {field: said for field, said in fits.items() if said is not None}
    return SumLink(asked.title, f"/sums/{name}?{urlencode({**filled, FILLED: 'yes'})}" if filled else f"/sums/{name}")
