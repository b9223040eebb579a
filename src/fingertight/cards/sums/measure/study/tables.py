"""The tables and the pictures of a study."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.study.readings import by_part, by_person
from fingertight.cards.pictures.study.shares import share_bars
from fingertight.cards.sums.answer import Section
from fingertight.cards.sums.measure.study.card import MethodCard
from fingertight.cards.sums.measure.study.said import hands
from fingertight.cards.sums.measure.words import chance_words, sized
from fingertight.measure.study.fit import GOOD_UP_TO, MAY_DO_UP_TO
from fingertight.quantity import plain, shown

if TYPE_CHECKING:
    from fingertight.cards.sums.measure.study.card import StudyCard


def sections(card: "StudyCard") -> Iterator[Section]:
    """Both methods side by side, everybody against the others, then the analysis of variance."""
    yield _methods(card)
    yield _people(card)
    if card.sources:
        rows = tuple(
            (
                one.name,
                _figures(one.squares),
                str(one.degrees_of_freedom),
                _figures(one.mean_square),
                "" if one.f is None else _figures(one.f),
                "" if one.chance is None else chance_words(one.chance),
            )
            for one in card.sources
        )
        yield Section(
            "Analysis of variance",
            rows,
            ("source", "sum of squares", "degrees of freedom", "mean square", "F", "by chance alone"),
        )


def _methods(card: "StudyCard") -> Section:
    asked: tuple[tuple[str, Callable[[MethodCard], str | None]], ...] = (
        ("reading again (repeatability)", lambda one: sized(one.repeat)),
        (f"between {hands(card)} (reproducibility)", lambda one: None if one.between is None else sized(one.between)),
        (f"gauge and {hands(card)} together", lambda one: None if one.gauge is None else sized(one.gauge)),
        ("parts", lambda one: None if one.part is None else sized(one.part)),
        ("all that varies", lambda one: None if one.total is None else sized(one.total)),
        ("share of all that varies", lambda one: _percent(one.share_of_total)),
        ("share of the tolerance", lambda one: _percent(one.share_of_tolerance)),
        ("classes of part", lambda one: None if one.classes is None else str(one.classes)),
    )
    rows = [(what, *(say(one) or "" for one in card.methods)) for what, say in asked]
    known = tuple(row for row in rows if any(row[1:]))
    return Section(
        f"Standard deviations [{card.unit}]", known, ("", *(f"by {one.method}" for one in card.methods))
    )  # fmt: skip


def _percent(share: float | None) -> str | None:
    return None if share is None else f"{100 * share:.1f} %"


def _people(card: "StudyCard") -> Section:
    step = 10.0 ** -(card.decimals + 1)
    rows = []
    for person in card.people:
        away = "" if person.away is None else f"{'+' if person.away > 0 else ''}{shown(person.away, step)}"
        times = "" if person.times is None else f"{person.times:.1f} times"
        stands = [
            what for what, is_so in (("mean", person.apart_by_mean), ("scatter", person.apart_by_scatter)) if is_so
        ]
        scatter = "" if person.scatter is None else sized(person.scatter)
        rows.append((person.name, shown(person.mean, step), away, scatter, times, " and ".join(stands)))
    columns = ("", f"mean [{card.unit}]", "from the others", "scatter", "of the others’", "stands apart by")
    return Section("Everybody", tuple(rows), columns)


def _figures(value: float) -> str:
    """Five figures that mean something."""
    return plain(float(f"{value:.5g}"))


def drawings(card: "StudyCard") -> Iterator[Drawing]:
    """What was read, and where what it varies by comes from."""
    cells = [person.readings for person in card.people]
    names = [person.name for person in card.people]
    apart = {place for place, one in enumerate(card.people) if one.apart_by_mean or one.apart_by_scatter}
    within = (card.min, card.max)
    if card.several:
        said = f"Every reading over its part, {len(card.parts)} parts; a line joins the means of each of {len(names)}."
        yield by_part(cells, names, card.parts, limits=within, apart=apart, says=said)
    # A table with gaps has no mean of a part that all read alike.
    if not (card.several and card.gaps):
        less = " less the mean of its part" if card.several else ""
        said = f"Every reading{less}, over who read it; a bar is their mean."
        yield by_person(cells, names, limits=within, apart=apart, says=said)
    shares = _shares(card)
    if shares:
        yield share_bars(shares, card.counts.share_of_tolerance, (GOOD_UP_TO, MAY_DO_UP_TO))


def _shares(card: "StudyCard") -> list[tuple[str, float]]:
    """Of the variance: reading again, between hands, parts."""
    one = card.counts
    if one.total is None or one.between is None or one.total <= 0:
        return []
    rows = [("reading again", one.repeat), (f"between {hands(card)}", one.between)]
    if one.part is not None:
        rows.append(("parts", one.part))
    return [(name, (value / one.total) ** 2) for name, value in rows]
