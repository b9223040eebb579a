"""The ring picture: outermost what can go first, inside it what that frees. Numbers only; templates draw."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import cos, pi, sin, tau

from fingertight.cards.card import Card

RADIUS = 200.0
GAP = 3.0
MOST_RINGS = 6  # more would be too thin for a name
LARGEST_TEXT, SMALLEST_TEXT, TEXT_STEP = 13.0, 8.5, 0.5
LINE_HEIGHT = 1.12
# Of the text size: a little wide for most fonts, so that names do not touch; judged by eye.
WIDTH_OF_A_LETTER = 0.58
WORDS = {
    "off": "off",
    "free": "free now",
    "on": "on",
    "way": "comes off for what is wanted",
    "absent": "not on this one",
    "stays": "never comes off",
}


@dataclass(frozen=True)
class Line(Card):
    """One line of a name, and where it stands before it is turned."""

    text: str
    y: float


@dataclass(frozen=True)
class Sector(Card):
    """One part in its ring. `state` is one of WORDS; places are ready to draw in a box of ±206 with y down.

    `outline` is the sector's edge in path words (M, A, L, Z: SVG 1.1, chapter 8.3); "" for a part that fills its ring.
    """

    part: str
    title: str
    state: str
    word: str
    outer: float
    inner: float
    outline: str
    lines: tuple[Line, ...]
    text_x: float
    text_y: float
    text_turn: float
    text_size: float


@dataclass(frozen=True)
class RingPicture(Card):
    """All sectors, outside in, and the sentence that says the same in words."""

    sectors: tuple[Sector, ...]
    sentence: str


def ring_picture(
    layers: Sequence[Sequence[str]],
    titles: Mapping[str, str],
    state: Mapping[str, str],
    sentence: str,
    words: Mapping[str, str] = WORDS,
) -> RingPicture:
    """What lies how deep, and what has come off?

    layers: part ids, what can go first in the first layer. state: part id → one of WORDS. sentence: the same in words.
    words: what the states mean here, where it is something else.
    """
    named = tuple(tuple((part, titles[part]) for part in layer) for layer in layers)
    sectors = tuple(
        replace(sector, state=state[sector.part], word=words[state[sector.part]]) for sector in _sectors(named)
    )
    return RingPicture(sectors, sentence)


# Where a sector lies and how its name is broken depends on the machine alone; a tap only changes states.
@lru_cache(maxsize=64)
def _sectors(layers: tuple[tuple[tuple[str, str], ...], ...]) -> tuple[Sector, ...]:
    """Every sector of these layers of (part id, title), all of them on."""
    titles = dict(named for layer in layers for named in layer)
    rings = banded([[part for part, _ in layer] for layer in layers])
    width = RADIUS / max(len(rings), 1)
    sectors: list[Sector] = []
    for depth, parts in enumerate(rings):
        outer = RADIUS - depth * width
        last = depth == len(rings) - 1
        inner = 0.0 if last and len(parts) == 1 else max(outer - width + GAP, 0.0)
        sectors += _ring(parts, outer, inner, titles)
    return tuple(sectors)


def banded(layers: Sequence[Sequence[str]], most: int = MOST_RINGS) -> list[list[str]]:
    """The layers in no more rings than can be read; a ring may hold several layers, outer ones more than inner ones.

    >>> banded([["a", "b", "c", "d", "e"], ["f"], ["g"]], most=2)
    [['a', 'b', 'c', 'd', 'e'], ['f', 'g']]
    """
    shown = [list(layer) for layer in layers if layer]
    if len(shown) <= most:
        return shown
    parts = sum(map(len, shown))
    share = [(2 * (most - ring) - 1) / most**2 for ring in range(most)]  # of the circle's area: its ring's
    rings: list[list[str]] = [[] for _ in range(most)]
    held, ring = 0, 0
    for layer in shown:
        full = parts * sum(share[: ring + 1])
        if rings[ring] and ring < most - 1 and held + len(layer) / 2 > full:
            ring += 1
        rings[ring] += layer
        held += len(layer)
    return [ring for ring in rings if ring]


def _ring(parts: Sequence[str], outer: float, inner: float, titles: Mapping[str, str]) -> Iterator[Sector]:
    slit = min(0.012 * RADIUS / outer, 0.1)
    whole = len(parts) == 1
    for number, part in enumerate(parts):
        start, end = (tau * place / len(parts) - pi / 2 for place in (number, number + 1))
        start, end = (start, end) if whole else (start + slit, end - slit)
        mean = (outer + inner) / 2 if inner or not whole else 0.0
        middle = -pi / 2 if whole else (start + end) / 2
        room = outer * 1.5 if whole else (end - start) * mean * 0.96
        size, lines = _lettered(titles[part], room, (outer - inner) * (1.2 if not inner and whole else 0.94))
        x, y = _at(mean, middle)
        turn = 0.0 if whole else (middle * 180 / pi + 90) % 360
        yield Sector(
            part=part,
            title=titles[part],
            state="on",
            word=WORDS["on"],
            outer=round(outer, 1),
            inner=round(inner, 1),
            outline="" if whole else _outline(outer, inner, start, end),
            lines=tuple(_placed(lines, y, size)),
            text_x=x,
            text_y=y,
            text_turn=round((turn + 180) % 360 if 90 < turn < 270 else turn, 1),
            text_size=size,
        )


def _at(radius: float, angle: float) -> tuple[float, float]:
    return round(radius * cos(angle), 1), round(radius * sin(angle), 1)


def _outline(outer: float, inner: float, start: float, end: float) -> str:
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = (
        _at(*edge) for edge in ((outer, start), (outer, end), (inner, end), (inner, start))
    )
    large = int(end - start > pi)
    return (
        f"M{x1} {y1}A{outer:.1f} {outer:.1f} 0 {large} 1 {x2} {y2}"
        f"L{x3} {y3}A{inner:.1f} {inner:.1f} 0 {large} 0 {x4} {y4}Z"
    )


def _placed(lines: Sequence[str], y: float, size: float) -> Iterable[Line]:
    for number, text in enumerate(lines):
        yield Line(text, round(y + (number - (len(lines) - 1) / 2) * size * LINE_HEIGHT, 1))


def _lettered(title: str, room: float, height: float) -> tuple[float, list[str]]:
    """The name at the largest size at which it fits whole, in lines; at the smallest size cut short, or not at all."""
    size = LARGEST_TEXT
    while size >= SMALLEST_TEXT:
        lines = _wrapped(title, int(room / (size * WIDTH_OF_A_LETTER)))
        if lines and len(lines) * size * LINE_HEIGHT <= height:
            return size, lines
        size -= TEXT_STEP
    letters = int(room / (SMALLEST_TEXT * WIDTH_OF_A_LETTER)) - 1
    if letters < 3 or height < SMALLEST_TEXT * LINE_HEIGHT:
        return SMALLEST_TEXT, []
    most = int(height / (SMALLEST_TEXT * LINE_HEIGHT))
    lines = (_wrapped(title, letters + 1) or [title[:letters].rstrip() + "…"])[:most]
    whole = " ".join(lines) == title or lines[-1].endswith("…")
    return SMALLEST_TEXT, lines if whole else [*lines[:-1], lines[-1][:letters].rstrip(" ,") + "…"]


def _wrapped(title: str, letters: int) -> list[str]:
    """The words in lines of so many letters; nothing when a word is longer than a line."""
    lines: list[str] = []
    for word in title.split():
        if len(word) > letters:
            return []
        if lines and len(lines[-1]) + 1 + len(word) <= letters:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
