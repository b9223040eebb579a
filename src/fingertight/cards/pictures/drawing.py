"""A drawing as lines, outlines and words, in its own units with y down; the same for a page and for paper."""

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import Literal

from fingertight.cards.card import Card

Look = Literal[
    "thin", "line", "bold", "faint", "steel", "go", "warn", "fill", "fill-go", "fill-warn", "fill-steel", "on-go"
]
"""How a stroke or an area looks: named by what it is for, so that page and paper choose their own ink."""

Anchor = Literal["start", "middle", "end"]

# Ink for paper and for a file; a page styles the same names in look.css (class “d-” and the name).
INK: Mapping[str, str] = {
    "thin": "stroke:#1b2429;stroke-width:{thin};fill:none",
    "line": "stroke:#1b2429;stroke-width:{line};fill:none",
    "bold": "stroke:#1b2429;stroke-width:{bold};fill:none",
    "faint": "stroke:#5c676d;stroke-width:{thin};fill:none",
    "steel": "stroke:#2f4858;stroke-width:{line};fill:none",
    "go": "stroke:#0b6e4f;stroke-width:{bold};fill:none",
    "warn": "stroke:#9a3412;stroke-width:{bold};fill:none",
    "fill": "fill:#fffdf8;stroke:#1b2429;stroke-width:{thin}",
    "fill-go": "fill:#0b6e4f",
    "fill-warn": "fill:#9a3412",
    "fill-steel": "fill:#2f4858",
}


@dataclass(frozen=True, slots=True)
class Stroke(Card):
    """An outline: a path in SVG's own words (M, L, H, V, A, Z), and how it looks."""

    path: str
    look: Look = "line"


@dataclass(frozen=True, slots=True)
class Words(Card):
    """A text: where its baseline is held, which end is held, how high its letters are, how far it is turned [deg]."""

    text: str
    x: float
    y: float
    size: float
    anchor: Anchor = "middle"
    look: Look = "fill"
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Drawing(Card):
    """What is drawn, from `left`, `top` over `width` and `height`; `says` is the same for who cannot see it.

    unit: what one of its units is on paper [mm]; a page scales it to the room there is.
    """

    says: str
    width: float
    height: float
    shapes: tuple[Stroke | Words, ...]
    left: float = 0.0
    top: float = 0.0
    unit_mm: float = 1.0
    stroke: float = 1.0
    """How wide a plain line is, in the drawing's units; thin is half of it, bold twice."""


def svg(drawing: Drawing, *, inked: bool = False) -> str:
    """The drawing as an SVG text: for a page, whose style gives the ink, or `inked` for paper and files.

    >>> svg(Drawing("A line.", 4, 2, (Stroke("M0 1H4"),)))
    '<svg class="drawing" viewBox="0 0 4 2" role="img" aria-label="A line."><path class="d-line" stroke-width="1" d="M0 1H4"/></svg>'
    """  # noqa: E501
    box = f"{number(drawing.left)} {number(drawing.top)} {number(drawing.width)} {number(drawing.height)}"
    shapes = "".join(_shape(shape, drawing.stroke, inked) for shape in drawing.shapes)
    if inked:
        size = (
            f'width="{number(drawing.width * drawing.unit_mm)}mm" height="{number(drawing.height * drawing.unit_mm)}mm"'
        )
        return f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="{box}">{shapes}</svg>'
    return f'<svg class="drawing" viewBox="{box}" role="img" aria-label="{escape(drawing.says)}">{shapes}</svg>'


def number(value: float) -> str:
    """A place or a length with no more digits than a line is wide.

    >>> number(1.0), number(0.12345678)
    ('1', '0.1235')
    """
    return f"{round(value, 4):g}" if abs(value) < 1e5 else f"{value:.0f}"


def _widths(stroke: float) -> dict[str, str]:
    return {"thin": number(stroke / 2), "line": number(stroke), "bold": number(stroke * 2)}


_WIDE = {"thin": "thin", "faint": "thin", "fill": "thin", "bold": "bold", "go": "bold", "warn": "bold"}


def _shape(shape: Stroke | Words, stroke: float, inked: bool) -> str:
    widths = _widths(stroke)
    if isinstance(shape, Stroke):
        if inked:
            return f'<path style="{INK[shape.look].format(**widths)}" d="{shape.path}"/>'
        wide = widths[_WIDE.get(shape.look, "line")]
        return f'<path class="d-{shape.look}" stroke-width="{wide}" d="{shape.path}"/>'
    turned = (
        f' transform="rotate({number(shape.turn_deg)} {number(shape.x)} {number(shape.y)})"' if shape.turn_deg else ""
    )
    ink = "#ffffff" if shape.look == "on-go" else "#1b2429"
    looks = f"fill:{ink};font-family:sans-serif" if inked else ""
    dressed = f'style="{looks}"' if inked else f'class="d-text d-text-{shape.look}"'
    return (
        f'<text {dressed} x="{number(shape.x)}" y="{number(shape.y)}" font-size="{number(shape.size)}" '
        f'text-anchor="{shape.anchor}"{turned}>{escape(shape.text, quote=False)}</text>'
    )
