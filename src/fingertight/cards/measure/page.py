"""One size being measured: where the instrument goes, the readings, and what they say so far."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Check, Instrument
from fingertight.cards.bench.moves import Fact
from fingertight.cards.bench.page import FlagCard, JobName, flag_card
from fingertight.cards.bench.sizes import SizeCard, limits_said, resolution_of, size_card
from fingertight.cards.card import Card
from fingertight.cards.measure.linked import SumLink, sum_of_check
from fingertight.cards.measure.said import apart_said, facts, lead, shim_said, unfit
from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.instruments.drawn import drawn_for
from fingertight.cards.pictures.measured.places import Place, places_drawing
from fingertight.cards.sums.answer import Section
from fingertight.cards.sums.measure.words import RULES, budget_section, rules_section
from fingertight.ledger.asked.measured import Standing, could_measure, slips_of, standing_of
from fingertight.ledger.readings.sized import instrument_of, part_grows
from fingertight.ledger.state import State, Value
from fingertight.measure.temperature import LONG_MM
from fingertight.measure.verdict import Word
from fingertight.quantity import as_read, converted, in_house, plain

Spot = tuple[str | None, str | None]
Typed = Mapping[str, str]
Others = Mapping[Spot, Sequence[float]]
"""What the other benches with this machine read, by spot [unit of the check]."""


@dataclass(frozen=True)
class Cell(Card):
    """A place for one reading: its number in the picture, the form's field, its label, what was typed and not taken,
    what was read last, what is asked about it."""

    number: int
    field: str
    label: str
    typed: str
    last: str
    asks: str


@dataclass(frozen=True)
class ReadingRow(Card):
    """The readings at one height."""

    at: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Choice(Card):
    """An instrument to measure with. `draws`: what its picture is asked for with, "" where there is none."""

    id: str
    title: str
    unit: str
    draws: str
    chosen: bool


@dataclass(frozen=True)
class NextSize(Card):
    """Another size that can be measured now and was not."""

    id: str
    title: str


@dataclass(frozen=True)
class SizePageCard(Card):
    """The page of one check. A gap has no rows: it names its `sources`.

    where: the part with its spots numbered. looks: the instrument as it stood at the last reading. unit: of what it can
    be measured with; "" where that has several, and the page cannot know which is taken. temperature: as typed and not
    taken; None where nobody asks. was_warm: at the last reading. unfit: said where the instrument that
    is picked could never call it good. lead, shim, apart: sentences under
    the verdict. sections: the budget and the ways to decide, opened where they are wanted.
    """

    job: JobName
    size: SizeCard
    part: str
    how: str
    limits: str
    unit: str
    columns: tuple[str, ...]
    rows: tuple[ReadingRow, ...]
    sources: tuple[NextSize, ...]
    instruments: tuple[Choice, ...]
    temperature: str | None
    was_warm: str
    where: Drawing | None
    looks: Drawing | None
    looks_says: str
    frame: str
    unfit: str
    lead: tuple[str, ...]
    shim: str
    apart: tuple[str, ...]
    facts: tuple[Fact, ...]
    sections: tuple[Section, ...]
    read_with: tuple[str, ...]
    decide: tuple[str, ...]
    link: SumLink | None
    next: NextSize | None
    flags: tuple[FlagCard, ...]
    problem: str


def size_page_card(
    job: JobName,
    state: State,
    check_id: str,
    *,
    others: Others | None = None,
    typed: Typed | None = None,
    problem: str = "",
    chosen: str = "",
) -> SizePageCard:
    """What is to be read, what was read, and what it says?

    others: what other benches read. typed, problem: a form that was not taken, and why. chosen: the instrument picked.
    Raises KeyError where the machine has no such check.
    """
    check = state.plan.anatomy.check_by_id[check_id]
    values, said = state.values.get(check_id, []), dict(typed or {})
    size, standing = size_card(state, check), standing_of(state, check)
    choices = _choices(state, check, values, said.get("instrument", "") or chosen)
    using = state.plan.anatomy.instrument_by_id.get(next((one.id for one in choices if one.chosen), ""))
    undecided = standing is not None and not state.decided.get(check_id) and standing.verdict.word is not Word.GOOD
    looks, looks_says = _looks(state, check, values)
    return SizePageCard(
        job=job,
        size=size,
        part=check.part or "",
        how=f"{check.of[:1].upper()}{check.of[1:]}." if check.of else "",
        limits=limits_said(check)[:1].upper() + limits_said(check)[1:],
        unit=_unit(check, choices),
        columns=check.across,
        rows=() if check.gap else _rows(state, check, values, said),
        sources=_sources(state, check),
        instruments=choices,
        temperature=said.get("temperature", "") if using and _is_long(check) and part_grows(state, check) else None,
        was_warm=_was_warm(values),
        where=None if check.gap else places_drawing(check.shape, _places(check, values)),
        looks=looks,
        looks_says=looks_says,
        frame=_frame(using),
        unfit=unfit(check, using),
        lead=lead(state, check, standing),
        shim=shim_said(state, check),
        apart=apart_said(check, values, others or {}, resolution_of(state, check)),
        facts=facts(state, check, values, standing),
        sections=_sections(standing, check),
        read_with=RULES,
        decide=(Word.GOOD.value, Word.WORN.value) if undecided else (),
        link=sum_of_check(state, check, values),
        next=_next(state, check),
        flags=tuple(flag_card(flag) for flag in state.flags.about(check_id)),
        problem=problem,
    )


def _sections(standing: Standing | None, check: Check) -> tuple[Section, ...]:
    """The budget line by line, and what each published way to decide would say."""
    if standing is None or not standing.budget.lines:
        return ()
    budget, worst = standing.budget, standing.verdict.worst
    return budget_section(budget, check.unit), rules_section(worst, standing.within, budget, check.unit)


def field_of(row: int, column: int) -> str:
    """The form's field for the reading at a height and in a direction, both counted from 0."""
    return f"value-{row}-{column}"


