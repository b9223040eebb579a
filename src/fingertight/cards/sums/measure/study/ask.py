"""What is asked of a study, and the table that was typed, worked out."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.study.card import MethodCard, PersonCard, SourceCard, StudyCard
from fingertight.measure.study.anova import Components, OneWay, Source, TwoWay, mean_of, one_way, two_way
from fingertight.measure.study.apart import Compared, Hands, means_apart, scatters_apart
from fingertight.measure.study.fit import Fit, classes, fit, share_of_tolerance, wrong_verdicts
from fingertight.measure.study.ranges import Ranges, by_ranges
from fingertight.measure.study.table import Table, read_table
from fingertight.quantity import NotUnderstood, converted, plain, read_quantity
from fingertight.uncertainty.standard import of_resolution, scatter

Limit = float | None


@dataclass(frozen=True)
class _Worked:
    """The table worked out: the analysis, what a reading varies by (between None where the table has gaps)."""

    sources: tuple[SourceCard, ...]
    components: Components
    error: Source
    ranges: Ranges | None
    full: bool


def _compute(typed: Typed) -> StudyCard:
    unit = typed.unit("unit")
    table = read_table(typed.text("readings"), unit)
    instruments = table.instruments or typed.choice("who") == "instruments"
    order, names, named = _called(table, shown=typed.tick("names") or instruments)
    table = _in_order(table, order)
    tolerance, smallest, largest = _limits(typed, unit)
    worked = _worked(table)
    scatters = _scatters(table)
    means = _means(table, worked)
    methods = _methods(table, worked, tolerance)
    first, between = methods[0], _between_within(len(table.people))
    return StudyCard(
        unit=unit,
        instruments=instruments,
        names=named,
        parts=tuple(part or "1" for part in table.parts),
        people=tuple(_person(table, place, name, means, scatters) for place, name in enumerate(names)),
        sources=worked.sources,
        pooled=worked.components.pooled,
        zeroed=worked.components.zeroed if worked.full else (),
        methods=methods,
        between_at_least=between[0] if worked.full else None,
        between_at_most=between[1] if worked.full else None,
        tolerance=tolerance,
        min=smallest,
        max=largest,
        fit=_fit(first),
        wrong=None
        if first.gauge is None
        else wrong_verdicts(mean_of(_all(table)), first.part or 0.0, first.gauge, smallest, largest),
        split_by_mean=means is not None and means.split,
        split_by_scatter=scatters is not None and scatters.split,
        gaps=_gaps(table),
        decimals=table.decimals,
    )


def _called(table: Table, *, shown: bool) -> tuple[list[int], list[str], str]:
    """The order people stand in, what they are called, and how: by name, by the letters typed, or by letters dealt."""
    order, letters = list(range(len(table.people))), [_letter(place) for place in range(len(table.people))]
    if shown:
        return order, list(table.people), "names"
    if {name.upper() for name in table.people} == set(letters):
        return order, [name.upper() for name in table.people], "letters"
    # Neither the order of the table nor the alphabet says who a letter is; the same table deals the same letters.
    seed = repr((sorted(table.people), table.cells))
    order.sort(key=lambda place: sha256(f"{seed}{table.people[place]}".encode()).digest())
    return order, letters, "dealt"


def _letter(place: int) -> str:
    """A, B … Z, AA, AB …"""
    return ("" if place < 26 else _letter(place // 26 - 1)) + chr(ord("A") + place % 26)


def _in_order(table: Table, order: Sequence[int]) -> Table:
    people = tuple(table.people[place] for place in order)
    return Table(people, table.parts, tuple(table.cells[place] for place in order), table.decimals, table.instruments)


def _all(table: Table) -> list[float]:
    return [value for row in table.cells for cell in row for value in cell]


def _limits(typed: Typed, unit: str) -> tuple[Limit, Limit, Limit]:
    """The tolerance from the smallest size allowed to the largest, and these two; None where nothing was typed."""
    width, smallest, largest = (_limit(typed, name, unit) for name in ("tolerance", "min", "max"))
    if smallest is not None and largest is not None:
        if smallest >= largest:
            raise NotUnderstood(
                f"The limits are turned round: from {plain(smallest)} up to {plain(largest)} {unit}; write the smaller "
                "as Smallest allowed."
            )
        between = round(largest - smallest, 12)
        if width is not None and not math.isclose(width, between, rel_tol=1e-6):
            raise NotUnderstood(
                f"Tolerance: {plain(width)} {unit} was written, and the two limits are {plain(between)} {unit} apart; "
                "leave one of them out."
            )
        width = between
    if width is not None and width <= 0:
        raise NotUnderstood("Tolerance: it has no width; write how far the largest size allowed is from the smallest.")
    return width, smallest, largest


def _limit(typed: Typed, name: str, unit: str) -> Limit:
    text = typed.text(name)
    if not text:
        return None
    label = {"tolerance": "Tolerance", "min": "Smallest allowed", "max": "Largest allowed"}[name]
    try:
        value, said = read_quantity(text, unit)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None
    size = value if said == unit else round(converted(value, said, unit), 9)
    if not abs(size) <= 1e15:
        raise NotUnderstood(f"{label}: “{text}” is no size that is measured; write for example 0.05.")
    return size


def _worked(table: Table) -> _Worked:
    """The analysis the table allows: two-way, or one-way where all read one part, or within its cells."""
    several, full = len(table.parts) > 1, len(table.counts) == 1
    ranges = by_ranges(table.cells) if full else None
    if several and full:
        two = two_way(table.cells)
        return _Worked(tuple(_two_rows(two)), two.components(), two.error, ranges, True)
    one = one_way([cell for row in table.cells for cell in row if cell])
    if several:
        row = _row("reading again, in cells", one.within, None)
        return _Worked((row,), Components(one.within.mean_square, 0.0, 0.0, None), one.within, None, False)
    return _Worked(tuple(_one_rows(one)), one.components(), one.within, ranges, True)


def _two_rows(two: TwoWay) -> list[SourceCard]:
    rows = [_row("parts", two.part, two.error), _row("people", two.person, two.error)]
    rows += [_row("people on parts", two.interaction, two.repeat), _row("reading again", two.repeat, None)]
    return [*rows, _row("the last two as one", two.pooled, None)] if two.pools else rows


def _one_rows(one: OneWay) -> list[SourceCard]:
    return [_row("people", one.between, one.within), _row("reading again", one.within, None)]


def _row(name: str, source: Source, below: Source | None) -> SourceCard:
    f, chance = source.against(below) if below else (None, None)
    return SourceCard(name, source.squares, source.dof, source.mean_square, f, chance)


def _means(table: Table, worked: _Worked) -> Compared | None:
    """Everybody's mean against the others', where the table is full (or of one part)."""
    if not worked.full:
        return None
    rows = [table.all_of(place) for place in range(len(table.people))]
    counts, square, step = [len(row) for row in rows], worked.error.mean_square, _step(table)
    if math.sqrt(square) < step / 2:
        # What the step hides is not averaged out: everybody's readings are rounded the same way each time.
        counts, square = [1] * len(rows), max(square, of_resolution(step) ** 2)
    return means_apart([mean_of(row) for row in rows], counts, square, worked.error.dof)


def _step(table: Table) -> float:
    """The last digit that was written."""
    return 10.0**-table.decimals


def _own(table: Table, place: int) -> tuple[float, int]:
    """One person's variance about their own means, and its degrees of freedom."""
    cells = [cell for cell in table.cells[place] if len(cell) > 1]
    dof = sum(len(cell) - 1 for cell in cells)
    return (math.fsum((len(cell) - 1) * scatter(cell) ** 2 for cell in cells) / dof if dof else 0.0), dof


