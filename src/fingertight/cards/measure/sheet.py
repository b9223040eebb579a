"""The measuring sheet of a job: each size with readings and verdict, what is still to be measured, what to order."""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Check
from fingertight.cards.bench.sizes import OrderLine, limits_said, order_lines, resolution_of, size_card
from fingertight.cards.card import Card
from fingertight.cards.measure.said import facts, lead, shim_said
from fingertight.cards.sums.answer import FIRST
from fingertight.ledger.asked.measured import slips_of, standing_of
from fingertight.ledger.state import State
from fingertight.measure.verdict import Word
from fingertight.quantity import as_found, as_read, unsure_by

SHORT_HASH = 12
JUDGED = (
    "Good and worn are each proven with the whole uncertainty (ISO 14253-1:2017); between lies too close to call. "
    "± is what instrument, repeats and temperature allow, 95 of 100 times (GUM, JCGM 100:2008)."
)


@dataclass(frozen=True)
class SpotRead(Card):
    """What was read at one spot [unit of the check], and whether it is questioned."""

    at: str
    across: str
    readings: tuple[float, ...]
    questioned: bool


@dataclass(frozen=True)
class MeasuredSize(Card):
    """One check. verdict: "" while there is none; size and U: what decided, and its expanded uncertainty, null where
    nothing did [unit of the check]. waits: what must come off before it can be measured."""

    check: str
    title: str
    part: str
    unit: str
    min: float | None
    max: float | None
    new: tuple[float, float] | None
    spots: tuple[SpotRead, ...]
    verdict: str
    decided: bool
    size: float | None
    U: float | None
    chance_good: float | None
    waits: str
    sentence: Annotated[str, Field(exclude=True)]
    limits: Annotated[str, Field(exclude=True)]
    reads: Annotated[tuple[tuple[str, str], ...], Field(exclude=True)]
    size_says: Annotated[str, Field(exclude=True)]
    more: Annotated[tuple[str, ...], Field(exclude=True)]


@dataclass(frozen=True)
class MeasuringSheetCard(Card):
    """All sizes of a machine as one job has measured them, and what is to be ordered.

    `text_sha256`: the first 12 digits of the SHA-256 of the machine file's text. `file`: the PDF written, or "".
    """

    machine: str
    bench: str
    text_sha256: str
    file: str
    sizes: tuple[MeasuredSize, ...]
    to_order: tuple[OrderLine, ...]
    first: Annotated[str, Field(exclude=True)] = FIRST
    judged: Annotated[str, Field(exclude=True)] = JUDGED

    @property
    def is_no(self) -> bool:
        """Whether something is worn, or too close to call and not decided."""
        return any(size.verdict in {Word.WORN.value, Word.CLOSE.value} for size in self.sizes)

    @property
    def measured(self) -> tuple[MeasuredSize, ...]:
        """Those that say something already, the worn ones first, then those too close to call."""
        rank = {Word.WORN.value: 0, Word.CLOSE.value: 1, "": 2, Word.GOOD.value: 3}
        said = [size for size in self.sizes if size.verdict or size.spots]
        return tuple(sorted(said, key=lambda size: rank[size.verdict]))

    @property
    def still(self) -> tuple[MeasuredSize, ...]:
        """Those that have no reading yet."""
        return tuple(size for size in self.sizes if not size.verdict and not size.spots)


def measuring_sheet(state: State, text_sha256: str, *, bench: str = "", file: str = "") -> MeasuringSheetCard:
    """What has been measured in this job, what does it say, and what is to be ordered?"""
    anatomy = state.plan.anatomy
    return MeasuringSheetCard(
        machine=anatomy.machine.name,
        bench=bench,
        text_sha256=text_sha256[:SHORT_HASH],
        file=file,
        sizes=tuple(_measured(state, check) for check in anatomy.checks),
        to_order=order_lines(state),
    )


def _measured(state: State, check: Check) -> MeasuredSize:
    card, standing = size_card(state, check), standing_of(state, check)
    verdict, step = standing.verdict if standing else None, resolution_of(state, check)
    values = state.values.get(check.id, [])
    spots = _spots(state, check)
    shown = as_found(verdict.worst, step) if verdict else ""
    unsure = f" ± {unsure_by(verdict.uncertainty, step)}" if verdict and verdict.uncertainty else ""
    said = [f"{fact.about}: {fact.text}." for fact in facts(state, check, values, standing) if "limit" in fact.text]
    open_ones = lead(state, check, standing) if card.verdict == Word.CLOSE.value else ()
    return MeasuredSize(
        check=check.id,
        title=check.title,
        part=check.part or "",
        unit=check.unit,
        min=check.min,
        max=check.max,
        new=check.new,
        spots=spots,
        verdict=card.verdict,
        decided=check.id in state.decided,
        size=round(verdict.worst, 9) if verdict else None,
        U=verdict.uncertainty if verdict else None,
        chance_good=standing.chance_good if standing else None,
        waits=card.waits,
        sentence=card.sentence,
        limits=limits_said(check).rstrip("."),
        reads=tuple(_said(spot, step) for spot in spots),
        size_says=f"{shown}{unsure} {check.unit}" if shown else "",
        more=(*said, *open_ones, *([shim] if (shim := shim_said(state, check)) else [])),
    )


def _spots(state: State, check: Check) -> tuple[SpotRead, ...]:
    asked = slips_of(state, check)
    found: dict[tuple[str | None, str | None], tuple[tuple[float, ...], bool]] = {}
    for value in state.values.get(check.id, ()):
        spot = (value.at, value.across)
        readings, questioned = found.get(spot, ((), False))
        found[spot] = ((*readings, round(value.value, 9)), questioned or value.odd or spot in asked)
    return tuple(SpotRead(at or "", across or "", *read) for (at, across), read in found.items())


def _said(spot: SpotRead, step: float) -> tuple[str, str]:
    """Where it was read, and what, with a question mark where that is questioned."""
    read = ", ".join(as_read(round(one, 6), step) for one in spot.readings)
    return ", ".join(each for each in (spot.at, spot.across) if each), f"{read} ?" if spot.questioned else read
