"""What is measured: a place for each reading, what was read there, and the verdict on its bar."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fingertight.anatomy.model import Check
from fingertight.cards.bench.moves import Fact
from fingertight.cards.card import Card
from fingertight.cards.pictures.bars import Bar, bar
from fingertight.ledger.folds.judged import verdict_of
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State, Value
from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.verdict import Verdict, Word
from fingertight.quantity import as_read, converted, plain, shown, unsure_by

Typed = Mapping[str, str]
FINEST = 0.001


@dataclass(frozen=True)
class Cell(Card):
    """A place for one reading: the form's field, its label, what was typed and not taken, what was read last."""

    field: str
    label: str
    typed: str
    last: str


@dataclass(frozen=True)
class ReadingRow(Card):
    """The readings at one height."""

    at: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class SizeCard(Card):
    """One check. `waits` says what is to come off first; without it readings can be taken. A gap has no rows."""

    id: str
    title: str
    about: str
    unit: str
    columns: tuple[str, ...]
    rows: tuple[ReadingRow, ...]
    waits: str
    verdict: str
    sentence: str
    bar: Bar | None
    facts: tuple[Fact, ...]
    decide: tuple[str, ...]
    problem: str


def size_card(state: State, check: Check, typed: Typed, problem: str) -> SizeCard:
    """What is to be measured, what was read, and what it says? `typed`, `problem`: what was not taken, and why."""
    found = verdict_of(state, check.id)
    decided = state.decided.get(check.id)
    values = state.values.get(check.id, [])
    still_on = [part for part in check.bare if state.moves.is_on(part)]
    return SizeCard(
        id=check.id,
        title=check.title,
        about=_about(state, check),
        unit=check.unit,
        columns=check.across,
        rows=() if check.gap else _rows(check, values, typed, resolution_of(state, check)),
        waits=_waits(state, still_on),
        verdict=str(decided or (found.word if found else "")),
        sentence=_sentence(check, found, decided, resolution_of(state, check)),
        bar=_bar(state, check, values),
        facts=_facts(state, check, values),
        decide=("good", "worn") if found and not decided and found.word is not Word.GOOD else (),
        problem=problem,
    )


def field_of(row: int, column: int) -> str:
    """The form's field for the reading at a height and in a direction, both counted from 0."""
    return f"value-{row}-{column}"


def resolution_of(state: State, check: Check) -> float:
    """To which step a size of this check is read, a gap to the finer of its two [unit of the check]."""
    checks = state.plan.anatomy.check_by_id
    if check.gap:
        return min(resolution_of(state, checks[one]) for one in (check.gap.outer, check.gap.inner))
    instrument = state.plan.anatomy.instrument_by_id.get(check.instrument or "")
    return converted(instrument.resolution, instrument.unit, check.unit) if instrument else FINEST


def _about(state: State, check: Check) -> str:
    anatomy = state.plan.anatomy
    said = []
    if check.gap:
        outer, inner = (anatomy.check_by_id[one].title for one in (check.gap.outer, check.gap.inner))
        said.append(f"{outer} at its largest less {inner} at its smallest")
    elif check.of:
        said.append(check.of[:1].upper() + check.of[1:])
    if check.instrument:
        said.append(f"with {anatomy.instrument_by_id[check.instrument].title}")
    limits = []
    if check.new:
        limits.append(f"new {plain(check.new[0])} to {plain(check.new[1])}")
    if check.min is not None:
        limits.append(f"worn below {plain(check.min)}")
    if check.max is not None:
        limits.append(f"worn past {plain(check.max)}")
    about = ", ".join(said)
    return " ".join(
        text
        for text in (f"{about}." if about else "", f"{listed(limits).capitalize()} {check.unit}." if limits else "")
        if text
    )


def _waits(state: State, still_on: list[str]) -> str:
    if not still_on:
        return ""
    names = state.plan.titles(still_on)
    are, those_are = ("is", "that is") if len(still_on) == 1 else ("are", "those are")
    return f"{names} {are} still on; it is measured once {those_are} off."


