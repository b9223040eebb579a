"""A dial at a reading: its hand, and a small hand that counts the turns; a bore gauge against its setting."""

import math

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, number
from fingertight.measure.scales.kinds import Scales
from fingertight.measure.scales.shows import steps_of
from fingertight.quantity import plain, shown

SIZE, CENTRE, RIM = 300.0, 150.0, 132.0
SMALL, SMALL_Y = 26.0, 206.0
_TURNS_SHOWN = 10


def dial_drawing(reading: float, scales: Scales, zero: float | None = None) -> Drawing:
    """The dial at this reading. zero: what a bore gauge was set to; its hand then shows how far the bore differs, and
    turns against the clock where it is larger."""
    against = scales.kind == "bore gauge"
    away = reading - zero if zero is not None else reading
    steps = steps_of(away, scales)
    turns = away / (scales.step * scales.parts)
    shapes: list[Stroke | Words] = [
        Stroke(_ring(CENTRE, CENTRE, RIM + 12), "fill"),
        *_lines(scales, against),
    ]
    if not against:
        shapes += _small(turns)
    angle = (-turns if against else turns) * 360
    shapes += [Stroke(_hand(angle, RIM - 8), "bold"), Stroke(_ring(CENTRE, CENTRE, 6), "fill-steel")]
    line = steps % scales.parts
    if zero is None:
        what = "A bore gauge at" if against else "A dial gauge at"
        says = f"{what} {plain(round(reading, 6))} {scales.unit}: the hand stands at line {line}."
    else:
        set_to = shown(zero, scales.step)
        side = "larger" if away >= 0 else "smaller"
        says = (
            f"A bore gauge set to 0 at {set_to} {scales.unit}: its hand stands "
            f"{plain(round(abs(steps) * scales.step, 6))} {scales.unit} on the side of {side}."
        )
        shapes.append(Words(f"0 is {set_to} {scales.unit}", CENTRE, CENTRE + 62, 15))
    if against:
        shapes.append(Words("+ larger", CENTRE - 46, CENTRE + 36, 14, look="faint"))
        shapes.append(Words("smaller −", CENTRE + 46, CENTRE + 36, 14, look="faint"))
    shapes.append(Words(f"{scales.step:g} {scales.unit}", CENTRE, CENTRE - 44, 14, look="faint"))
    return Drawing(says, SIZE, SIZE, tuple(shapes), stroke=1.4)


def _lines(scales: Scales, against: bool) -> list[Stroke | Words]:
    """A hundred lines, every tenth with its number; of a bore gauge they count both ways from the top."""
    shapes: list[Stroke | Words] = []
    for line in range(scales.parts):
        angle = math.radians(line * 360 / scales.parts)
        long = 18.0 if line % 10 == 0 else 13.0 if line % 5 == 0 else 8.0
        ends = [(CENTRE + r * math.sin(angle), CENTRE - r * math.cos(angle)) for r in (RIM, RIM - long)]
        path = f"M{number(ends[0][0])} {number(ends[0][1])}L{number(ends[1][0])} {number(ends[1][1])}"
        shapes.append(Stroke(path, "line" if line % 5 == 0 else "thin"))
        if line % 10 == 0:
            far = RIM - 31
            name = min(line, scales.parts - line) if against else line
            x, y = CENTRE + far * math.sin(angle), CENTRE - far * math.cos(angle)
            shapes.append(Words(str(name), x, y + 5, 15))
    return shapes


def _small(turns: float) -> list[Stroke | Words]:
    """The small hand: one line a turn of the large one."""
    shapes: list[Stroke | Words] = [Stroke(_ring(CENTRE, SMALL_Y, SMALL + 3), "faint")]
    for turn in range(_TURNS_SHOWN):
        angle = math.radians(turn * 360 / _TURNS_SHOWN)
        x, y = math.sin(angle), -math.cos(angle)
        shapes.append(
            Stroke(
                f"M{number(CENTRE + SMALL * x)} {number(SMALL_Y + SMALL * y)}"
                f"L{number(CENTRE + (SMALL - 5) * x)} {number(SMALL_Y + (SMALL - 5) * y)}",
                "thin",
            )
        )
        if turn % 2 == 0:
            shapes.append(Words(str(turn), CENTRE + (SMALL - 12) * x, SMALL_Y + (SMALL - 12) * y + 4, 10))
    angle = math.radians(turns * 360 / _TURNS_SHOWN)
    x, y = CENTRE + (SMALL - 2) * math.sin(angle), SMALL_Y - (SMALL - 2) * math.cos(angle)
    shapes.append(Stroke(f"M{number(CENTRE)} {number(SMALL_Y)}L{number(x)} {number(y)}", "line"))
    return shapes


def _hand(angle_deg: float, far: float) -> str:
    angle = math.radians(angle_deg)
    tip = CENTRE + far * math.sin(angle), CENTRE - far * math.cos(angle)
    tail = CENTRE - 26 * math.sin(angle), CENTRE + 26 * math.cos(angle)
    return f"M{number(tail[0])} {number(tail[1])}L{number(tip[0])} {number(tip[1])}"


def _ring(x: float, y: float, r: float) -> str:
    across = f"a{number(r)} {number(r)} 0 1 0"
    return f"M{number(x - r)} {number(y)}{across} {number(2 * r)} 0{across} {number(-2 * r)} 0"