def _scatters(table: Table) -> Compared | None:
    """Everybody's scatter against the others', where each read something twice."""
    own = [_own(table, place) for place in range(len(table.people))]
    if not all(dof for _, dof in own):
        return None
    least = of_resolution(_step(table)) ** 2  # nobody who reads to a step is steadier than that
    return scatters_apart([max(square, least) for square, _ in own], [dof for _, dof in own])


def _person(table: Table, place: int, name: str, means: Compared | None, scatters: Compared | None) -> PersonCard:
    square, dof = _own(table, place)
    nothing = Hands(0.0, 1.0, False)
    mean = means.hands[place] if means else nothing
    spread = scatters.hands[place] if scatters else nothing
    return PersonCard(
        name=name,
        readings=table.cells[place],
        mean=mean_of(table.all_of(place)),
        away=mean.by if means else None,
        away_chance=mean.chance if means else None,
        apart_by_mean=mean.apart,
        scatter=math.sqrt(square) if dof else None,
        times=spread.by if scatters else None,
        times_chance=spread.chance if scatters else None,
        apart_by_scatter=spread.apart,
    )


def _methods(table: Table, worked: _Worked, tolerance: Limit) -> tuple[MethodCard, ...]:
    found = worked.components
    part = None if found.part is None else math.sqrt(found.part)
    between = math.sqrt(found.between) if worked.full else None
    methods = [_method("analysis of variance", math.sqrt(found.repeat), between, part, tolerance)]
    if worked.ranges:
        by = worked.ranges
        methods.append(_method("average and range", by.repeat, by.person, by.part, tolerance))
    return tuple(methods)


