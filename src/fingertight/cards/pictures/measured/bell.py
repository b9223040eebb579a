"""A size on its bar with the bell of what it may truly be: new, worn, the limit, and how much lies past it."""

import math
from collections.abc import Callable

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number

LEFT, RIGHT, BASE, TOP = 16.0, 344.0, 96.0, 18.0
_STEPS = 80
_WIDE = 4.0


def bell_drawing(
    value: float,
    standard: float,
    limits: tuple[float | None, float | None],
    new: tuple[float, float] | None,
    texts: tuple[str, str],
    *,
    unsure: float = 0.0,
) -> Drawing:
    """Where does the size lie, and how much of what it may be lies past a limit?

    standard: u; limits: smallest and largest, None where there is none; texts: the value with its ±, and what the
    drawing says to who cannot see it; unsure: U, drawn as a whisker. Past the limit the bell is filled.
    """
    ends = [
        value - max(_WIDE * standard, unsure),
        value + max(_WIDE * standard, unsure),
        *(end for end in limits if end is not None),
        *(new or ()),
    ]
    room = (max(ends) - min(ends)) or abs(value) or 1.0
    low, high = float(min(ends) - 0.06 * room), float(max(ends) + 0.06 * room)

    def x(at: float) -> float:
        return LEFT + (at - low) / (high - low) * (RIGHT - LEFT)

    shapes: list[Stroke | Words] = [Stroke(f"M{number(LEFT)} {number(BASE)}H{number(RIGHT)}", "line")]
    if new:
        wide = max(x(new[1]) - x(new[0]), 2.0)
        shapes.append(Stroke(f"M{number(x(new[0]))} {BASE:g}h{number(wide)}v8h{number(-wide)}Z", "fill-go"))
    if standard > 0:
        smallest, largest = limits
        for start, end in ((low, smallest), (largest, high)):
            if start is not None and end is not None:
                shapes.append(
                    Stroke(_bell(value, standard, x, max(start, low), min(end, high), closed=True), "fill-warn")
                )
        shapes.append(Stroke(_bell(value, standard, x, low, high, closed=False), "steel"))
    shapes.append(Stroke(f"M{number(x(value))} {number(BASE)}V{number(TOP + 2)}", "bold"))
    if unsure > 0:
        from_x, to_x = (number(round(x(end), 2)) for end in (value - unsure, value + unsure))
        shapes.append(
            Stroke(f"M{from_x} {TOP - 1:g}V{TOP + 5:g}M{from_x} {TOP + 2:g}H{to_x}M{to_x} {TOP - 1:g}V{TOP + 5:g}")
        )
    shapes.append(Words(texts[0], min(max(x(value), 70), 290), TOP - 6, 13))
    for limit in limits:
        if limit is not None:
            shapes.append(Stroke(f"M{number(x(limit))} {number(BASE + 10)}V{number(TOP + 14)}", "warn"))
            shapes.append(Words(f"limit {limit:g}", min(max(x(limit), 40), 320), BASE + 26, 13, look="warn"))
    if new:
        middle = min(max((x(new[0]) + x(new[1])) / 2, 60), 300)
        shapes.append(Words(f"new {new[0]:g} to {new[1]:g}", middle, BASE + 42, 13, look="go"))
    return Drawing(texts[1], 360, 146, tuple(shapes), stroke=1.6)


def _bell(value: float, standard: float, x: Callable[[float], float], start: float, end: float, *, closed: bool) -> str:
    """The outline of the bell between two sizes, down to the base where it is an area; far out it lies on the base."""
    start, end = max(start, value - _WIDE * standard), min(end, value + _WIDE * standard)
    if end <= start:
        return f"M{number(x(value))} {BASE:g}"
    points = []
    for step in range(_STEPS + 1):
        size = start + (end - start) * step / _STEPS
        height = math.exp(-0.5 * ((size - value) / standard) ** 2)
        points.append(f"{number(round(x(size), 2))} {number(round(BASE - height * (BASE - TOP - 8), 2))}")
    outline = "M" + "L".join(points)
    return (
        f"{outline}L{number(round(x(end), 2))} {BASE:g}L{number(round(x(start), 2))} {BASE:g}Z" if closed else outline
    )
