"""How deep a machine is taken apart, as rings that empty from outside: seen across a room."""

import math
from collections.abc import Sequence

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number

SIZE, OUTER, APART = 80.0, 35.0, 9.0
MOST_RINGS = 4


def depth_dial(shares_on: Sequence[float], sentence: str) -> Drawing:
    """A ring for each depth, the outermost first: as much of it as is still on the machine, 0 to 1.

    >>> depth_dial([0.5], "1 of 2 off.").shapes[1].path
    'M0 -35A35 35 0 0 1 0 35'
    """
    shapes: list[Stroke | Words] = []
    for ring, share in enumerate(shares_on[:MOST_RINGS]):
        radius = OUTER - APART * ring
        shapes.append(Stroke(_whole(radius), "faint"))
        if share > 0:
            shapes.append(Stroke(_arc(radius, min(share, 1.0)), "steel"))
    return Drawing(sentence, SIZE, SIZE, tuple(shapes), left=-SIZE / 2, top=-SIZE / 2, stroke=5.0)


def _whole(radius: float) -> str:
    r = number(radius)
    return f"M-{r} 0A{r} {r} 0 1 1 {r} 0A{r} {r} 0 1 1 -{r} 0Z"


def _arc(radius: float, share: float) -> str:
    if share >= 0.9999:
        return _whole(radius)
    angle, r = 2 * math.pi * share, number(radius)
    x, y = number(round(radius * math.sin(angle), 4) + 0.0), number(round(-radius * math.cos(angle), 4) + 0.0)
    return f"M0 -{r}A{r} {r} 0 {1 if share > 0.5 else 0} 1 {x} {y}"
