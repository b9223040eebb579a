"""The ring picture: outermost what can go first, each ring what the rings outside it free. Numbers only; templates draw."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import cos, pi, sin, tau

from fingertight.cards.card import Card

RADIUS = 200.0
GAP = 3.0
LARGEST_TEXT, SMALLEST_TEXT = 13.0, 8.5
WIDTH_OF_A_LETTER = 0.56  # of the text size, DejaVu Sans and system-ui, measured by eye; too narrow would overlap
WORDS = {"off": "off", "free": "free now", "on": "still on", "absent": "not on this one", "stays": "never comes off"}


@dataclass(frozen=True)
class Sector(Card):
    """One part in its ring. `state` is one of WORDS. Angles and places are ready to draw in a box of ±210 with y down."""

    part: str
    title: str
    state: str
    word: str
    outer: float
    inner: float
    whole: bool
    large: bool
    corners: tuple[tuple[float, float], ...]
    text: str
    text_x: float
    text_y: float
    text_turn: float
    text_size: float


@dataclass(frozen=True)
class RingPicture(Card):
    """All sectors, outside in, and the sentence that says the same in words."""

    sectors: tuple[Sector, ...]
    sentence: str


def ring_picture(layers: Sequence[Sequence[str]], titles: Mapping[str, str], state: Mapping[str, str]) -> RingPicture:
    """What lies how deep, and what has come off?

    layers: part ids, the ones that can go first in the first layer. state: part id → one of WORDS.
    """
    shown = [layer for layer in layers if layer]
    width = RADIUS / max(len(shown), 1)
    sectors: list[Sector] = []
    for depth, layer in enumerate(shown):
        outer = RADIUS - depth * width
        last = depth == len(shown) - 1
        inner = 0.0 if last and len(layer) == 1 else max(outer - width + GAP, 0.0)
        sectors += _ring(layer, outer, inner, titles, state)
    return RingPicture(tuple(sectors), _sentence(state.values()))


def _ring(
    layer: Sequence[str], outer: float, inner: float, titles: Mapping[str, str], state: Mapping[str, str]
) -> Iterable[Sector]:
    slit = min(0.012 * RADIUS / outer, 0.1)
    for number, part in enumerate(layer):
        whole = len(layer) == 1
        start, end = (tau * k / len(layer) - pi / 2 for k in (number, number + 1))
        start, end = (start, end) if whole else (start + slit, end - slit)
        corners = tuple(_at(radius, angle) for radius, angle in ((outer, start), (outer, end), (inner, end), (inner, start)))
        middle, mean = (start + end) / 2, (0.0 if whole and not inner else (outer + inner) / 2)
        text, size = _fitted(titles[part], outer * 1.6 if whole else (end - start) * mean * 0.94, outer - inner)
        x, y = _at(mean, middle)
        turn = 0.0 if whole else middle * 180 / pi + 90
        turn = turn + 180 if 90 < turn % 360 < 270 else turn
        yield Sector(
            part, titles[part], state[part], WORDS[state[part]], round(outer, 1), round(inner, 1), whole,
            end - start > pi, corners, text, x, y, round(turn % 360, 1), size,
        )  # fmt: skip


def _at(radius: float, angle: float) -> tuple[float, float]:
    return round(radius * cos(angle), 1), round(radius * sin(angle), 1)


def _fitted(title: str, room: float, height: float) -> tuple[str, float]:
    """The title at the largest size that fits along the arc; its beginning with … when nothing legible fits whole."""
    size = min(LARGEST_TEXT, height * 0.62, room / (len(title) * WIDTH_OF_A_LETTER))
    if size >= SMALLEST_TEXT:
        return title, round(size, 1)
    letters = int(room / (SMALLEST_TEXT * WIDTH_OF_A_LETTER)) - 1
    if height * 0.62 < SMALLEST_TEXT or letters < 3:
        return "", SMALLEST_TEXT
    return title[:letters].rstrip() + "…", SMALLEST_TEXT


def _sentence(states: Iterable[str]) -> str:
    """The picture in words, for those who do not see it."""
    said = [word for word in states if word in {"off", "free", "on", "free-on"}]
    off, free = said.count("off"), said.count("free")
    return f"{off} of {len(said)} parts off, {free} free now."
