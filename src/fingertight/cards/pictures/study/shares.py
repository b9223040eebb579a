"""Bars: where what readings vary by comes from, and how much of the tolerance gauge and hands take up."""

from collections.abc import Sequence

from fingertight.cards.pictures.drawing import Drawing, Look, Stroke, Words, number
from fingertight.quantity import plain

_WIDE, _LEFT, _RIGHT, _HIGH, _ROW = 360.0, 128.0, 312.0, 14.0, 24.0


def share_bars(shares: Sequence[tuple[str, float]], of_tolerance: float | None, marks: Sequence[float]) -> Drawing:
    """A bar for each share of the variance, 0 to 1; under them the share of the tolerance, with the marks it is judged
    by. of_tolerance: None where there is none.

    >>> share_bars([("reading again", 0.25), ("between hands", 0.75)], None, ()).says
    'Where it comes from: reading again 25 %, between hands 75 % (shares of the variance).'
    """
    shapes: list[Stroke | Words] = []
    for row, (name, share) in enumerate(shares):
        shapes += _bar(name, share, 8 + row * _ROW, "fill-steel")
    says = "Where it comes from: " + ", ".join(f"{name} {percent(share)}" for name, share in shares)
    says += " (shares of the variance)."
    high = 8 + len(shares) * _ROW
    if of_tolerance is not None:
        top = high + 8
        bad = of_tolerance > marks[-1]
        shapes += _bar("of the tolerance", of_tolerance, top, "fill-warn" if bad else "fill-go")
        for mark in marks:
            x = number(round(_x(mark), 2))
            shapes.append(Stroke(f"M{x} {number(top - 4)}V{number(top + _HIGH + 4)}", "line"))
            shapes.append(Words(percent(mark), _x(mark), top + _HIGH + 17, 12))
        high = top + _HIGH + 22
        says += f" Of the tolerance gauge and hands take up {percent(of_tolerance)}."
    return Drawing(says, _WIDE, high + 2, tuple(shapes), unit_mm=0.25, stroke=1.4)


def percent(share: float) -> str:
    """A share in per cent.

    >>> percent(0.2786), percent(0.1), percent(0.0004)
    ('27.9 %', '10 %', 'under 0.1 %')
    """
    if 0 < share < 0.001:
        return "under 0.1 %"
    return f"{plain(round(100 * share, 1))} %"


def _x(share: float) -> float:
    return _LEFT + min(share, 1.0) * (_RIGHT - _LEFT)


def _bar(name: str, share: float, top: float, look: Look) -> list[Stroke | Words]:
    wide = max(_x(share) - _LEFT, 0.8 if share > 0 else 0.0)
    path = f"M{number(_LEFT)} {number(top)}h{number(round(wide, 2))}v{number(_HIGH)}h{number(round(-wide, 2))}Z"
    return [
        Words(name, _LEFT - 6, top + _HIGH - 3, 12.5, "end"),
        Stroke(f"M{number(_LEFT)} {number(top)}H{number(_RIGHT)}V{number(top + _HIGH)}H{number(_LEFT)}Z", "faint"),
        Stroke(path, look),
        Words(percent(share), _RIGHT + 5, top + _HIGH - 3, 12.5, "start"),
    ]
