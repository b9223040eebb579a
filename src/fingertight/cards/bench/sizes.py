"""What is measured, as the bench lists it: each size with what it waits for, its verdict and its bar."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Check
from fingertight.cards.card import Card
from fingertight.cards.pictures.bars import Bar, bar
from fingertight.ledger.asked.measured import Standing, slips_of, standing_of
from fingertight.ledger.asked.wanted import to_order
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State, Value
from fingertight.measure.verdict import Verdict, Word
from fingertight.quantity import as_found, converted, plain, shown, unsure_by

FINEST = 0.001


@dataclass(frozen=True)
class SizeCard(Card):
    """One check. `waits` says what is to come off first; without it readings can be taken. `is_gap`: it follows from
    two other checks. `asks`: how many of its readings are questioned."""

    id: str
    title: str
    about: str
    unit: str
    is_gap: bool
    waits: str
    verdict: str
    sentence: str
    bar: Bar | None
    asks: int


@dataclass(frozen=True)
class OrderLine(Card):
    """One thing to order: how many of what, why, and whether that is not sure yet."""

    part: str
    count: int
    name: str
    why: str
    perhaps: bool


def order_lines(state: State) -> tuple[OrderLine, ...]:
    """What is to be ordered for this machine now, in the order of its file?"""
    lines = []
    for one in to_order(state):
        title = state.plan.parts[one.part].title
        why = one.why if title in one.name else f"{one.why}, for {title}"
        lines.append(OrderLine(one.part, one.count, one.name, why, one.perhaps))
    return tuple(lines)


def size_card(state: State, check: Check) -> SizeCard:
    """What is to be measured, and what the readings say so far?"""
    standing = standing_of(state, check)
    found = standing.verdict if standing else None
    decided = state.decided.get(check.id)
    values = state.values.get(check.id, [])
    still_on = [part for part in check.bare if state.moves.is_on(part)]
    return SizeCard(
        id=check.id,
        title=check.title,
        about=_about(state, check),
        unit=check.unit,
        is_gap=check.gap is not None,
        waits=_waits(state, still_on),
        verdict=str(decided or (found.word if found else "")),
        sentence=_sentence(check, standing, decided, resolution_of(state, check)),
        bar=_bar(state, check, standing, values),
        asks=sum(value.odd for value in values) + len(slips_of(state, check)),
    )


def resolution_of(state: State, check: Check) -> float:
    """To which step a size of this check is read, a gap to the finer of its two [unit of the check]."""
    checks = state.plan.anatomy.check_by_id
    if check.gap:
        return min(resolution_of(state, checks[one]) for one in (check.gap.outer, check.gap.inner))
    instrument = state.plan.anatomy.instrument_by_id.get(check.instrument or "")
    return converted(instrument.resolution, instrument.unit, check.unit) if instrument else FINEST


def counted(values: Sequence[Value]) -> list[Value]:
    """The readings that count: those that cannot be right do not."""
    return [value for value in values if not value.odd]


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
    about, limits = ", ".join(said), limits_said(check)
    return " ".join(text for text in (f"{about}." if about else "", f"{limits[:1].upper()}{limits[1:]}") if text)


def limits_said(check: Check) -> str:
    """The limits in a sentence; "" where the file states none."""
    limits = []
    if check.new:
        limits.append(f"new {plain(check.new[0])} to {plain(check.new[1])}")
    if check.min is not None:
        limits.append(f"worn below {plain(check.min)}")
    if check.max is not None:
        limits.append(f"worn past {plain(check.max)}")
    return f"{listed(limits)} {check.unit}." if limits else ""


def _waits(state: State, still_on: list[str]) -> str:
    if not still_on:
        return ""
    names = state.plan.titles(still_on)
    are, those_are = ("is", "that is") if len(still_on) == 1 else ("are", "those are")
    return f"{names} {are} still on; it is measured once {those_are} off."


def _sentence(check: Check, standing: Standing | None, decided: Word | None, resolution: float) -> str:
    if decided:
        return f"{str(decided).capitalize()}: the instructor decided."
    if standing is None:
        return "It follows once both are measured." if check.gap else ""
    found, of = standing.verdict, f" for {standing.spread}" if standing.spread else ""
    margin, side = _margin(check, found, resolution), "inside" if found.margin >= 0 else "past"
    if found.word is Word.CLOSE:
        where = f"{margin} {side} its nearest limit{of}" if margin else f"right at its nearest limit{of}"
        unsure = unsure_by(found.uncertainty, resolution)
        return f"Too close to call: {where}, and that may be {unsure} {check.unit} out."
    return f"{str(found.word).capitalize()}: {f'{margin} {side}' if margin else 'right at'} the limit{of}."


def _margin(check: Check, found: Verdict, step: float) -> str:
    """How far from the limit, with the digits that size and limits have; "" where it is nothing, never 0.000."""
    limits = (check.min, check.max, check.out_of_round_max, check.taper_max)
    stated = [len(plain(limit).partition(".")[2]) for limit in limits if limit is not None]
    finest = min(10.0 ** math.floor(math.log10(step) + 1e-9), 10.0 ** -max(stated, default=0))
    said = shown(round(abs(found.margin), 9), finest)
    if said.strip("0."):
        return f"{said} {check.unit}"
    return f"less than {plain(finest)} {check.unit}" if round(found.margin, 9) else ""


def _bar(state: State, check: Check, standing: Standing | None, values: Sequence[Value]) -> Bar | None:
    limit = check.max if check.max is not None else check.min
    taken = [value.value for value in counted(values)]
    if limit is None or (not taken and (standing is None or check.gap is None)):
        return None
    past_is_above = check.max is not None
    if standing and not standing.of_shape:
        worst, unsure = standing.verdict.worst, standing.verdict.uncertainty
    else:
        worst, unsure = max(taken) if past_is_above else min(taken), state.plan.uncertainty(check)
    step = resolution_of(state, check)
    # Without an instrument nobody knows how sure the size is: then it stands alone, not as ± 0.
    value = f"{as_found(worst, step)} ± {unsure_by(unsure, step)}" if unsure else as_found(worst, step)
    limits = [*(check.new or ()), limit]
    new = f"new {plain(check.new[0])} to {plain(check.new[1])}, " if check.new else ""
    sentence = f"{check.title} {value} {check.unit}; {new}limit {plain(limit)} {check.unit}"
    texts = (value, sentence, *map(plain, limits))
    return bar(worst, unsure, check.new, limit, past_is_above=past_is_above, texts=texts)
