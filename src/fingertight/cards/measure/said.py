"""What stands under the verdict of a size: how likely it is wrong, what would settle it, its spreads, its shim."""

from collections.abc import Mapping, Sequence

from fingertight.anatomy.model import Check, Instrument
from fingertight.cards.bench.moves import Fact
from fingertight.cards.bench.sizes import counted, resolution_of
from fingertight.cards.sums.measure.words import risk_words, settled_words, sized
from fingertight.ledger.asked.measured import Standing, settled_by_of
from fingertight.ledger.folds.judged import limits_of, verdict_of
from fingertight.ledger.readings.sized import spots_of, tool_of
from fingertight.ledger.state import State, Value
from fingertight.measure.budget import reading_budget
from fingertight.measure.fits.shims import shims_for
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.slips import apart_from_class
from fingertight.measure.verdict import cannot_judge
from fingertight.quantity import as_found, plain, unsure_by

Spot = tuple[str | None, str | None]


def lead(state: State, check: Check, standing: Standing | None) -> tuple[str, ...]:
    """How likely the verdict is wrong, and the one thing that would settle it."""
    if standing is None or not standing.verdict.uncertainty:
        return ()
    said = [risk_words(standing.verdict.word, standing.chance_good)]
    if settling := settled_by_of(state, check):
        said.append(settled_words(settling, lambda size: f"{sized(size)} {check.unit}"))
    return tuple(said)


def unfit(check: Check, instrument: Instrument | None) -> str:
    """Said where an instrument is too coarse for these limits: nothing it reads could be called good."""
    if instrument is None or check.gap is not None:
        return ""
    unsure, (smallest, largest) = reading_budget(tool_of(instrument, check.unit)).expanded, limits_of(check)
    if not cannot_judge(smallest, largest, check.new, unsure):
        return ""
    return (
        f"{instrument.title} cannot judge this limit at all: ± {sized(unsure)} {check.unit} leaves no room, and "
        "nothing it reads could be called good. Take a finer one."
    )


def facts(state: State, check: Check, values: Sequence[Value], standing: Standing | None) -> tuple[Fact, ...]:
    """The size that decides, out of round and taper against their limits, and how sure all that is."""
    step, said = resolution_of(state, check), []
    if standing and not standing.of_shape:
        said.append(Fact("Size that decides", _decides(check, standing, step)))
    spots = spots_of(state, check, counted(values)) if not check.gap else []
    taken = [(spot.at, spot.across, spot.size) for spot in spots]
    spreads = (("Out of round", check.out_of_round_max, out_of_round(taken)), ("Taper", check.taper_max, taper(taken)))
    for name, limit, spread in spreads:
        if limit is not None and not check.gap:
            read = f"{as_found(spread, step)} {check.unit}" if spread is not None else "needs more readings"
            said.append(Fact(name, f"{read}, limit {plain(limit)}"))
    if standing and standing.verdict.uncertainty:
        unsure = unsure_by(standing.verdict.uncertainty, step)
        said.append(Fact("Unsure by", f"± {unsure} {check.unit} (95 of 100 times)"))
    elif taken:
        unsure = unsure_by(state.plan.uncertainty(check), step)
        said.append(Fact("Unsure by", f"± {unsure} {check.unit} (95 of 100 times)"))
    return tuple(said)


def _decides(check: Check, standing: Standing, step: float) -> str:
    spot, size = standing.spot, f"{as_found(standing.verdict.worst, step)} {check.unit}"
    if spot is None:
        return size
    where = ", ".join(each for each in (spot.at, spot.across) if each)
    more = [where] if where else []
    if len(spot.readings) > 1:
        more.append(f"mean of {len(spot.readings)} readings")
    if spot.temperature_c is not None:
        more.append(f"read at {plain(spot.temperature_c)} °C, brought to 20 °C")
    return f"{size} ({', '.join(more)})" if more else size


def shim_said(state: State, check: Check) -> str:
    """Which shim brings a float back to new; "" where there are none, or nothing was read."""
    found = verdict_of(state, check.id)
    if found is None or not check.shims or not check.new:
        return ""
    size, (least, most) = found.worst, check.new
    if size <= most:
        within = size >= least
        return "No shim is wanted: it is as when new." if within else "It is tighter than new: take a shim out."
    best = shims_for(size, check.shims, check.new)
    left, names = best.left, " and ".join(plain(shim) for shim in best.shims)
    with_it = f"{as_found(left, resolution_of(state, check))} {check.unit}"
    if least <= left <= most:
        return f"A shim of {names} {check.unit} more leaves {with_it}, between {plain(least)} and {plain(most)}."
    return f"No shim there is brings it back to new: {names} {check.unit} comes nearest and leaves {with_it}."


def apart_said(
    check: Check, values: Sequence[Value], others: Mapping[Spot, Sequence[float]], step: float
) -> tuple[str, ...]:
    """Readings far from what the other benches found, each as a question; nobody is named."""
    said = []
    for spot in dict.fromkeys((value.at, value.across) for value in counted(values)):
        here = [value.value for value in counted(values) if (value.at, value.across) == spot]
        found = apart_from_class(sum(here) / len(here), others.get(spot, ()), step)
        if found:
            low, high = (as_found(end, step) for end in found)
            where = ", ".join(each for each in spot if each)
            count = len(others[spot])
            said.append(
                f"{f'{where[:1].upper()}{where[1:]}: the' if where else 'The'} {count} other benches found {low} to "
                f"{high} {check.unit}. It may be so; read it once more."
            )
    return tuple(said)
