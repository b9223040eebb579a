"""A vernier calliper at a reading: above where the 0 of its vernier stands, below a window on the lines that meet."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number
from fingertight.measure.scales.kinds import Scales
from fingertight.measure.scales.shows import shown_at
from fingertight.quantity import plain

WIDTH, LEFT, RIGHT = 360.0, 10.0, 350.0
SEAM_0, SEAM_1 = 58.0, 172.0
_MARKS_SHOWN = 18
_LINES_SHOWN = 9


def pitch_of(scales: Scales) -> float:
    """From one line of the vernier to the next: a step less than one mark, or than two where it is wide [unit]."""
    marks = 2 if scales.parts == 20 else 1
    return marks * scales.mark - scales.step


def vernier_drawing(reading: float, scales: Scales, shift: int = 0) -> Drawing:
    """The calliper at this reading; `shift` moves the window below, so that its middle gives nothing away."""
    shown = shown_at(reading, scales)
    first = max(math.floor(reading / scales.mark) - 4, 0) * scales.mark
    above = _Strip(SEAM_0, first, (RIGHT - LEFT) / (_MARKS_SHOWN * scales.mark))
    pitch, half = pitch_of(scales), _LINES_SHOWN // 2
    middle = min(max(shown.line + shift, half), scales.parts - half)
    closer = _Strip(SEAM_1, reading + (middle - _LINES_SHOWN / 2) * pitch, (RIGHT - LEFT) / (_LINES_SHOWN * pitch))
    shapes: list[Stroke | Words] = [
        Words("where the 0 of the vernier stands", LEFT, 14, 12, "start", "faint"),
        *_main(above, scales),
        *_vernier(above, scales, reading, range(scales.parts + 1)),
        Words("closer: which line below meets one above?", LEFT, SEAM_1 - 50, 12, "start", "faint"),
        *_main(closer, scales),
        *_vernier(closer, scales, reading, range(max(middle - half - 1, 0), min(middle + half + 1, scales.parts) + 1)),
    ]
    says = (
        f"A vernier calliper. Its 0 stands past {plain(shown.whole)} {scales.unit}; line {shown.line} of its vernier "
        "meets a line of the main scale."
    )
    return Drawing(says, WIDTH, 220, tuple(shapes), stroke=1.2)


@dataclass(frozen=True, slots=True)
class _Strip:
    """A stretch of both scales: where they meet, which size is at its left end, how long one unit is drawn."""

    seam: float
    start: float
    along: float

    def x(self, size: float) -> float:
        return LEFT + (size - self.start) * self.along


def _main(strip: _Strip, scales: Scales) -> Iterator[Stroke | Words]:
    """The main scale, standing on the seam."""
    yield Stroke(f"M{number(LEFT)} {number(strip.seam)}H{number(RIGHT)}", "faint")
    mark = math.ceil(strip.start / scales.mark - 1e-9)
    while (x := strip.x(mark * scales.mark)) <= RIGHT + 1e-6:
        long, is_named = _length(mark, scales)
        yield Stroke(f"M{number(x)} {number(strip.seam)}V{number(strip.seam - long)}", "line")
        if is_named:
            yield Words(_name(mark, scales), x, strip.seam - long - 4, 13)
        mark += 1


def _length(mark: int, scales: Scales) -> tuple[float, bool]:
    """How long the line of a mark is, and whether it has its number."""
    numbered = round(scales.numbered / scales.mark)
    if mark % numbered == 0:
        return 24.0, True
    half = numbered // 2
    return (18.0, False) if mark % half == 0 else (12.0, False)


def _name(mark: int, scales: Scales) -> str:
    """Millimetres by their number; tenths of an inch by their digit, whole inches by theirs."""
    if scales.unit == "mm":
        return f"{round(mark * scales.mark)}"
    tenths = round(mark * scales.mark * 10)
    return f"{tenths % 10}" if tenths % 10 else f"{tenths // 10} in"


def _vernier(strip: _Strip, scales: Scales, reading: float, lines: range) -> Iterator[Stroke | Words]:
    """The vernier, hanging from the seam: its line 0 at the reading."""
    every = {50: 5, 20: 2, 25: 5}[scales.parts]
    for line in lines:
        x = strip.x(reading + line * pitch_of(scales))
        if not LEFT - 1e-6 <= x <= RIGHT + 1e-6:
            continue
        long = 20.0 if line % every == 0 else 13.0
        yield Stroke(f"M{number(x)} {number(strip.seam)}V{number(strip.seam + long)}", "steel")
        if line % every == 0:
            name = f"{line * 10 // scales.parts}" if scales.parts != 25 else f"{line}"
            yield Words(name, x, strip.seam + long + 13, 13)