def _rows(check: Check, values: list[Value], typed: Typed, step: float) -> tuple[ReadingRow, ...]:
    heights: tuple[str | None, ...] = check.at or (None,)
    directions: tuple[str | None, ...] = check.across or (None,)
    rows = []
    for row, at in enumerate(heights):
        cells = []
        for column, across in enumerate(directions):
            here = [value for value in values if (value.at, value.across) == (at, across)]
            label = ", ".join(text for text in (check.title, at, across) if text) + f", {check.unit}"
            last = ", ".join(as_read(value.value, step) + (" (odd)" if value.odd else "") for value in here)
            cells.append(Cell(field_of(row, column), label, typed.get(field_of(row, column), ""), last))
        rows.append(ReadingRow(at or "reading", tuple(cells)))
    return tuple(rows)


def _sentence(check: Check, found: Verdict | None, decided: Word | None, resolution: float) -> str:
    if decided:
        return f"{str(decided).capitalize()}: the instructor decided."
    if found is None:
        return "It follows once both are measured." if check.gap else ""
    margin, side = _margin(check, found, resolution), "inside" if found.margin >= 0 else "past"
    if found.word is Word.CLOSE:
        where = f"{margin} {side} its nearest limit" if margin else "right at its nearest limit"
        unsure = unsure_by(found.uncertainty, resolution)
        return f"Too close to call: {where}, and that may be {unsure} {check.unit} out."
    return f"{str(found.word).capitalize()}: {f'{margin} {side}' if margin else 'right at'} the limit."


def _margin(check: Check, found: Verdict, step: float) -> str:
    """How far from the limit, with the digits that size and limits have; "" where it is nothing, never 0.000."""
    limits = (check.min, check.max, check.out_of_round_max, check.taper_max)
    stated = [len(plain(limit).partition(".")[2]) for limit in limits if limit is not None]
    finest = min(10.0 ** math.floor(math.log10(step) + 1e-9), 10.0 ** -max(stated, default=0))
    said = shown(round(abs(found.margin), 9), finest)
    if said.strip("0."):
        return f"{said} {check.unit}"
    return f"less than {plain(finest)} {check.unit}" if round(found.margin, 9) else ""


def _counted(values: list[Value]) -> list[Value]:
    return [value for value in values if not value.odd]


def _bar(state: State, check: Check, values: list[Value]) -> Bar | None:
    counted = [value.value for value in _counted(values)]
    limit = check.max if check.max is not None else check.min
    if not counted or limit is None:
        return None
    worst = max(counted) if check.max is not None else min(counted)
    unsure, step = state.plan.uncertainty(check), resolution_of(state, check)
    # Without an instrument nobody knows how sure the size is: then it stands alone, not as ± 0.
    value = f"{as_read(worst, step)} ± {unsure_by(unsure, step)}" if unsure else as_read(worst, step)
    limits = [*(check.new or ()), limit]
    new = f"new {plain(check.new[0])} to {plain(check.new[1])}, " if check.new else ""
    sentence = f"{check.title} {value} {check.unit}; {new}limit {plain(limit)} {check.unit}"
    texts = (value, sentence, *map(plain, limits))
    return bar(worst, unsure, check.new, limit, past_is_above=check.max is not None, texts=texts)


def _facts(state: State, check: Check, values: list[Value]) -> tuple[Fact, ...]:
    taken = [(value.at, value.across, value.value) for value in _counted(values)]
    step = resolution_of(state, check)
    said = []
    spreads = (("Out of round", check.out_of_round_max, out_of_round(taken)), ("Taper", check.taper_max, taper(taken)))
    for name, limit, spread in spreads:
        if limit is not None:
            read = f"{as_read(round(spread, 9), step)} {check.unit}" if spread is not None else "needs more readings"
            said.append(Fact(name, f"{read}, limit {plain(limit)}"))
    if taken:
        unsure = unsure_by(state.plan.uncertainty(check), step)
        said.append(Fact("Unsure by", f"± {unsure} {check.unit} (95 of 100 times)"))
    return tuple(said)