def _spots(check: Check) -> list[list[Spot]]:
    """The spots of a check, a list for each height."""
    heights: tuple[str | None, ...] = check.at or (None,)
    directions: tuple[str | None, ...] = check.across or (None,)
    return [[(at, across) for across in directions] for at in heights]


def _rows(state: State, check: Check, values: Sequence[Value], typed: Typed) -> tuple[ReadingRow, ...]:
    asked = slips_of(state, check)
    rows, number = [], 0
    for row, spots in enumerate(_spots(check)):
        cells = []
        for column, (at, across) in enumerate(spots):
            number += 1
            here = [value for value in values if (value.at, value.across) == (at, across)]
            field = field_of(row, column)
            label = ", ".join(text for text in (check.title, at, across) if text)
            asks = asked.get((at, across), "")
            asks = "Cannot be right: read it again." if any(value.odd for value in here) else asks
            last = ", ".join(_read(state, check, value) for value in here)
            cells.append(Cell(number, field, label, typed.get(field, ""), last, asks))
        rows.append(ReadingRow(spots[0][0] or "", tuple(cells)))
    return tuple(rows)


def _read(state: State, check: Check, value: Value) -> str:
    """A reading in the unit of what it was read with, as that shows it."""
    instrument = instrument_of(state, check, value.instrument)
    if instrument is None:
        return plain(round(value.value, 6))
    size = round(converted(value.value, check.unit, instrument.unit), 9)
    unit = f" {instrument.unit}" if instrument.unit != check.unit else ""
    return f"{as_read(size, instrument.resolution)}{unit}"


def _places(check: Check, values: Sequence[Value]) -> list[Place]:
    done = {(value.at, value.across) for value in values if not value.odd}
    return [Place(at or "", across or "", (at, across) in done) for spots in _spots(check) for at, across in spots]


def _choices(state: State, check: Check, values: Sequence[Value], chosen: str) -> tuple[Choice, ...]:
    """What it can be measured with; chosen is what was picked, else what was used last, else the check's own."""
    if check.gap:
        return ()
    could = could_measure(state, check) if check.instrument else ()
    wanted = [chosen, *(value.instrument or "" for value in reversed(values)), check.instrument or ""]
    ids = [one.id for one in could]
    pick = next((each for each in wanted if each in ids), "")
    return tuple(Choice(one.id, one.title, one.unit, _draws(one), one.id == pick) for one in could)


def _unit(check: Check, choices: Sequence[Choice]) -> str:
    """The one unit there can be; "" where instruments of several can be picked."""
    units = {one.unit for one in choices} or {check.unit}
    return units.pop() if len(units) == 1 else ""


def _is_long(check: Check) -> bool:
    """Whether warmth changes the size by anything: a gap or a float of tenths grows by nothing that is seen."""
    known = [size for size in (*(check.new or ()), check.min, check.max) if size is not None]
    return check.shape not in {"face", "float", "ring"} and in_house(max(known, default=0.0), check.unit) >= LONG_MM


def _draws(instrument: Instrument) -> str:
    """What the picture of an instrument is asked for with; "" where there is none to draw."""
    low = instrument.range[0] if instrument.range else 0.0
    if drawn_for(instrument.kind or "", instrument.unit, instrument.resolution, low) is None:
        return ""
    return f"kind={(instrument.kind or '').replace(' ', '+')}&unit={instrument.unit}&resolution={instrument.resolution}"


def _looks(state: State, check: Check, values: Sequence[Value]) -> tuple[Drawing | None, str]:
    """The instrument at the reading that came last, and which reading that is."""
    if not values:
        return None, ""
    last = values[-1]
    instrument = instrument_of(state, check, last.instrument)
    if instrument is None or instrument.kind is None:
        return None, ""
    size = round(converted(last.value, check.unit, instrument.unit), 9)
    drawn = drawn_for(instrument.kind, instrument.unit, instrument.resolution, size)
    return drawn, f"{_read(state, check, last)} {'' if instrument.unit != check.unit else check.unit}".strip()


def _frame(instrument: Instrument | None) -> str:
    """What a large micrometer's frame adds to what stands on sleeve and thimble; "" for all else."""
    if instrument is None or instrument.kind != "micrometer" or not instrument.range or not instrument.range[0]:
        return ""
    return f"Its frame adds {plain(instrument.range[0])} {instrument.unit} to what is drawn."


def _was_warm(values: Sequence[Value]) -> str:
    """How warm it was at the last reading that says it: beside the box, for today it may be colder."""
    said = next((value.temperature_c for value in reversed(values) if value.temperature_c is not None), None)
    return "" if said is None else f"{plain(said)} °C"


def _sources(state: State, check: Check) -> tuple[NextSize, ...]:
    if check.gap is None:
        return ()
    checks = state.plan.anatomy.check_by_id
    return tuple(NextSize(one, checks[one].title) for one in (check.gap.outer, check.gap.inner))


def _next(state: State, check: Check) -> NextSize | None:
    """The next size in the file that can be measured now and has no reading yet, from this one on."""
    checks = state.plan.anatomy.checks
    here = next(nth for nth, one in enumerate(checks) if one.id == check.id)
    for one in (*checks[here + 1 :], *checks[:here]):
        bare = not any(state.moves.is_on(part) for part in one.bare)
        if bare and one.gap is None and not state.values.get(one.id):
            return NextSize(one.id, one.title)
    return None
