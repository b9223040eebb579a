"""A size against its limits, with its uncertainty, as these sums show it; and the boxes they share."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Section
from fingertight.cards.sums.asked import Field, Typed
from fingertight.cards.sums.measure.typed import sizes_of
from fingertight.cards.sums.measure.words import chance_words, with_its_doubt
from fingertight.measure.budget import Tool
from fingertight.measure.verdict import Word, cannot_judge, chance_good, judged
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.uncertainty.budget import Budget

UNITS = ("mm", "in", "thou", "µm")
Limit = float | None
LIKE_ONE = 1.2
"""Sizes of one part, and of two that run in each other, differ by less than this (common practice, no source)."""


@dataclass(frozen=True)
class Judged(Card):
    """One size [mm], its expanded uncertainty U, its limits, what they say of it and how likely it is good. Without any
    limit there is no verdict ("")."""

    what: str
    size_mm: float
    U_mm: float
    min_mm: float | None
    max_mm: float | None
    verdict: str
    chance_good: float | None


def judge(what: str, size: float, budget: Budget, smallest: Limit = None, largest: Limit = None) -> Judged:
    """What do the limits say of a size with this budget [mm]?"""
    unsure = budget.expanded if budget.lines else 0.0
    if smallest is None and largest is None:
        return Judged(what, round(size, 9), unsure, None, None, "", None)
    word = judged(size, smallest, largest, unsure).word
    dof = budget.dof if budget.lines else float("inf")
    chance = chance_good(size, smallest, largest, budget.standard if budget.lines else 0.0, dof)
    return Judged(what, round(size, 9), unsure, smallest, largest, word.value, chance)


def worst_of(sizes: Sequence[Judged]) -> str:
    """The sternest verdict of several; "" where none has one.

    >>> worst_of([Judged("bore", 1, 0, None, 2, "good", 1), Judged("taper", 3, 0, None, 2, "worn", 0)])
    'worn'
    """
    for word in (Word.WORN, Word.CLOSE, Word.GOOD):
        if any(size.verdict == word.value for size in sizes):
            return word.value
    return ""


def unfit(size: Judged, unit: str, *, from_zero: bool = False) -> list[str]:
    """The sentence for a size whose doubt leaves no room within its limits, with the mend; none where there is room.

    from_zero: it cannot be less than 0, as out of round and run-out cannot.
    """
    if not size.verdict:
        return []
    new = (0.0, 0.0) if from_zero else None
    if not cannot_judge(size.min_mm, size.max_mm, new, size.U_mm):
        return []
    return [
        f"{size.what[:1].upper()}{size.what[1:]} cannot be judged with this instrument: ± "
        f"{in_unit(size.U_mm, unit)} leaves no room within its limits; read with a smaller step and error."
    ]


def alike(one_mm: float, other_mm: float) -> bool:
    """Whether two sizes may be of one part, or of two that run in each other.

    >>> alike(68.06, 67.96), alike(68.06, 6.796)
    (True, False)
    """
    least, most = sorted((one_mm, other_mm))
    return least > 0 and most <= LIKE_ONE * least


def judged_section(
    sizes: Sequence[Judged],
    unit: str,
    heading: str = "Against its limits",
    words: tuple[str, str] = ("good", "worn"),
) -> Section:
    """Each size with its limits, its verdict and the chance that it is good; `words`: what good and worn are called."""
    called = {Word.GOOD.value: words[0], Word.WORN.value: words[1]}
    rows = tuple(
        (
            size.what,
            said(size, unit),
            _limits(size, unit),
            called.get(size.verdict, size.verdict) or "–",
            chance_words(size.chance_good) if size.chance_good is not None else "",
        )
        for size in sizes
    )
    return Section(heading, rows, ("", "size", "limit", "says", f"chance that it is {words[0]}"))


def said(size: Judged, unit: str) -> str:
    """A size with its doubt, in the unit it was asked in."""
    return f"{with_its_doubt(converted(size.size_mm, 'mm', unit), converted(size.U_mm, 'mm', unit))} {unit}"


def in_unit(size_mm: float, unit: str) -> str:
    """A size in the unit it was asked in, with no more digits than a workshop measures."""
    return f"{plain(round(converted(size_mm, 'mm', unit), {'mm': 4, 'in': 5}.get(unit, 2)))} {unit}"


def tool_fields(step: str = "0.01 mm") -> tuple[Field, Field, Field]:
    """Step and error of the instrument, and the unit of bare numbers."""
    return (
        Field("resolution", "Step of the instrument", "size", "the smallest step that can be read", step, usual=step,
              must=True, unit="mm", above=0, most=10),
        Field("error", "Error of the instrument", "size", "how wrong it may be, ±", "0.005 mm", unit="mm", least=0,
              most=10),
        Field("unit", "Unit", "unit", "what is meant where none is typed", usual="mm", choices=UNITS),
    )  # fmt: skip


def tool_of(typed: Typed) -> Tool:
    """The instrument [mm]."""
    return Tool(typed.must("resolution"), typed.size("error") or 0.0)


def one_size(typed: Typed, name: str, label: str, unit: str) -> Limit:
    """One size typed into a box [mm]; None where it was left empty. Raises NotUnderstood where several were typed."""
    sizes = sizes_of(typed, name, label, unit)
    if len(sizes) > 1:
        raise NotUnderstood(f"{label}: one size is wanted, not {len(sizes)}.")
    return sizes[0] if sizes else None


def one_limit(typed: Typed, name: str, label: str, unit: str) -> Limit:
    """A limit typed into a box that has to be more than 0 [mm]; None where it was left empty."""
    limit = one_size(typed, name, label, unit)
    if limit is not None and limit <= 0:
        raise NotUnderstood(f"{label}: it is more than 0; write for example 0.04.")
    return limit


def _limits(size: Judged, unit: str) -> str:
    told = []
    if size.min_mm is not None:
        told.append(f"at least {in_unit(size.min_mm, unit)}")
    if size.max_mm is not None:
        told.append(f"at most {in_unit(size.max_mm, unit)}")
    return ", ".join(told)
