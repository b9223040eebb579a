"""A degree wheel and a timing tape as PDF, at their true size: cut out, and laid on crank and flywheel."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fingertight.cards.sums.setting.timing.printed import (
    EDGE_MM,
    FIRST_ROWS,
    OVERLAP_MM,
    PAPERS,
    ROWS,
    RULER_MM,
    PrintedTape,
    PrintedWheel,
    TapeStrip,
)
from fingertight.paper.labels import SAFETY
from fingertight.paper.typeset import typeset
from fingertight.quantity import plain
from fingertight.setting.timing.angles import said_from_top

Shape = dict[str, object]
Point = tuple[float, float]

STRIP_HIGH_MM = 16.0
_WHEEL_FROM_TOP_MM = 25.0
_FIRST_STRIP_MM, _LATER_STRIP_MM, _STRIP_PITCH_MM = 72.0, 24.0, 29.0
_DENSE_MM, _CLOSE_MM = 0.5, 7.0
# How long and how thick the mark of a degree is [mm], by what it is a whole multiple of.
_MARKS = ((10, 8.0, 0.25), (5, 5.5, 0.18), (1, 3.5, 0.12))


@dataclass(frozen=True, slots=True)
class Laid:
    """Where something lies on its page [mm from the upper left corner], and how much larger it is drawn than it is."""

    x: float
    y: float
    scale: float


def wheel_at(card: PrintedWheel) -> Laid:
    """Where the middle of the wheel lies."""
    scale = RULER_MM / card.printed_100_mm
    return Laid(PAPERS[card.paper][0] / 2, _WHEEL_FROM_TOP_MM + card.diameter_mm / 2 * scale, scale)


def strip_at(card: PrintedTape, number: int) -> Laid:
    """Where the left end of a strip lies on its lower edge, strips counted from 0."""
    row = number if number < FIRST_ROWS else (number - FIRST_ROWS) % ROWS
    top = (_FIRST_STRIP_MM if number < FIRST_ROWS else _LATER_STRIP_MM) + row * _STRIP_PITCH_MM
    return Laid(EDGE_MM, top + STRIP_HIGH_MM, RULER_MM / card.printed_100_mm)


def wheel_pdf(card: PrintedWheel) -> bytes:
    """What PDF prints this wheel, with a ruler that shows whether the printer keeps its size?"""
    wide, high = PAPERS[card.paper]
    laid = wheel_at(card)
    under = laid.y + card.diameter_mm / 2 * laid.scale + 7
    size = f"{plain(round(card.diameter_mm, 2))} mm"
    page = {
        "lines": [*_wheel_lines(card, laid), *_ruler_lines(under, wide, laid.scale)],
        "circles": [
            {"at": (laid.x, laid.y), "radius": radius * laid.scale, "thick": thick}
            for radius, thick in ((card.diameter_mm / 2, 0.15), (card.hole_mm / 2, 0.15))
            if radius
        ],
        "texts": [*_wheel_texts(card, laid), *_ruler_texts(under, wide, laid.scale)],
        "says": f"A degree wheel of {size}: marks for each degree, numbered from TDC both ways, before TDC on the "
        f"{'right' if card.turns == 'clockwise' else 'left'}.",
        "words": _wheel_words(card),
        "words_from": under + 13,
    }
    return typeset("wheel", _content(f"Degree wheel, {size}", (wide, high), [page]))


def tape_pdf(card: PrintedTape) -> bytes:
    """What PDF prints this tape, in as many strips and pages as it takes?"""
    high, wide = PAPERS[card.paper]  # lying
    length = plain(round(card.length_mm, 1))
    title = f"Timing tape for a flywheel of {plain(round(card.flywheel_mm, 2))} mm: {length} mm long"
    pages: list[Shape] = []
    for number in range(1, card.pages + 1):
        here = [(place, strip) for place, strip in enumerate(card.strips) if strip.page == number]
        shapes = [_strip(card, place, strip) for place, strip in here]
        page: Shape = {
            "lines": [line for lines, _ in shapes for line in lines],
            "circles": [],
            "texts": [text for _, texts in shapes for text in texts],
            "says": f"Strips {here[0][0] + 1} to {here[-1][0] + 1} of {len(card.strips)} of the tape, a mark for each "
            f"{_step(card)}°.",
            "words": [],
            "words_from": 16.0,
        }
        if number == 1:
            scale = RULER_MM / card.printed_100_mm
            page["lines"] = [*_ruler_lines(54.0, wide, scale), *_list(page["lines"])]
            page["texts"] = [*_ruler_texts(54.0, wide, scale), *_list(page["texts"])]
            page["words"] = _tape_words(card)
        pages.append(page)
    return typeset("wheel", _content(title, (wide, high), pages))


def _content(title: str, paper: Point, pages: list[Shape]) -> Shape:
    return {"title": title, "paper": paper, "edge": EDGE_MM, "pages": pages, "footer": SAFETY}


def _list(shapes: object) -> list[Shape]:
    return shapes if isinstance(shapes, list) else []


def _line(one: Point, other: Point, thick: float, look: str = "") -> Shape:
    return {"from": _near(one), "to": _near(other), "thick": thick, "look": look}


def _text(
    said: str, at: Point, size_pt: float, *, turn: float = 0.0, hold: str = "center", bold: bool = False
) -> Shape:
    return {"said": said, "at": _near(at), "size": size_pt, "turn": round(turn, 3), "hold": hold, "bold": bold}


def _near(at: Point) -> Point:
    return round(at[0], 4), round(at[1], 4)


def _mark(degree: int) -> tuple[float, float]:
    return next((long, thick) for whole, long, thick in _MARKS if degree % whole == 0)


# ---------------------------------------------------------------- wheel


def _round(laid: Laid, turned_deg: float, radius_mm: float) -> Point:
    """A place on the wheel: so far clockwise from its top, so far from its middle."""
    turned = math.radians(turned_deg)
    return (
        laid.x + radius_mm * laid.scale * math.sin(turned),
        laid.y - radius_mm * laid.scale * math.cos(turned),
    )


def _way(turns: str) -> float:
    """Where the crank turns clockwise, what comes after top dead centre lies anticlockwise of it on the wheel."""
    return -1.0 if turns == "clockwise" else 1.0


def _wheel_lines(card: PrintedWheel, laid: Laid) -> Iterator[Shape]:
    rim, grows = card.diameter_mm / 2, _grows(card)
    for degree in range(360):
        long, thick = _mark(degree)
        if degree % 180 == 0:
            long, thick = 1.6 * long, 0.4
        turned = _way(card.turns) * degree
        yield _line(_round(laid, turned, rim), _round(laid, turned, rim - long * grows), thick)
    arm = (card.hole_mm / 2 + 5) * laid.scale
    yield _line((laid.x - arm, laid.y), (laid.x + arm, laid.y), 0.15)
    yield _line((laid.x, laid.y - arm), (laid.x, laid.y + arm), 0.15)


def _grows(card: PrintedWheel) -> float:
    """How much longer marks and figures are than on a wheel of 120 mm."""
    return min(max(card.diameter_mm / 120, 0.55), 1.2)


def _wheel_texts(card: PrintedWheel, laid: Laid) -> Iterator[Shape]:
    rim, grows, way = card.diameter_mm / 2, _grows(card), _way(card.turns)
    for degree in range(-170, 180, 10):
        turned = way * degree
        if degree:
            yield _text(str(abs(degree)), _round(laid, turned, rim - 11 * grows), 8 * grows, turn=turned)
        if abs(degree) > 90 and card.diameter_mm >= 100:
            spot = _round(laid, turned, rim - 17 * grows)
            yield _text(str(180 - abs(degree)), spot, 5.5 * grows, turn=turned)
    for name, turned in (("TDC", 0.0), ("BDC", 180.0)):
        yield _text(name, _round(laid, turned, rim - 16.5 * grows), 10 * grows, turn=turned, bold=True)
    sides = (("before TDC", -1, 50), ("after TDC", 1, 50), ("before BDC", 1, 130), ("after BDC", -1, 130))
    for words, side, away in sides:
        yield _text(words, _round(laid, way * side * away, rim * 0.5), 7.5 * grows)
    arrow = "↻" if card.turns == "clockwise" else "↺"
    yield _text(f"{arrow} turns {card.turns}", _round(laid, 0, rim * 0.45), 7 * grows)


def _wheel_words(card: PrintedWheel) -> list[str]:
    small = " The small numbers below count from BDC." if card.diameter_mm >= 100 else ""
    return [
        "Print at 100 % (“actual size”), never “fit to page”. The ruler must be 100\u00a0mm; if it is not, print "
        "again with what it measures (--printed 99.4, or the box “Ruler measured”). Its degrees are right even so; "
        "its size is not.",
        f"The crank turns {card.turns}, seen from where you read. Numbers count from TDC both ways.{small}",
        "Glue it on card, cut it out, fit it on the crank and a pointer on the engine. Find top dead centre with a "
        "stop from both sides, never by looking for the highest point; then slip the wheel until it reads the same "
        "on both sides.",
    ]


# ---------------------------------------------------------------- tape


def _step(card: PrintedTape) -> int:
    """Every degree, or every other where they would run together."""
    return 1 if card.mm_per_deg >= _DENSE_MM else 2


def _strip(card: PrintedTape, number: int, strip: TapeStrip) -> tuple[list[Shape], list[Shape]]:
    """Lines and texts of one strip: its outline, its marks, the tab the next one is glued on."""
    laid = strip_at(card, number)
    way = 1.0 if strip.to_deg > strip.from_deg else -1.0
    per_deg = card.mm_per_deg * laid.scale
    right = laid.x + abs(strip.to_deg - strip.from_deg) * per_deg
    tab = right + OVERLAP_MM * laid.scale
    up = laid.y - STRIP_HIGH_MM
    lines = [
        _line((laid.x, laid.y), (tab, laid.y), 0.15),
        _line((laid.x, up), (tab, up), 0.15),
        _line((tab, up), (tab, laid.y), 0.15, "dashed"),
        # The joint is marked on both strips, beyond their edges too.
        _line((laid.x, up - 2), (laid.x, laid.y + 2), 0.25),
        _line((right, up - 2), (right, laid.y + 2), 0.25),
    ]
    texts = []
    for degree in _degrees(strip, way, (tab - right) / per_deg, _step(card)):
        x = laid.x + way * (degree - strip.from_deg) * per_deg
        is_tab = x > right + 1e-6
        at = degree if abs(degree) <= 180 else degree - (360 if degree > 0 else -360)
        long, thick = (STRIP_HIGH_MM, 0.5) if at == 0 else _mark(at)
        lines.append(_line((x, laid.y), (x, laid.y - long), thick))
        if not is_tab and at % _numbered(card) == 0:
            texts.append(_number(at, x, laid, right))
    many = len(card.strips)
    spans = f"{said_from_top(strip.from_deg)} to {said_from_top(strip.to_deg)}".replace("180° before TDC", "BDC")
    texts.append(_text(f"Strip {number + 1} of {many}: "
    f"{spans.replace('180° after TDC', 'BDC')}", (laid.x + 1, up - 2.6), 7,
                       hold="left"))  # fmt: skip
    texts.append(_text("this edge towards you", (laid.x + 1, laid.y + 2.4), 6, hold="left"))
    glue = "the next strip is glued on here" if number + 1 < many else "glued under the beginning"
    texts.append(_text(glue, (right - 1, laid.y + 2.4), 6, hold="right"))
    return lines, texts


def _degrees(strip: TapeStrip, way: float, tab_deg: float, step: int) -> Sequence[int]:
    """The whole degrees from the left end to the end of the tab; beyond half a turn they go on counting."""
    low, high = sorted((strip.from_deg, strip.to_deg + way * tab_deg))
    return [degree for degree in range(math.ceil(low - 1e-9), math.floor(high + 1e-9) + 1) if degree % step == 0]


def _numbered(card: PrintedTape) -> int:
    """Numbers stand at every tenth degree, or less often where they would run together."""
    return next(degrees for degrees in (10, 20, 30) if degrees * card.mm_per_deg >= _CLOSE_MM or degrees == 30)


def _number(degree: int, x: float, laid: Laid, right: float) -> Shape:
    """The number over its mark; at the ends of a strip beside it, where it is not cut away."""
    said = {0: "TDC", 180: "BDC", -180: "BDC"}.get(degree, str(abs(degree)))
    high = laid.y - (STRIP_HIGH_MM - 3 if degree == 0 else 10.6)
    beside = "left" if degree == 0 or abs(x - laid.x) < 1e-6 else "right" if abs(x - right) < 1e-6 else "center"
    shift = {"left": 0.9, "right": -0.9, "center": 0.0}[beside]
    return _text(said, (x + shift, high), 8 if degree else 9, hold=beside, bold=not degree)


def _tape_words(card: PrintedTape) -> list[str]:
    runs = "right →" if card.turns == "clockwise" else "left ←"
    left, right = ("after", "before") if card.turns == "clockwise" else ("before", "after")
    slip = plain(round(180 / 100, 1))
    return [
        "Print at 100 % (“actual size”), never “fit to page”. The ruler must be 100\u00a0mm; if it is not, print "
        f"again with what it measures (--printed 99.4, or the box “Ruler measured”): a tape 1 % too short is {slip}° "
        "out at the far end.",
        f"The crank turns {card.turns}, seen from where you read: the rim runs to the {runs}. Left of TDC stands "
        f"what is {left} it, right of it what is {right} it. Once round is "
        f"{plain(round(card.length_mm, 1))}\u00a0mm, π times {plain(round(card.flywheel_mm, 2))}\u00a0mm; one degree "
        f"is {plain(round(card.mm_per_deg, 3))}\u00a0mm.",
        "Cut along the long lines. Lay each strip on the tab before it, joint on joint and marks on marks, and glue. "
        "Clean the rim, find top dead centre with a stop from both sides, and lay TDC at the pointer. Thick paper is "
        "short by three times its thickness once round: leave that at BDC.",
    ]


# ---------------------------------------------------------------- ruler


def _ruler_lines(y: float, wide: float, scale: float) -> Iterator[Shape]:
    start = wide / 2 - RULER_MM / 2 * scale
    yield _line((start, y), (start + RULER_MM * scale, y), 0.3)
    for millimetre in range(int(RULER_MM) + 1):
        long = 5.0 if millimetre % 10 == 0 else 3.5 if millimetre % 5 == 0 else 2.0
        is_end = millimetre in (0, int(RULER_MM))
        x = start + millimetre * scale
        yield _line((x, y), (x, y + (6.0 if is_end else long)), 0.3 if is_end else 0.12)


def _ruler_texts(y: float, wide: float, scale: float) -> Iterator[Shape]:
    start = wide / 2 - RULER_MM / 2 * scale
    for millimetre in range(0, int(RULER_MM) + 1, 10):
        yield _text(str(millimetre), (start + millimetre * scale, y + 8), 6)
    yield _text("This must be 100 mm.", (start + RULER_MM * scale + 3, y + 3), 9, hold="left", bold=True)
    yield _text("Ruler", (start - 3, y + 3), 9, hold="right", bold=True)
