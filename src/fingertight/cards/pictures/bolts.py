"""The fasteners of a part where they sit, numbered in the order they are loosened or tightened. Numbers only."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

from fingertight.cards.card import Card
from fingertight.tighten.pattern.sequence import loosening_order, tightening_order

if TYPE_CHECKING:
    from fingertight.anatomy.model import FastenerSet

WIDTH, HEIGHT, RIM = 230.0, 200.0, 26.0
LARGEST_DOT, SMALLEST_DOT = 16.0, 8.0
SHAPES = ("circle", "square", "diamond")


@dataclass(frozen=True)
class Dot(Card):
    """One fastener: its number in the order of the work, where it is drawn, and the shape its set is drawn with."""

    number: int
    x: float
    y: float
    shape: str


@dataclass(frozen=True)
class BoltPicture(Card):
    """All fasteners whose positions are known, in a box of `width` by `height`, y down. `sentence` says the same."""

    width: float
    height: float
    dot: float
    text: float
    dots: tuple[Dot, ...]
    outline: tuple[float, float, float, float] | None
    sentence: str


def bolt_picture(sets: "Sequence[FastenerSet]", tightening: bool = False) -> BoltPicture | None:
    """Where do the fasteners sit, and in which order are they done? None when no set states its positions."""
    order_of = tightening_order if tightening else loosening_order
    placed = [
        (fasteners.at, order_of(fasteners.at, fasteners.pattern, fasteners.order), SHAPES[min(number, len(SHAPES) - 1)])
        for number, fasteners in enumerate(sets)
        if fasteners.at
    ]
    return _drawn(placed, "tighten" if tightening else "loosen") if placed else None


def order_picture(at: Sequence[tuple[float, float]], order: Sequence[int]) -> BoltPicture:
    """A joint with its bolts numbered in the order they are tightened.

    >>> [dot.number for dot in order_picture([(0, 1), (1, 0), (0, -1), (-1, 0)], (1, 3, 2, 4)).dots]
    [1, 3, 2, 4]
    """
    return _drawn([(at, order, SHAPES[0])], "tighten")


def _drawn(placed: Sequence[tuple[Sequence[tuple[float, float]], Sequence[int], str]], verb: str) -> BoltPicture:
    """Positions, order and shape of each set, on one picture."""
    points = [point for at, _, _ in placed for point in at]
    drawn, used_height = _to_paper(points)
    radius = _dot(drawn)
    dots: list[Dot] = []
    for at, order, shape in placed:
        rank = {position: turn for turn, position in enumerate(order, 1)}
        here = drawn[len(dots) : len(dots) + len(at)]
        dots += [Dot(rank.get(place, place), x, y, shape) for place, (x, y) in enumerate(here, 1)]
    how_many = f"{len(dots)} positions" if len(dots) > 1 else "One position"
    return BoltPicture(
        WIDTH,
        used_height,
        radius,
        round(radius * 1.1, 1),
        tuple(dots),
        _outline(drawn),
        f"{how_many}; {verb} in the numbered order",
    )


def _to_paper(points: Sequence[tuple[float, float]]) -> tuple[list[tuple[float, float]], float]:
    """Fit the positions into the box, keeping their proportions; the anatomy's y goes up, paper's down."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((WIDTH - 2 * RIM) / wide if wide else 1e9, (HEIGHT - 2 * RIM) / high if high else 1e9)
    scale = 0.0 if scale == 1e9 else scale
    height = round(max(high * scale + 2 * RIM, 2 * RIM), 1)
    middle_x, middle_y = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
    return [
        (round(WIDTH / 2 + (x - middle_x) * scale, 1), round(height / 2 - (y - middle_y) * scale, 1)) for x, y in points
    ], height


def _dot(drawn: Sequence[tuple[float, float]]) -> float:
    """As large as can be without dots touching, within what can be read."""
    apart = [dist(one, other) for k, one in enumerate(drawn) for other in drawn[k + 1 :]]
    return round(max(SMALLEST_DOT, min(LARGEST_DOT, min(apart, default=LARGEST_DOT * 2) / 2 - 1)), 1)


def _outline(drawn: Sequence[tuple[float, float]]) -> tuple[float, float, float, float] | None:
    """A box round three positions or more that do not lie on a line: x, y, width, height."""
    xs, ys = [x for x, _ in drawn], [y for _, y in drawn]
    if len(drawn) < 3 or max(xs) - min(xs) < 20 or max(ys) - min(ys) < 20:
        return None
    return (min(xs) - 14, min(ys) - 14, round(max(xs) - min(xs) + 28, 1), round(max(ys) - min(ys) + 28, 1))
