"""What a study says, in plain words: fit or not, the same hands, other hands, who stands apart."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from fingertight.cards.pictures.study.shares import percent
from fingertight.cards.sums.measure.words import chance_words, sized
from fingertight.measure.study.fit import CLASSES_WANTED, GOOD_UP_TO, MAY_DO_UP_TO, Fit
from fingertight.quantity import plain, shown

if TYPE_CHECKING:
    from fingertight.cards.sums.measure.study.card import PersonCard, StudyCard

_SAYS = {Fit.GOOD: "Good", Fit.MAY_DO: "It may do", Fit.NOT: "Not fit"}
_RULE = f"(good up to {percent(GOOD_UP_TO)}, may do up to {percent(MAY_DO_UP_TO)})"
_MOST_OF = 1.96
"""So many standard deviations either way hold 95 of 100 readings."""


def hands(card: "StudyCard") -> str:
    """What is compared."""
    return "instruments" if card.instruments else "hands"


def who(card: "StudyCard", person: "PersonCard") -> str:
    """Somebody at the beginning of a sentence: a name, or a letter."""
    return f"Instrument {person.name}" if card.instruments else person.name


def title(card: "StudyCard") -> str:
    """The verdict, or the question."""
    if card.fit is None:
        return "The measuring itself: how far readings differ"
    what = "this limit" if card.tolerance is not None else "sorting these parts"
    return f"{_SAYS[card.fit]}: gauge and {hands(card)} for {what}"


def lead(card: "StudyCard") -> Iterator[str]:
    """The answer, the verdict first."""
    yield from _fit(card)
    yield from _wrong(card)
    yield _again(card)
    yield from _between(card)
    yield from _mean_apart(card)
    yield from _scatter_apart(card)
    yield from _classes(card)


def _fit(card: "StudyCard") -> Iterator[str]:
    if card.fit is None:
        return
    method, said = card.counts, _SAYS[card.fit]
    if method.share_of_tolerance is not None and card.tolerance is not None:
        what = f"gauge and {hands(card)} take" if method.gauge is not None else "reading again alone takes"
        yield (
            f"{said}: {what} up {_share(method.share_of_tolerance)} of the tolerance of "
            f"{plain(round(card.tolerance, 9))} {card.unit} {_RULE}."
        )
    elif method.share_of_total is not None:
        yield (
            f"{said}: gauge and {hands(card)} make {_share(method.share_of_total)} of all that these readings vary "
            f"by, the parts included {_RULE}."
        )


def _share(share: float) -> str:
    """A share that is not rounded to the other side of what it is judged by.

    >>> _share(0.1), _share(0.10004), _share(0.2786)
    ('10 %', 'a little more than 10 %', '27.9 %')
    """
    over = any(share > mark + 1e-12 and percent(share) == percent(mark) for mark in (GOOD_UP_TO, MAY_DO_UP_TO))
    return f"a little more than {percent(share)}" if over else percent(share)


def _wrong(card: "StudyCard") -> Iterator[str]:
    if card.wrong is not None:
        over = "parts like these" if card.several else "this part"
        so = "" if card.several else ", if it is as large as the mean of all"
        yield f"One reading by any of them judges {over} wrongly {chance_words(card.wrong)} times{so}."


def _again(card: "StudyCard") -> str:
    repeat, unit = card.counts.repeat, card.unit
    same = "The same instrument" if card.instruments else "The same hands"
    if not repeat:
        return (
            f"{same} read the same each time: the step of the instrument hides how they scatter. Read finer, or with "
            "an instrument of a finer step, and study again."
        )
    return (
        f"{same}, reading again, differ{'s' if card.instruments else ''} with a standard deviation of {sized(repeat)} "
        f"{unit} (repeatability): 95 of 100 readings lie within ± {sized(_MOST_OF * repeat)} {unit}."
    )


def _between(card: "StudyCard") -> Iterator[str]:
    between, repeat = card.counts.between, card.counts.repeat
    if between is None:
        return
    other = "Other instruments" if card.instruments else "Other hands"
    if not between:
        yield f"{other} add nothing to that which could be seen (reproducibility 0)."
        return
    yield f"{other} add a standard deviation of {sized(between)} {card.unit} of their own (reproducibility)."
    if between > repeat:
        mend = "set all on one ring or block" if card.instruments else "agree on one way to hold, to set and to read"
        yield f"Most of it lies between {hands(card)}: {mend}, and study again."
    else:
        yield "Most of it is reading again: look at the gauge, at the place that is measured, and how it is held."


def _mean_apart(card: "StudyCard") -> Iterator[str]:
    apart = [person for person in card.people if person.apart_by_mean]
    for person in apart:
        away = person.away or 0.0
        yield (
            f"{who(card, person)} reads {_size(card, abs(away))} {'more' if away > 0 else 'less'} than the others: "
            f"chance does so {_of_all(person.away_chance)}."
        )
    if card.split_by_mean:
        yield _split(card, "means", max(abs(person.away or 0) for person in card.people))
    elif not apart and any(person.away_chance is not None for person in card.people):
        yield f"No {'instrument’s' if card.instruments else 'person’s'} mean stands apart from the others’."


def _split(card: "StudyCard", what: str, most: float) -> str:
    if len(card.people) == 2:
        by = f" by {_size(card, most)}" if what == "means" else ""
        return (
            f"The two differ{by} in their {what}, and not by chance; of two nobody can say which is off: let a third "
            "read."
        )
    return f"Their {what} differ by more than chance, so many of them that nobody can be called the odd one."


def _scatter_apart(card: "StudyCard") -> Iterator[str]:
    for person in card.people:
        if person.apart_by_scatter:
            yield (
                f"{who(card, person)} scatters {person.times:.1f} times as much as the others: chance does so "
                f"{_of_all(person.times_chance)}."
            )
    if card.split_by_scatter:
        yield _split(card, "scatters", 0.0)


def _of_all(chance: float | None) -> str:
    """How rarely chance does so much."""
    return f"{chance_words(chance or 0.0)} times"


def _classes(card: "StudyCard") -> Iterator[str]:
    classes = card.counts.classes
    if classes is None:
        return
    told = f"It tells {classes} classes of such parts apart" if classes > 1 else "It cannot tell such parts apart"
    wanted = f"{CLASSES_WANTED} or more are wanted"
    if classes < CLASSES_WANTED:
        yield f"{told}; {wanted}: the parts are too alike for this gauge, or the gauge is too coarse for them."
    else:
        yield f"{told} ({wanted})."


def _size(card: "StudyCard", size: float) -> str:
    return f"{shown(size, 10.0 ** -(card.decimals + 1))} {card.unit}"


def notes(card: "StudyCard") -> Iterator[str]:
    """What the figures rest on, and what they do not know."""
    yield from _gaps(card)
    yield from _two_ways(card)
    if card.fit is None and card.counts.share_of_tolerance is None and not card.gaps:
        yield (
            "Without a tolerance, or a smallest and a largest size allowed, nothing is said of whether the gauge is "
            "fit; write them."
        )
    elif card.fit is None and card.counts.repeat:
        yield "Whether the gauge is fit is not settled while the table has gaps."
    elif card.fit is None:
        yield "Whether the gauge is fit is not settled while the step hides the scatter."
    if card.between_at_least is not None and card.between_at_most is not None and card.counts.between:
        of = hands(card) if card.instruments else "people"
        yield (
            f"From {len(card.people)} {of} it is known only badly how far {hands(card)} differ: the true figure may be "
            f"{card.between_at_least:.1f} to {card.between_at_most:.1f} times the one above (95 of 100 studies)."
        )
    if any(person.apart_by_mean or person.apart_by_scatter for person in card.people):
        yield "Who stands apart is left out of the others that everybody else is held against."
    if card.zeroed:
        yield f"The variance of {' and of '.join(card.zeroed)} came out below 0 and counts as 0: it is lost in scatter."
    step = 10.0**-card.decimals
    if 0 < card.counts.repeat < step / 2:
        yield (
            f"Readings scatter less than half of their last digit ({plain(step)} {card.unit}): the step hides part of "
            "it (common practice, no source)."
        )
    yield (
        "A study is worth what its readings are: the same marked place, parts in mixed order, nobody sees another’s "
        "figures, the gauge set as on any day."
    )
    yield from _veil(card)


def _gaps(card: "StudyCard") -> Iterator[str]:
    if not card.gaps:
        return
    if not card.several:
        yield "Not all read as often as the others: the variance method allows for that, the range method does not."
        return
    lacks = "; ".join(
        f"part {part} lacks {count} reading{'s' if count > 1 else ''}" for part, count in card.gaps.items()
    )
    yield (
        f"The table has gaps: {lacks}. The two-way analysis wants each part read as often by each; until then only "
        f"reading again is judged, cell by cell, and not how far {hands(card)} differ."
    )


def _two_ways(card: "StudyCard") -> Iterator[str]:
    if len(card.methods) < 2:
        return
    one, other = (method.share_of_total or method.share_of_tolerance for method in card.methods)
    said = ""
    if one is not None and other is not None:
        said = f"say {100 * one:.1f} % and {100 * other:.1f} %"
        if card.several:
            said += f", {card.methods[0].classes} and {card.methods[1].classes} classes"
        said = f" ({said})"
    blind = f", and do not see whether {hands(card)} differ from part to part" if card.several else ""
    yield (
        f"The two methods differ{said}: ranges use the largest and the smallest reading of each set only{blind}. The "
        "variance method uses every reading, and counts here; ranges can be checked on paper."
    )
    if card.several:
        yield (
            f"How {hands(card)} differ from part to part is no more than scatter (chance over 1 in 4), and is counted "
            "with it."
            if card.pooled
            else f"How {hands(card)} differ from part to part is counted as its own source, within reproducibility."
        )


def _veil(card: "StudyCard") -> Iterator[str]:
    if card.names == "dealt":
        yield (
            "People stand as letters, dealt by a shuffle and not in the order of the table, so that nobody is shamed; "
            "names are for the instructor (tick Names)."
        )
    elif card.names == "letters":
        yield "People stand as the letters they were typed as."
    elif not card.instruments:
        yield "With names: for the instructor’s eyes."
