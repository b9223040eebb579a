"""Pictures about setting an engine: crank and piston, the dwell at the top, valve timing, lift curves."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Anchor, Drawing, Look, Stroke, Words, number
from fingertight.quantity import plain
from fingertight.setting.timing.angles import said_from_nearest, said_from_top
from fingertight.setting.timing.crank import Crank, depth_mm, dwell_deg, pin_height_mm
from fingertight.setting.timing.events import Opening

Shapes = Iterator[Stroke | Words]


def crank_picture(crank: Crank, angle_deg: float) -> Drawing:
    """The crank at an angle, with its rod and piston, and how far the piston is below its top."""
    scale = 60 / crank.throw_mm
    throw = 60.0
    height, top = pin_height_mm(crank, angle_deg) * scale, crank.top_mm * scale
    turned = math.radians(angle_deg) + crank.lean_rad
    x, y = throw * math.sin(turned), -throw * math.cos(turned)
    pin, wide, crown = crank.offset_mm * scale, 52.0, 34.0
    depth = depth_mm(crank, angle_deg)
    shapes: list[Stroke | Words] = [
        Stroke(_circle(0, 0, throw), "faint"),
        *_line(-96, -top - crown, 84, -top - crown, "faint"),
        *_line(0, throw + 8, 0, -throw - 8, "faint"),
        Stroke(f"M{_p(pin - wide, -height - crown)}H{number(pin + wide)}V{number(-height + 22)}"
               f"H{number(pin - wide)}Z", "line"),
        *_line(0, 0, x, y, "bold"),
        *_line(x, y, pin, -height, "steel"),
        Stroke(_circle(0, 0, 6), "fill"),
        Stroke(_circle(x, y, 5), "fill"),
        Stroke(_circle(pin, -height, 5), "fill"),
        *_line(80, -top - crown, 80, -height - crown, "go"),
        Words(f"{plain(round(depth, 2))} mm down", 90, (-top - height) / 2 - crown + 4, 12, "start"),
        Words("top of the piston at TDC", -100, -top - crown - 4, 11, "start", "faint"),
        Words(said_from_top(angle_deg), 66 if x <= 0 else -66, 34, 12, "start" if x <= 0 else "end"),
    ]  # fmt: skip
    says = (
        f"The crank {said_from_top(angle_deg)}: throw {plain(round(crank.throw_mm, 2))} mm, rod "
        f"{plain(round(crank.rod_mm, 2))} mm, the piston {plain(round(depth, 2))} mm below its top."
    )
    above = top + crown + 20
    high = above + throw + 14
    wide = max(330.0, 0.8 * high)  # a long rod is drawn smaller, not higher than a screen
    return Drawing(says, wide, high, tuple(shapes), left=-130 - (wide - 330) / 2, top=-above, unit_mm=0.25, stroke=1.6)


def dwell_picture(crank: Crank, half_deg: float, step_mm: float) -> Drawing:
    """Why the highest point cannot be seen: the piston’s way about its top, and the two stops far from it."""
    hides = dwell_deg(crank, step_mm)
    near, far = max(hides, 2.0), half_deg * 1.25
    deep = depth_mm(crank, half_deg)
    left = _Axes(0, 14, 190, 120, -near, near, 0, depth_mm(crank, near))
    right = _Axes(250, 14, 190, 120, -far, far, 0, depth_mm(crank, far))
    shapes: list[Stroke | Words] = []
    for axes, title, edge in ((left, "close to the top", near), (right, "with a stop", far)):
        shapes += axes.frame()
        shapes.append(Words(title, axes.x + axes.wide / 2, 8, 12))
        shapes.append(Stroke(axes.curve(lambda at: depth_mm(crank, at)), "steel"))
        ends: tuple[tuple[float, str, Anchor], ...] = (
            (-edge, f"−{_short(edge)}°", "start"),
            (0.0, "TDC", "middle"),
            (edge, f"{_short(edge)}°", "end"),
        )
        for at, words, hold in ends:
            shapes.append(Words(words, axes.at(at), axes.y + axes.high + 15, 11, hold))
    band = left.down(step_mm)
    shapes += _line(left.at(-hides / 2), band, left.at(hides / 2), band, "warn")
    shapes.append(Words(f"{_short(hides)}° hide", left.at(0), band + 20, 12, look="warn"))
    shapes.append(Words(f"in {plain(step_mm)} mm", left.at(0), band + 35, 12, look="warn"))
    under = right.down(deep)
    for side in (-half_deg, half_deg):
        shapes += _line(right.at(side), right.y, right.at(side), under, "go")
        shapes.append(Words(f"{_short(half_deg)}°", right.at(side / 2), under - 6, 12, look="go"))
    shapes += _line(right.at(-half_deg), under, right.at(half_deg), under, "faint")
    shapes.append(Words(f"{_short(deep)} mm down", right.at(0), under + 14, 11, look="faint"))
    says = (
        f"Within {plain(step_mm)} mm of its top the piston stays for {plain(round(hides, 1))}° of the crank. A stop "
        f"{plain(round(deep, 1))} mm down is met {plain(round(half_deg, 1))}° before and after the top."
    )
    return Drawing(says, 452, 160, tuple(shapes), left=-6, top=-4, unit_mm=0.25, stroke=1.4)


def valve_circle(inlet: Opening | None, exhaust: Opening | None, spark_before_deg: float | None = None) -> Drawing:
    """The valve timing diagram: the crank goes round clockwise, the outer arc is the inlet, the inner the exhaust."""
    shapes: list[Stroke | Words] = [
        Stroke(_circle(0, 0, 92), "faint"),
        *_line(0, -112, 0, -14, "thin"),
        *_line(0, 10, 0, 112, "thin"),
        Words("TDC", 0, -117, 12),
        Words("BDC", 0, 127, 12),
        Words("turns ↻", 0, 2, 10, look="faint"),
    ]
    rings: tuple[tuple[str, Opening | None, float, Look], ...] = (
        ("inlet", inlet, 84, "go"),
        ("exhaust", exhaust, 62, "warn"),
    )
    spokes: list[_Spoke] = []
    for name, valve, radius, look in rings:
        if valve:
            shapes.append(Stroke(_arc(radius, valve.opens_deg, valve.closes_deg), look))
            spokes.append(_Spoke(f"{name} opens", valve.opens_deg, radius, look))
            spokes.append(_Spoke(f"{name} closes", valve.closes_deg, radius, look))
    if spark_before_deg is not None:
        spokes.append(_Spoke("spark", -spark_before_deg, 40, "steel"))
    for side in (-1, 1):
        shapes += _beside([spoke for spoke in spokes if (spoke.x >= 0) == (side > 0)], side)
    says = _circle_says(inlet, exhaust, spark_before_deg)
    return Drawing(says, 468, 262, tuple(shapes), left=-234, top=-132, unit_mm=0.25, stroke=1.8)


def _circle_says(inlet: Opening | None, exhaust: Opening | None, spark_before_deg: float | None) -> str:
    said = [
        f"{name} opens {said_from_nearest(valve.opens_deg)}, closes {said_from_nearest(valve.closes_deg)}"
        for name, valve in (("inlet", inlet), ("exhaust", exhaust))
        if valve
    ]
    if spark_before_deg is not None:
        said.append(f"spark {said_from_top(-spark_before_deg)}")
    return f"Valve timing on the crank’s circle: {'; '.join(said)}."


@dataclass(frozen=True, slots=True)
class Lifted:
    """One valve’s curve: its name, the angles and lifts that were read, and the lift at any angle between them."""

    name: str
    angles: tuple[float, ...]
    lifts: tuple[float, ...]
    at: Callable[[float], float]
    look: Look
    centre_deg: float


def lift_picture(curves: Sequence[Lifted], lift_mm: float | None) -> Drawing:
    """Lift over the cycle: what was read as dots, the curve through them, the stated lift, the middles of the lobes."""
    low = min(-200.0, *(curve.angles[0] for curve in curves))
    high = max(200.0, *(curve.angles[-1] for curve in curves))
    most = max(max(curve.lifts) for curve in curves)
    axes = _Axes(34, 24, 400, 150, low, high, most * 1.05, 0)
    shapes: list[Stroke | Words] = [*axes.frame()]
    for centre in range(math.ceil(low / 180), math.floor(high / 180) + 1):
        at, top = centre * 180, centre % 2 == 0
        shapes += _line(axes.at(at), axes.y, axes.at(at), axes.y + axes.high, "thin" if top else "faint")
        shapes.append(Words("TDC" if top else "BDC", axes.at(at), axes.y + axes.high + 15, 11))
    for curve in curves:
        shapes.append(Stroke(axes.curve(curve.at, curve.angles[0], curve.angles[-1]), curve.look))
        shapes += [Stroke(_circle(axes.at(at), axes.down(lift), 2.2), "fill")
                   for at, lift in zip(curve.angles, curve.lifts, strict=True)]  # fmt: skip
        shapes += _line(axes.at(curve.centre_deg), axes.y, axes.at(curve.centre_deg), axes.y + axes.high, "faint")
        shapes.append(Words(f"{curve.name} {said_from_top(curve.centre_deg)}", axes.at(curve.centre_deg), 16, 11,
                            look=curve.look))  # fmt: skip
    for lift in sorted({most, *([lift_mm] if lift_mm else [])}):
        shapes.append(Words(f"{plain(round(lift, 2))}", 30, axes.down(lift) + 4, 10, "end"))
    if lift_mm:
        shapes += _line(axes.x, axes.down(lift_mm), axes.x + axes.wide, axes.down(lift_mm), "steel")
    shapes.append(Words("mm", 30, axes.y - 6, 10, "end", "faint"))
    says = "Lift curves: " + "; ".join(
        f"{curve.name} up to {plain(round(max(curve.lifts), 2))} mm, the middle of its lobe "
        f"{said_from_top(curve.centre_deg)}"
        for curve in curves
    )
    return Drawing(f"{says}.", 444, 196, tuple(shapes), unit_mm=0.25, stroke=1.4)


@dataclass(frozen=True, slots=True)
class _Axes:
    """A box for a curve: where it lies, and what its edges stand for; `top` is what its upper edge stands for."""

    x: float
    y: float
    wide: float
    high: float
    left: float
    right: float
    top: float
    bottom: float

    def at(self, value: float) -> float:
        return self.x + (value - self.left) / (self.right - self.left) * self.wide

    def down(self, value: float) -> float:
        return self.y + (value - self.top) / (self.bottom - self.top) * self.high

    def frame(self) -> Iterable[Stroke | Words]:
        return _line(self.x, self.y, self.x + self.wide, self.y, "faint") if self.top < self.bottom else _line(
            self.x, self.y + self.high, self.x + self.wide, self.y + self.high, "thin"
        )  # fmt: skip

    def curve(self, height: Callable[[float], float], low: float | None = None, high: float | None = None) -> str:
        low, high = self.left if low is None else low, self.right if high is None else high
        places = [low + (high - low) * step / 80 for step in range(81)]
        return "M" + "L".join(_p(self.at(place), self.down(height(place))) for place in places)


@dataclass(frozen=True, slots=True)
class _Spoke:
    """A mark at an angle, from its ring outwards."""

    words: str
    cycle_deg: float
    radius: float
    look: Look

    @property
    def x(self) -> float:
        return math.sin(math.radians(self.cycle_deg))

    @property
    def y(self) -> float:
        return -math.cos(math.radians(self.cycle_deg))


def _beside(spokes: Sequence[_Spoke], side: int) -> Shapes:
    """The marks of one side of the circle, and their words in a column beside it, none over another."""
    last = -math.inf
    for spoke in sorted(spokes, key=lambda one: one.y):
        yield from _line(
            spoke.x * (spoke.radius - 5), spoke.y * (spoke.radius - 5), spoke.x * 99, spoke.y * 99, spoke.look
        )
        last = max(spoke.y * 104, last + 30, -112.0)
        yield from _line(spoke.x * 99, spoke.y * 99, side * 116, last, "faint")
        hold: Anchor = "start" if side > 0 else "end"
        yield Words(spoke.words, side * 119, last - 2, 11.5, hold, spoke.look)
        yield Words(said_from_nearest(spoke.cycle_deg), side * 119, last + 11, 11.5, hold, spoke.look)


def _short(value: float) -> str:
    return plain(round(value, 1))


def _arc(radius: float, from_deg: float, to_deg: float) -> str:
    """An arc clockwise from the top, in pieces of less than half a turn, since SVG takes the shorter way."""
    pieces = max(math.ceil((to_deg - from_deg) / 120), 1)
    ends = [math.radians(from_deg + (to_deg - from_deg) * piece / pieces) for piece in range(pieces + 1)]
    spots = [_p(radius * math.sin(end), -radius * math.cos(end)) for end in ends]
    return f"M{spots[0]}" + "".join(f"A{number(radius)} {number(radius)} 0 0 1 {spot}" for spot in spots[1:])


def _circle(x: float, y: float, radius: float) -> str:
    r = number(radius)
    return f"M{_p(x - radius, y)}A{r} {r} 0 1 1 {_p(x + radius, y)}A{r} {r} 0 1 1 {_p(x - radius, y)}Z"


def _line(x1: float, y1: float, x2: float, y2: float, look: Look) -> list[Stroke | Words]:
    return [Stroke(f"M{_p(x1, y1)}L{_p(x2, y2)}", look)]


def _p(x: float, y: float) -> str:
    return f"{number(x)} {number(y)}"
