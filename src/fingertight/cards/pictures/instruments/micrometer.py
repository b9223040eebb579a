"""A micrometer at a reading: the sleeve up to the edge of the thimble, and the thimble's lines about the long line."""

import math

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number
from fingertight.measure.scales.kinds import Scales
from fingertight.measure.scales.shows import shown_at
from fingertight.quantity import plain

WIDTH, MIDDLE = 360.0, 120.0
EDGE, SLEEVE_LEFT, THIMBLE_RIGHT = 236.0, 8.0, 352.0
_HALF = 84.0
_SHOWN_MARKS = 15
VERNIER_SHARE = 0.9
"""The lines of a vernier on the sleeve are so much closer than those of the thimble."""


def micrometer_drawing(reading: float, scales: Scales) -> Drawing:
    """Sleeve and thimble at this reading. The thimble is drawn unrolled: its lines stand as far apart everywhere."""
    shown = shown_at(reading, scales)
    shapes: list[Stroke | Words] = []
    up = 50.0 if not scales.vernier else 108.0
    shapes.append(Stroke(f"M{SLEEVE_LEFT:g} {number(MIDDLE - up)}H{EDGE:g}", "faint"))
    shapes.append(Stroke(f"M{SLEEVE_LEFT:g} {number(MIDDLE + 50)}H{EDGE:g}", "faint"))
    _sleeve(shapes, reading, scales)
    _thimble(shapes, reading, scales)
    if scales.vernier:
        _sleeve_vernier(shapes, scales)
    seen = f"The sleeve shows {plain(shown.whole)} {scales.unit}; line {shown.line} of the thimble"
    stands = "stands at the long line" if not shown.tenth else "has just passed the long line"
    more = f"; line {shown.tenth} of the sleeve’s vernier meets one of the thimble" if scales.vernier else ""
    says = f"A micrometer. {seen} {stands}{more}."
    return Drawing(says, WIDTH, 220, tuple(shapes), stroke=1.2)


def spacing(scales: Scales) -> float:
    """From one line of the thimble to the next, as drawn; closer where ten lines of a vernier stand beside them."""
    return 11.0 if scales.vernier else 15.0


def thimble_at(reading: float, scales: Scales) -> float:
    """Which line of the thimble stands at the long line, with its fraction: 0 to less than one turn."""
    share = reading / scales.mark
    return (share - math.floor(share + 1e-9)) * scales.parts


def _sleeve(shapes: list[Stroke | Words], reading: float, scales: Scales) -> None:
    """The long line, whole marks above it and halves below (in inches all above), up to the edge of the thimble."""
    shapes.append(Stroke(f"M{SLEEVE_LEFT:g} {MIDDLE:g}H{EDGE:g}", "line"))
    along = (EDGE - SLEEVE_LEFT - 14) / (_SHOWN_MARKS * scales.mark)
    mark = max(math.ceil(reading / scales.mark - _SHOWN_MARKS - 1e-9), 0)
    while mark * scales.mark <= reading + 1e-9:
        x = EDGE - (reading - mark * scales.mark) * along
        up, long, name = _mark(mark, scales)
        end = MIDDLE - long if up else MIDDLE + long
        shapes.append(Stroke(f"M{number(x)} {MIDDLE:g}V{number(end)}", "line"))
        if name and x < EDGE - (46 if scales.vernier else 4):
            shapes.append(Words(name, x, MIDDLE - long - 4, 14))
        mark += 1


def _mark(mark: int, scales: Scales) -> tuple[bool, float, str]:
    """Whether a mark stands above the long line, how long it is, and its number."""
    if scales.unit == "mm":
        whole, is_half = divmod(mark, 2)
        if is_half:
            return False, 14.0, ""
        return True, (20.0 if whole % 5 == 0 else 14.0), (str(whole) if whole % 5 == 0 else "")
    is_tenth = mark % 4 == 0
    return True, (20.0 if is_tenth else 12.0), (str(mark // 4) if is_tenth else "")


def _thimble(shapes: list[Stroke | Words], reading: float, scales: Scales) -> None:
    """Its edge, and its lines about the long line; numbers rise upwards."""
    up, apart = _HALF if not scales.vernier else 112.0, spacing(scales)
    top, bottom = MIDDLE - up, MIDDLE + _HALF
    shapes.append(Stroke(f"M{EDGE:g} {number(top)}H{THIMBLE_RIGHT:g}V{number(bottom)}H{EDGE:g}Z", "fill"))
    at = thimble_at(reading, scales)
    for line in range(math.ceil(at - _HALF / apart), math.floor(at + up / apart) + 1):
        y = MIDDLE - (line - at) * apart
        name = line % scales.parts
        long = 40.0 if name % 5 == 0 else 26.0
        shapes.append(Stroke(f"M{EDGE:g} {number(y)}h{long:g}", "steel"))
        if name % 5 == 0 and top + 6 < y < bottom - 2:
            shapes.append(Words(str(name), EDGE + 66, y + 5, 15))


def _sleeve_vernier(shapes: list[Stroke | Words], scales: Scales) -> None:
    """Its lines on the sleeve above the long line, a tenth of a division closer than those of the thimble."""
    for line in range(1, scales.vernier + 1):
        y = MIDDLE - line * VERNIER_SHARE * spacing(scales)
        shapes.append(Stroke(f"M{number(EDGE - 26)} {number(y)}H{EDGE:g}", "line"))
        if line % 2 == 0:
            shapes.append(Words(str(line % 10), EDGE - 34, y + 4, 12))
