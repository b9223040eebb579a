"""Where the instrument goes: the part by its shape, each spot with its number; done ones filled."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from fingertight.cards.pictures.drawing import Drawing, Look, Stroke, Words, number

Shape = Stroke | Words
DOT = 14.0


@dataclass(frozen=True, slots=True)
class Place:
    """One spot: its height or place, its direction, whether it has been read."""

    at: str
    across: str
    done: bool

    @property
    def name(self) -> str:
        """What people call it."""
        return ", ".join(each for each in (self.at, self.across) if each)


def places_drawing(shape: str | None, places: Sequence[Place]) -> Drawing | None:
    """The part with its spots, numbered as they are listed; None for a shape there is no picture of.

    >>> places_drawing("shaft", [Place("skirt", "", True)]).says
    'An outside diameter between two anvils. 1 skirt, read.'
    """
    draw = _DRAWN.get(shape or "")
    if draw is None:
        return None
    what, width, height, shapes = draw(places)
    spots = ", ".join(
        f"{nth} {place.name or 'the one reading'}{', read' if place.done else ''}"
        for nth, place in enumerate(places, start=1)
    )
    return Drawing(f"{what} {spots}.", width, height, tuple(shapes), stroke=2.0)


Drawn = tuple[str, float, float, list[Shape]]


def _rows_and_columns(places: Sequence[Place]) -> tuple[list[str], list[str]]:
    return list(dict.fromkeys(place.at for place in places)), list(dict.fromkeys(place.across for place in places))


def _spread(count: int, low: float, high: float) -> list[float]:
    """So many places between two ends, the ends included; a single one in the middle."""
    if count == 1:
        return [(low + high) / 2]
    return [low + (high - low) * nth / (count - 1) for nth in range(count)]


def _grid(places: Sequence[Place], heights: Sequence[float], sides: Sequence[float]) -> Iterator[tuple[float, float]]:
    rows, columns = _rows_and_columns(places)
    for place in places:
        yield heights[rows.index(place.at)], sides[columns.index(place.across)]


def _bore(places: Sequence[Place]) -> Drawn:
    """A cylinder cut open: heights one below the other, the first direction on the left, the last on the right."""
    rows, columns = _rows_and_columns(places)
    heights = _spread(len(rows), 72, 238) if len(rows) > 1 else [150.0]
    alone = len(columns) == 1
    sides = [32.0] if alone else _spread(len(columns), 32, 188)
    shapes: list[Shape] = [
        Stroke("M50 20V280M170 20V280M50 280A60 14 0 0 0 170 280", "steel"),
        Stroke("M50 20A60 14 0 1 1 170 20A60 14 0 1 1 50 20Z", "steel"),
        *(Stroke(f"M50 {number(y)}H170M58 {number(y - 5)}L50 {number(y)}L58 {number(y + 5)}", "thin") for y in heights),
        *(Stroke(f"M162 {number(y - 5)}L170 {number(y)}L162 {number(y + 5)}", "thin") for y in heights),
    ]
    for nth, (place, (y, x)) in enumerate(zip(places, _grid(places, heights, sides), strict=True), start=1):
        shapes += _dot(nth, x, y, place.done)
    if any(columns) and len(columns) <= 2:
        shapes.append(Words(f"left: {columns[0]}", 110, 312, 13))
        shapes += [Words(f"right: {text}", 110, 330, 13) for text in columns[1:]]
    what = "A bore cut open: the gauge between its walls, rocked to the smallest reading."
    return what, 220, 336, shapes


def _shaft(places: Sequence[Place]) -> Drawn:
    """A journal lying: places along it from left to right, the first direction above, the last below."""
    rows, columns = _rows_and_columns(places)
    along = _spread(len(rows), 76, 184) if len(rows) > 1 else [130.0]
    beyond = [26.0] if len(columns) == 1 else _spread(len(columns), 26, 174)
    shapes: list[Shape] = [
        Stroke("M40 60H220V140H40Z", "steel"),
        Stroke("M40 60A12 40 0 0 0 40 140M220 60A12 40 0 0 1 220 140A12 40 0 0 1 220 60", "steel"),
        *(Stroke(f"M{number(x)} 46V60M{number(x)} 140V154M{number(x - 9)} 46H{number(x + 9)}", "thin") for x in along),
        *(Stroke(f"M{number(x - 9)} 154H{number(x + 9)}", "thin") for x in along),
    ]
    for nth, (place, (x, y)) in enumerate(zip(places, _grid(places, along, beyond), strict=True), start=1):
        shapes += _dot(nth, x, y, place.done)
    if any(columns) and len(columns) <= 2:
        shapes.append(Words(f"above: {columns[0]}", 130, 212, 13))
        shapes += [Words(f"below: {text}", 130, 230, 13) for text in columns[1:]]
    return "An outside diameter between two anvils.", 260, 236 if any(columns) else 200, shapes


def _face(places: Sequence[Place]) -> Drawn:
    """A face under a straight edge: along, across, or from corner to corner; a spot with another name is a point."""
    shapes: list[Shape] = [
        Stroke("M20 30H240V170H20Z", "steel"),
        Stroke("M85 100A45 45 0 1 0 175 100A45 45 0 1 0 85 100Z", "thin"),
        *(Stroke(f"M{x - 6} {y}A6 6 0 1 0 {x + 6} {y}A6 6 0 1 0 {x - 6} {y}Z", "thin") for x, y in _BOLT_HOLES),
    ]
    others = [place for place in places if not _line_of(place.name)]
    free = iter(_spread(len(others), 50, 210) if others else [])
    for nth, place in enumerate(places, start=1):
        line = _line_of(place.name)
        if line:
            path, x, y = line
            shapes.append(Stroke(path, "faint"))
        else:
            x, y = next(free), 100.0
        shapes += _dot(nth, x, y, place.done)
    return "A face under a straight edge; the largest feeler leaf that goes under it counts.", 260, 200, shapes


_BOLT_HOLES = ((36, 46), (224, 46), (36, 154), (224, 154))
_LINES = (
    (("corner", "diagonal"), ("M26 36L234 164M26 164L234 36", 192.0, 62.0)),
    (("along", "length"), ("M20 100H240", 44.0, 100.0)),
    (("across", "width"), ("M130 30V170", 130.0, 30.0)),
)


def _line_of(name: str) -> tuple[str, float, float] | None:
    return next((line for words, line in _LINES if any(word in name.lower() for word in words)), None)


def _length(places: Sequence[Place]) -> Drawn:
    """Pieces standing free, each between two jaws."""
    shapes: list[Shape] = []
    width = max(90.0 * len(places), 180.0)
    for nth, (place, x) in enumerate(
        zip(places, _spread(len(places), 60, width - 60) if len(places) > 1 else [width / 2], strict=True), start=1
    ):
        left, right = number(x - 20), number(x + 20)
        turns = "".join(
            f"M{left} {60 + 18 * turn}L{right} {69 + 18 * turn}L{left} {78 + 18 * turn}" for turn in range(6)
        )
        shapes += [
            Stroke(turns, "steel"),
            Stroke(f"M{number(x - 30)} 57H{number(x + 30)}M{number(x - 30)} 171H{number(x + 30)}", "line"),
            Stroke(f"M{number(x + 30)} 62V166M{number(x + 26)} 70L{number(x + 30)} 60L{number(x + 34)} 70", "thin"),
            Stroke(f"M{number(x + 26)} 158L{number(x + 30)} 168L{number(x + 34)} 158", "thin"),
            *_dot(nth, x, 28, place.done),
        ]
        if place.name:
            shapes.append(Words(place.name, x, 196, 13))
    return "A length between two jaws, standing square and free.", width, 206, shapes


def _ring(places: Sequence[Place]) -> Drawn:
    """A ring in its bore, pushed down square, with a feeler leaf in its gap."""
    shapes: list[Shape] = [
        Stroke("M20 110A90 90 0 1 0 200 110A90 90 0 1 0 20 110Z", "steel"),
        Stroke("M118 26A85 85 0 1 1 102 26M117 40A71 71 0 1 1 103 40M118 26L117 40M102 26L103 40", "line"),
        Stroke("M110 6V58", "go"),
        Words("feeler leaf", 124, 62, 13, anchor="start"),
        Words("in the bore, square", 110, 116, 13),
    ]
    rows, _ = _rows_and_columns(places)
    xs = _spread(len(places), 50, 170) if len(places) > 1 else [110.0]
    for nth, (place, x) in enumerate(zip(places, xs, strict=True), start=1):
        shapes += _dot(nth, x, 152, place.done)
    if any(rows):
        shapes.append(Words(" · ".join(rows), 110, 216, 13))
    return "A piston ring in its bore, a feeler leaf in its gap.", 220, 222, shapes


def _float(places: Sequence[Place]) -> Drawn:
    """A shaft between two thrust faces, a dial against its end."""
    shapes: list[Shape] = [
        Stroke("M70 40V160H92V40ZM180 40V160H202V40Z", "steel"),
        Stroke("M30 86H70M92 86H180M202 86H226V114H202M180 114H92M70 114H30V86", "line"),
        Stroke("M98 72V128H106V72Z", "line"),
        Stroke("M226 100H246", "bold"),
        Stroke("M246 100A22 22 0 1 0 290 100A22 22 0 1 0 246 100ZM268 100L280 88", "line"),
        Stroke("M112 62H160M120 57L112 62L120 67M152 57L160 62L152 67", "go"),
        Words("hard one way, then the other", 136, 188, 13),
    ]
    xs = _spread(len(places), 110, 190) if len(places) > 1 else [140.0]
    for nth, (place, x) in enumerate(zip(places, xs, strict=True), start=1):
        shapes += _dot(nth, x, 24, place.done)
    return "A shaft pushed hard to and fro, a dial against its end; the hand’s way is the float.", 300, 200, shapes


_DRAWN: dict[str, Callable[[Sequence[Place]], Drawn]] = {
    "bore": _bore,
    "shaft": _shaft,
    "face": _face,
    "length": _length,
    "ring": _ring,
    "float": _float,
}


def _dot(nth: int, x: float, y: float, done: bool) -> list[Shape]:
    """A spot’s number, on a full ground where it is done."""
    look: Look = "fill-go" if done else "fill"
    left, right = number(x - DOT), number(x + DOT)
    ring = f"M{left} {number(y)}A{DOT:g} {DOT:g} 0 1 0 {right} {number(y)}A{DOT:g} {DOT:g} 0 1 0 {left} {number(y)}Z"
    said = Words(str(nth), x, y + 5.5, 16, look="on-go" if done else "fill")
    return [Stroke(ring, look), said]
