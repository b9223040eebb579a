"""A reading on its bar: new, between, past the limit, with the reading's whisker. Numbers only."""

from dataclasses import dataclass

from fingertight.cards.card import Card

LEFT, RIGHT = 20.0, 340.0
WIDTH_OF_A_DIGIT = 9.8


@dataclass(frozen=True)
class Stretch(Card):
    """A stretch of the bar: `what` is new, between or past."""

    what: str
    x: float
    width: float


@dataclass(frozen=True)
class Mark(Card):
    """A limit under the bar, as text, and where; row 1 stands lower, where row 0 has no room for it."""

    text: str
    x: float
    row: int


@dataclass(frozen=True)
class Bar(Card):
    """The bar in a box of 360 by `height`, the whisker from `low` to `high`, and all of it in words."""

    stretches: tuple[Stretch, ...]
    marks: tuple[Mark, ...]
    value_x: float
    low_x: float
    high_x: float
    value: str
    sentence: str

    @property
    def height(self) -> int:
        """How high it is drawn: a lower row of limits needs its room."""
        return 112 if any(mark.row for mark in self.marks) else 92


def bar(
    value: float,
    half_width: float,
    new: tuple[float, float] | None,
    limit: float,
    *,
    past_is_above: bool,
    texts: tuple[str, ...],
) -> Bar:
    """Where does the value lie between new and the limit?

    texts: the value with its whisker, the sentence, then new's two limits (where there are) and the limit, as shown.
    """
    near_new = new if new else (limit, limit)
    ends = [value - half_width, value + half_width, limit, *near_new]
    room = (max(ends) - min(ends)) or abs(limit) or 1.0
    lowest, highest = min(ends) - 0.12 * room, max(ends) + 0.12 * room

    def x(at: float) -> float:
        return round(LEFT + (at - lowest) / (highest - lowest) * (RIGHT - LEFT), 1)

    def stretch(what: str, one: float, other: float) -> Stretch:
        return Stretch(what, min(x(one), x(other)), round(abs(x(other) - x(one)), 1))

    end = highest if past_is_above else lowest
    stretches = [stretch("past", limit, end)]
    if new:
        worn_from = max(new) if past_is_above else min(new)
        stretches = [stretch("new", *new), stretch("between", worn_from, limit), *stretches]
    else:
        stretches = [stretch("between", lowest if past_is_above else highest, limit), *stretches]
    limits = (*new, limit) if new else (limit,)
    marks = _without_overlap([(text, x(at)) for text, at in zip(texts[2:], limits, strict=True)])
    return Bar(tuple(stretches), marks, x(value), x(value - half_width), x(value + half_width), texts[0], texts[1])


def _without_overlap(marks: list[tuple[str, float]]) -> tuple[Mark, ...]:
    """Each mark in the upper row unless it would touch the one before it there."""
    placed = []
    free_from = 0.0
    for text, x in sorted(marks, key=lambda mark: mark[1]):
        half = len(text) * WIDTH_OF_A_DIGIT / 2
        row = int(x - half < free_from)
        free_from = free_from if row else x + half
        placed.append(Mark(text, x, row))
    return tuple(placed)
