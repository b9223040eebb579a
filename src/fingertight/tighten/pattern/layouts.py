"""Where the bolts of a joint sit, from a few words: "ring 8", "rows 2x5", or their places one by one."""

import math
import re
from collections.abc import Sequence

from fingertight.quantity import NotUnderstood, read_number

Position = tuple[float, float]

MOST = 64
_RING = re.compile(r"(?:ring|circle)(?: of)? ([0-9]{1,6})(?: bolts?)?\Z", re.I)
_ROWS = re.compile(r"rows? ([0-9]{1,4}) ?[x×] ?([0-9]{1,4})(?: ([0-9.,]+) ?[x×] ?([0-9.,]+))?\Z", re.I)
_APART = 1e-3
"""Two holes nearer than this share of the joint's size are one hole, written twice."""
_FARTHEST = 100_000.0
_EXAMPLES = '"ring 8", "rows 2x5" or "0 0; 60 0; 60 40"'


def ring(count: int, diameter: float = 100.0) -> tuple[Position, ...]:
    """Holes on a circle, clockwise from the top, as flange practice numbers them.

    >>> [(round(x), round(y)) for x, y in ring(4)]
    [(0, 50), (50, 0), (0, -50), (-50, 0)]
    """
    turns = [2 * math.pi * hole / count for hole in range(count)]
    return tuple((diameter / 2 * math.sin(turn), diameter / 2 * math.cos(turn)) for turn in turns)


def rows(down: int, along: int, apart: tuple[float, float] = (50.0, 60.0)) -> tuple[Position, ...]:
    """Holes in `down` rows of `along`, numbered row by row from the top left. apart: along a row, from row to row.

    >>> rows(2, 2, (10, 20))
    ((0.0, 20.0), (10.0, 20.0), (0.0, 0.0), (10.0, 0.0))
    """
    return tuple(
        (column * float(apart[0]), (down - 1 - row) * float(apart[1])) for row in range(down) for column in range(along)
    )


def layout_named(text: str) -> tuple[Position, ...]:
    """The positions these words mean: "ring 8", "rows 2x5" (with distances: "rows 2x5 50x60"), or "0 0; 60 0; 60 40".

    Any one unit of length will do: only the layout counts. x to the right, y up.

    >>> len(layout_named("ring of 8")), layout_named("0 0; 60,5 0")
    (8, ((0.0, 0.0), (60.5, 0.0)))

    Raises NotUnderstood for words that are none of these, two holes at one place, none, or more than 64.
    """
    said = " ".join(text.split())
    if found := _RING.match(said):
        count = int(found[1])
        _few_enough(count)
        return ring(count)
    if found := _ROWS.match(said):
        down, along = int(found[1]), int(found[2])
        _few_enough(down * along)
        apart = (read_number(found[3]), read_number(found[4])) if found[3] else (50.0, 60.0)
        return checked(rows(down, along, apart))
    if re.match(r"(?:ring|circle|rows?)\b", said, re.I):
        raise NotUnderstood(f"“{said[:40]}” does not say how many; write a whole number of bolts, as in {_EXAMPLES}.")
    places = [place for place in re.split(r"[;\n]", text) if place.strip()]
    _few_enough(len(places))
    return checked(tuple(_place(place, number) for number, place in enumerate(places, 1)))


def numbered_as(text: str) -> str:
    """How the positions of a layout are numbered, as the end of a sentence.

    >>> numbered_as("ring 8"), numbered_as("0 0; 60 0")
    ('numbered clockwise from the top', 'numbered as they are written')
    """
    said = " ".join(text.split())
    if _RING.match(said):
        return "numbered clockwise from the top"
    return "numbered row by row from the top left" if _ROWS.match(said) else "numbered as they are written"


def checked(at: Sequence[Position]) -> tuple[Position, ...]:
    """The positions, when a joint can have them.

    >>> checked([(0, 0), (1, 0)])
    ((0, 0), (1, 0))

    Raises NotUnderstood for two at one place, none, more than 64, or one that is far away from every workshop.
    """
    _few_enough(len(at))
    for number, place in enumerate(at, 1):
        if not all(math.isfinite(one) and abs(one) <= _FARTHEST for one in place):
            raise NotUnderstood(f"Position {number} is out of range; write it in millimetres from one corner.")
    middle = tuple(math.fsum(axis) / len(at) for axis in zip(*at, strict=True))
    size = max(math.dist(place, middle) for place in at)
    for first, one in enumerate(at, 1):
        for second, other in enumerate(at[first:], first + 1):
            if math.dist(one, other) <= _APART * size:
                raise NotUnderstood(f"Positions {first} and {second} are at one place; write where each of them is.")
    return tuple(at)


def _few_enough(count: int) -> None:
    if count < 1:
        raise NotUnderstood(f"No position was written; write for example {_EXAMPLES}.")
    if count > MOST:
        raise NotUnderstood(
            f"{count} bolts are more than the {MOST} that are worked out here; take neighbours as one, four by four, "
            "as flange practice does for large rings."
        )


def _place(text: str, number: int) -> Position:
    words = text.replace("(", " ").replace(")", " ").replace("[", " ").replace("]", " ").split()
    if len(words) == 1:
        words = words[0].split(",")
    pair = [word.strip().rstrip(",") for word in words]
    try:
        if len(pair) == 2:
            return read_number(pair[0]), read_number(pair[1])
    except NotUnderstood as slip:
        raise NotUnderstood(f"Position {number}: {slip}") from None
    raise NotUnderstood(
        f"Position {number}, “{text.strip()[:40]}”, is not two numbers; write x and y with a space between, and ; "
        'between positions: "0 0; 60 0; 60 40". A ring is "ring 8", a head "rows 2x5".'
    )
