"""The space above the piston at its top, cut open: chamber, gasket, deck height and crown, each with its volume."""

from typing import TYPE_CHECKING

from fingertight.cards.pictures.drawing import Drawing, Look, Stroke, Words, number
from fingertight.quantity import plain

if TYPE_CHECKING:
    from fingertight.cards.sums.setting.cylinder.compression import CompressionCard

_HALF, _LEFT = 70.0, -96.0


def volumes_picture(card: "CompressionCard") -> Drawing:
    """A section through the cylinder with the piston at its top; heights are drawn so that they can be seen."""
    chamber, gasket, deck = 34.0, 12.0 if card.gasket_ml else 0.0, 16.0 if card.deck_ml else 0.0
    crown = max(min(card.crown_ml / max(card.clearance_ml, 1e-9) * 60, 14.0), -14.0)
    face = chamber
    top = face + gasket + max(deck if card.deck_ml > 0 else 0.0, 0.0)
    out = -deck / 2 if card.deck_ml < 0 else 0.0
    piston = top + out
    dome = f"Q0 {number(piston + 2 * crown)} {number(-_HALF)} {number(piston)}"
    shapes: list[Stroke | Words] = [
        Stroke(f"M{number(_LEFT)} -14H{number(-_LEFT)}V{number(face)}H{number(_HALF - 8)}"
               f"C{number(_HALF - 14)} 4 {number(-_HALF + 14)} 4 {number(-_HALF + 8)} {number(face)}"
               f"H{number(_LEFT)}Z", "line"),
        Stroke(f"M{number(_HALF)} {number(piston)}{dome}V{number(piston + 58)}H{number(_HALF)}Z", "steel"),
        *(_wall(side, face + gasket, piston + 66) for side in (-1, 1)),
    ]  # fmt: skip
    if gasket:
        shapes += [_seal(side, face, gasket) for side in (-1, 1)]
    rows = _labels(card, chamber / 2, face + gasket / 2, face + gasket + deck / 2, piston)
    last = -100.0
    for words, y, look in rows:
        at = max(y, last + 15)
        last = at
        shapes.append(Stroke(f"M{number(_HALF - 12)} {number(y)}L{number(-_LEFT + 12)} {number(at)}", "faint"))
        shapes.append(Words(words, -_LEFT + 16, at + 4, 12, "start", look))
    high = piston + 84
    says = "The space above the piston at its top: " + ", ".join(words for words, _, _ in rows) + "."
    return Drawing(says, 330, high + 18, tuple(shapes), left=_LEFT - 4, top=-18, unit_mm=0.25, stroke=1.4)


def _wall(side: int, top: float, bottom: float) -> Stroke:
    inner, outer = number(side * _HALF), number(side * -_LEFT)
    return Stroke(f"M{inner} {number(top)}H{outer}V{number(bottom)}H{inner}Z", "line")


def _seal(side: int, face: float, thick: float) -> Stroke:
    return Stroke(
        f"M{number(side * (_HALF + 3))} {number(face)}H{number(side * -_LEFT)}V{number(face + thick)}"
        f"H{number(side * (_HALF + 3))}Z",
        "fill-steel",
    )


def _labels(
    card: "CompressionCard", chamber: float, gasket: float, deck: float, piston: float
) -> list[tuple[str, float, Look]]:
    """What is written beside it, from above: each volume that is there, and all of them."""
    rows: list[tuple[str, float, Look]] = [(f"chamber {_ml(card.chamber_ml)}", chamber, "fill")]
    if card.gasket_ml:
        rows.append((f"gasket {_ml(card.gasket_ml)}", gasket, "fill"))
    if card.deck_ml:
        rows.append((f"deck {_ml(card.deck_ml)}", deck, "fill"))
    if card.crown_ml:
        rows.append((f"crown {_ml(card.crown_ml)}", piston, "fill"))
    rows.append((f"left {_ml(card.clearance_ml)}", piston + 10, "go"))
    rows.append((f"sweeps {_ml(card.swept_ml)}", piston + 40, "steel"))
    return rows


def _ml(volume: float) -> str:
    return f"{plain(round(volume, 1) + 0.0)} ml"