def _method(name: str, repeat: float, between: Limit, part: Limit, tolerance: Limit) -> MethodCard:
    gauge = None if between is None else math.hypot(repeat, between)
    total = None if gauge is None else math.hypot(gauge, part or 0.0)
    known = repeat if gauge is None else gauge
    return MethodCard(
        method=name,
        repeat=repeat,
        between=between,
        gauge=gauge,
        part=part,
        total=total,
        share_of_total=gauge / total if gauge is not None and part is not None and total else None,
        share_of_tolerance=share_of_tolerance(known, tolerance) if tolerance is not None else None,
        classes=classes(part, gauge) if part is not None and gauge is not None else None,
    )


def _fit(method: MethodCard) -> Fit | None:
    """By the tolerance, or without one by all that varies; with gaps only what reading again alone rules out."""
    share = method.share_of_total if method.share_of_tolerance is None else method.share_of_tolerance
    if share is None or not method.repeat:
        return None
    found = fit(share)
    return found if method.gauge is not None or found is Fit.NOT else None


def _between_within(people: int) -> tuple[float, float]:
    """Between which multiples of what was found the true standard deviation between people lies, 95 of 100 times.

    √(f / χ²) for f = people − 1, as if reading again added nothing.
    """
    from scipy.special import chdtri

    dof = people - 1
    return math.sqrt(dof / float(chdtri(dof, 0.025))), math.sqrt(dof / float(chdtri(dof, 0.975)))


def _gaps(table: Table) -> dict[str, int]:
    found: dict[str, int] = {}
    for _, part, lacking in table.gaps:
        name = table.parts[part] or "1"
        found[name] = found.get(name, 0) + lacking
    return found


SUM = Sum(
    name="study",
    title="Study the measuring",
    question="how far the same hands differ, how far hands differ from each other, who stands apart, and whether the "
    "gauge is fit for a limit",
    fields=(
        Field("readings", "Readings", "lines", "a line for each part and person: part person reading reading …; "
              "without the part where all read the same one; letters will do for names", "3 Ann 68.152 68.155",
              must=True, first=True),
        Field("tolerance", "Tolerance", "text", "how far the largest size allowed is from the smallest", "0.05"),
        Field("min", "Smallest allowed", "text", "with the largest: the limits that are judged by", "67.980"),
        Field("max", "Largest allowed", "text", "with the smallest: the limits that are judged by", "68.020"),
        Field("unit", "Unit", "unit", "what is meant where none is typed", usual="mm",
              choices=("mm", "in", "thou", "µm", "deg", "bar", "kPa", "psi", "N·m", "lb·ft", "ml", "g")),
        Field("who", "Compared are", "choice", "who or what stands beside the readings", usual="people",
              choices=("people", "instruments")),
        Field("names", "Names", "tick", "with names, for the instructor; without, people stand as letters"),
    ),
    compute=_compute,
    card=StudyCard,
    example="readings.csv --tolerance 0.05",
    more="Two readings or more of each part by each, without a look at the first. CSV with a header (part, person, "
    "trial, reading) will do too; - reads standard input.",
)  # fmt: skip
