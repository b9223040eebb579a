"""Sizes up the side of a drawing, with figures at round steps; dots for readings."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Look, Stroke, Words, number
from fingertight.quantity import plain

WIDE, LEFT, RIGHT, TOP, BASE = 360.0, 58.0, 340.0, 14.0, 190.0
LETTERS = 12.0
_LETTER_WIDE = 7.0


@dataclass(frozen=True, slots=True)
class Axis:
    """From the lowest size at BASE to the highest at TOP."""

    low: float
    high: float

    def y(self, size: float) -> float:
        """Where a size stands, y down."""
        return round(BASE - (size - self.low) / (self.high - self.low) * (BASE - TOP), 2)

    @property
    def step(self) -> float:
        """A round step of 1, 2 or 5 that gives three to six figures.

        >>> Axis(68.14, 68.17).step
        0.01
        """
        rough = (self.high - self.low) / 4
        ten = 10.0 ** math.floor(math.log10(rough))
        return next(times * ten for times in (1, 2, 5, 10) if times * ten >= rough * 0.999)

    def drawn(self) -> list[Stroke | Words]:
        """A thin line and a figure at each step."""
        shapes: list[Stroke | Words] = []
        for count in range(math.ceil(self.low / self.step - 1e-9), math.floor(self.high / self.step + 1e-9) + 1):
            at = count * self.step
            shapes.append(Stroke(f"M{number(LEFT)} {number(self.y(at))}H{number(RIGHT)}", "faint"))
            shapes.append(Words(figure(at, self.step), LEFT - 4, self.y(at) + 4, LETTERS, "end"))
        return shapes


def axis_of(values: Iterable[float], limits: Sequence[float | None] = ()) -> Axis:
    """The axis that holds all values, and the limits that are not far from them."""
    all_of = list(values)
    low, high = min(all_of), max(all_of)
    room = (high - low) or abs(high) * 1e-3 or 1.0
    near = [limit for limit in limits if limit is not None and low - room <= limit <= high + room]
    low, high = min([low, *near]), max([high, *near])
    pad = 0.06 * ((high - low) or room)
    return Axis(low - pad, high + pad)


def figure(at: float, step: float) -> str:
    """A figure beside the axis, with as many decimals as its step has.

    >>> figure(68.15, 0.01), figure(-0.0, 0.5)
    ('68.15', '0')
    """
    return plain(round(at, max(0, 1 - math.floor(math.log10(step)))) + 0.0)


def dot(x: float, y: float, look: Look = "fill-steel", size: float = 2.2) -> Stroke:
    """A dot about a place."""
    arc = f"a{number(size)} {number(size)} 0 1 0"
    across = number(2 * size)
    return Stroke(f"M{number(round(x - size, 2))} {number(y)}{arc} {across} 0{arc} -{across} 0Z", look)


def level(x: float, y: float, wide: float, look: Look) -> Stroke:
    """A level bar about a place."""
    return Stroke(f"M{number(round(x - wide / 2, 2))} {number(y)}h{number(round(wide, 2))}", look)


def limit_lines(axis: Axis, limits: Sequence[float | None]) -> list[Stroke | Words]:
    """The limits that lie on the axis, each with its figure above it."""
    shapes: list[Stroke | Words] = []
    for limit in limits:
        if limit is not None and axis.low <= limit <= axis.high:
            y = axis.y(limit)
            shapes.append(Stroke(f"M{number(LEFT)} {number(y)}H{number(RIGHT)}", "warn"))
            shapes.append(Words(f"limit {plain(limit)}", RIGHT, y - 4, LETTERS, "end", "warn"))
    return shapes


def below_the_axis(names: Sequence[str], x: Callable[[int], float], wide: float) -> tuple[list[Words], float]:
    """The names under their columns, and how much room they take: slanted where they would touch, some left out where
    even that does not do."""
    longest = max(map(len, names), default=1)
    if longest * _LETTER_WIDE <= wide:
        return [Words(name, x(place), BASE + 16, LETTERS) for place, name in enumerate(names)], 22.0
    every = max(1, math.ceil(LETTERS / wide))
    shown = [name if len(name) <= 12 else f"{name[:11]}…" for name in names]
    words = [
        Words(name, x(place) + 4, BASE + 12, LETTERS, "end", turn_deg=-55.0)
        for place, name in enumerate(shown)
        if place % every == 0
    ]
    return words, 14.0 + 0.82 * _LETTER_WIDE * max(map(len, shown))
