"""Pictures about setting an engine: crank and piston, the dwell at the top, valve timing, lift curves."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Drawing, Look, Stroke, Words, number
from fingertight.quantity import plain
from fingertight.setting.timing.angles import said_from_nearest, said_from_top
from fingertight.setting.timing.crank import Crank, depth_mm, dwell_deg, pin_height_mm
from fingertight.setting.timing.events import Opening, ValveTiming

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
        *_line(-96, -top - crown, 96, -top - crown, "faint"),
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
    return Drawing(says, 330, above + throw + 14, tuple(shapes), left=-130, top=-above, unit_mm=0.25, stroke=1.6)


def dwell_picture(crank: Crank, half_deg: float, step_mm: float) -> Drawing:
    """Why the highest point cannot be seen: the piston’s way about its top, and the two stops far from it."""
    hides = dwell_deg(crank, step_mm)
    near, far = max(hides, 2.0), half_deg * 1.25
    deep = depth_mm(crank, half_deg)
    left = _Axes(0, 14, 190, 120, -near, near, 0, depth_mm(crank, near))
    right = _Axes(250, 14, 190, 120, -far, far, 0, depth_mm(crank, far))
    shapes: list[Stroke | Words] = []
    for axes, title in ((left, "close to the top"), (right, "with a stop")):
        shapes += axes.frame()
        shapes.append(Words(title, axes.x + axes.wide / 2, 8, 12))
        shapes.append(Stroke(axes.curve(lambda at: depth_mm(crank, at)), "steel"))
        shapes.append(Words("TDC", axes.at(0), axes.y + axes.high + 15, 11))
    band = left.down(step_mm)
    shapes += _line(left.at(-hides / 2), band, left.at(hides / 2), band, "warn")
    shapes.append(
        Words(f"{plain(round(hides, 1))}° hide in {plain(step_mm)} mm", left.at(0), band + 18, 12, look="warn")
    )
    for side in (-half_deg, half_deg):
        shapes += _line(right.at(side), right.y, right.at(side), right.down(deep), "go")
        shapes.append(Words(f"{plain(round(half_deg, 1))}°", right.at(side / 2), right.y + 24, 12, look="go"))
    shapes += _line(right.at(-half_deg), right.down(deep), right.at(half_deg), right.down(deep), "faint")
    shapes.append(Words(f"{plain(round(deep, 1))} mm", right.at(0), right.down(deep) + 14, 11, look="faint"))
    says = (
        f"Within {plain(step_mm)} mm of its top the piston stays for {plain(round(hides, 1))}° of the crank. A stop "
        f"{plain(round(deep, 1))} mm down is met {plain(round(half_deg, 1))}° before and after the top."
    )
    return Drawing(says, 452, 160, tuple(shapes), left=-6, top=-4, unit_mm=0.25, stroke=1.4)


def valve_circle(inlet: Opening | None, exhaust: Opening | None, spark_before_deg: float | None = None) -> Drawing:
    """The valve timing diagram: the crank goes round clockwise, the outer arc is the inlet, the inner the exhaust."""
    shapes: list[Stroke | Words] = [
        Stroke(_circle(0, 0, 92), "faint"),
        *_line(0, -112, 0, 112, "thin"),
        Words("TDC", 0, -117, 12),
        Words("BDC", 0, 127, 12),
        Words("the crank", 0, -4, 10, look="faint"),
        Words("turns ↻", 0, 9, 10, look="faint"),
    ]
    rings: tuple[tuple[str, Opening | None, float, Look], ...] = (
        ("inlet", inlet, 84, "go"),
        ("exhaust", exhaust, 62, "warn"),
    )
    for name, valve, radius, look in rings:
        if valve:
            shapes.append(Stroke(_arc(radius, valve.opens_deg, valve.closes_deg), look))
            for word, at in (("opens", valve.opens_deg), ("closes", valve.closes_deg)):
                shapes += _spoke(f"{name} {word}", at, radius, look)
    if spark_before_deg is not None:
        shapes += _spoke("spark", -spark_before_deg, 40, "steel")
    return Drawing(_circle_says(inlet, exhaust, spark_before_deg), 460, 262, tuple(shapes), left=-230, top=-132,
                   unit_mm=0.25, stroke=1.8)  # fmt: skip


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


def timing_of(inlet: Opening | None, exhaust: Opening | None) -> ValveTiming | None:
    """Both valves together, where both are known."""
    return ValveTiming(inlet, exhaust) if inlet and exhaust else None


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


def _spoke(words: str, cycle_deg: float, radius: float, look: Look) -> Shapes:
    """A mark at an angle, from its ring outwards, and its words beside the circle."""
    turned = math.radians(cycle_deg)
    x, y = math.sin(turned), -math.cos(turned)
    yield from _line(x * (radius - 5), y * (radius - 5), x * 97, y * 97, look if look != "steel" else "steel")
    right = x >= 0
    where = said_from_nearest(cycle_deg)
    reach = 101 + (8 if abs(x) < 0.35 else 0)
    yield Words(f"{words} {where}", x * 101 + (reach - 101) * (1 if right else -1), y * 101 + 4, 11,
                "start" if right else "end", look)  # fmt: skip


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
