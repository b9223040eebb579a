"""The tightening sheet as PDF: what a mechanic pins to the wall beside the bench."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from math import dist

from fingertight.cards.pictures.bolts import BoltPicture
from fingertight.cards.tighten.sheet import TighteningSheetCard, TorquedSet
from fingertight.cards.tighten.words import LEFT_HAND, SURFACES
from fingertight.paper.sheets import CannotPrint
from fingertight.paper.typeset import typeset

# How wide a drawing may be [mm]: beside the torque, under it, over both columns of the page.
ROOMS = (("beside", 36.0), ("under", 84.0), ("across", 180.0))
# The dot of a bolt [mm]: its number is read from a metre in the first radius, at arm's length in the second.
GOOD_MM, LEAST_MM, LARGEST_MM = 2.6, 1.6, 4.0
TOO_CLOSE = "The bolts lie too close together to be numbered here: the bench page goes through them one by one."
_MOST_PASSES, _MOST_CAUTIONS, _MOST_DIGITS = 8, 4, 12
_LONGEST_WORD, _LONGEST_SENTENCE = 24, 300


@dataclass(frozen=True, slots=True)
class Drawing:
    """Where there is room for the bolts of a set, and where they lie in it [mm from its upper left corner]."""

    where: str
    width: float
    height: float
    radius: float
    dots: tuple[tuple[int, float, float], ...]


def tightening_pdf(card: TighteningSheetCard) -> bytes:
    """What PDF shows this sheet? A4 upright, two sets side by side where they fit, no set over two pages.

    Raises CannotPrint when no set has a torque, and when a name has a letter that no font has.
    """
    if card.is_no:
        raise CannotPrint(card.says_no)
    figures, torques, first, how = card.lead
    by_hand = "; ".join(_said(one) for one in card.rest)
    return typeset(
        "tightening",
        {
            "title": f"Tightening sheet: {card.machine}",
            "heading": _said(f"Tightening sheet: {card.machine}"),
            "machine": _said(card.machine),
            "sources": [_said(figures), _said(torques)],
            "first": first,
            "how": how,
            "printed_from": f"Printed from machine file {card.text_sha256}",
            "rows": [[_cell(card, nth, drawing) for nth, drawing in row] for row in _rows(card.sets)],
            "by_hand": f"{by_hand}." if by_hand else "",
        },
    )


def drawn(picture: BoltPicture) -> Drawing | None:
    """Where is this picture drawn, and how large? The smallest room in which its numbers are read; None where none is.

    >>> from fingertight.cards.pictures.bolts import order_picture
    >>> drawn(order_picture([(0, 0), (60, 0)], (1, 2))).where
    'beside'
    """
    fitted = [_fitted(picture, where, wide_mm) for where, wide_mm in ROOMS]
    good = [one for one in fitted if one.radius >= GOOD_MM]
    return good[0] if good else fitted[-1] if fitted[-1].radius >= LEAST_MM else None


def _fitted(picture: BoltPicture, where: str, wide_mm: float) -> Drawing:
    """The picture's bolts in a room so wide: as far apart as fits, the dots as large as can be without touching."""
    xs, ys = [dot.x for dot in picture.dots], [dot.y for dot in picture.dots]
    left, top, wide, high = min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)
    scale = (wide_mm - 2 * LARGEST_MM) / max(wide, high, 1.0)
    apart = [
        dist((one.x, one.y), (other.x, other.y)) for nth, one in enumerate(picture.dots) for other in picture.dots[:nth]
    ]
    return Drawing(
        where=where,
        width=round(wide * scale + 2 * LARGEST_MM, 2),
        height=round(high * scale + 2 * LARGEST_MM, 2),
        radius=round(min(LARGEST_MM, min(apart) * scale / 2 - 0.3), 2),
        dots=tuple(
            (dot.number, round((dot.x - left) * scale + LARGEST_MM, 2), round((dot.y - top) * scale + LARGEST_MM, 2))
            for dot in sorted(picture.dots, key=lambda dot: dot.number)
        ),
    )


def _rows(sets: Sequence[TorquedSet]) -> list[list[tuple[int, Drawing | None]]]:
    """Two sets to a row, by their places in the list; one whose drawing wants the whole width has its own."""
    rows: list[list[tuple[int, Drawing | None]]] = []
    has_room = False
    for nth, one in enumerate(sets):
        drawing = drawn(one.picture) if one.picture else None
        is_wide = drawing is not None and drawing.where == "across"
        if has_room and not is_wide:
            rows[-1].append((nth, drawing))
            has_room = False
        else:
            rows.append([(nth, drawing)])
            has_room = not is_wide
    return rows


def _cell(card: TighteningSheetCard, nth: int, drawing: Drawing | None) -> dict[str, object]:
    """What the template sets for one fastener set."""
    one = card.sets[nth]
    of_part = [number for number, other in enumerate(card.sets) if other.part == one.part]
    surface = SURFACES.get(one.surface, "")
    too_close = [TOO_CLOSE] if one.picture and drawing is None else []
    return {
        "title": _said(one.title),
        "which": f"set {of_part.index(nth) + 1} of {len(of_part)}" if len(of_part) > 1 else "",
        "each": _said(one.each),
        "name": _said(one.name),
        "turned_by": _said(one.turned_by),
        "torque": _figures(one.reads["N·m"]),
        "units": [f"{_figures(said)} {unit}" for unit, said in one.reads.items() if unit != "N·m"],
        "passes": _passes(one),
        "left_hand": LEFT_HAND if one.left_hand else "",
        "surface": surface,
        "minds": [*too_close, *(_said(mind) for mind in one.minds if mind not in (LEFT_HAND, surface))],
        # Once a part: its sets stand side by side.
        "cautions": _cautions(one) if of_part[0] == nth else [],
        "drawing": asdict(drawing) if drawing else None,
        "says": one.picture.sentence if one.picture else "",
    }


def _passes(one: TorquedSet) -> list[str]:
    """The rounds as the wrench is set; nothing where one round at the full torque is all."""
    said = [_figures(each.says) for each in one.passes]
    if said == [_figures(one.reads["N·m"])]:
        return []
    return said if len(said) <= _MOST_PASSES else [*said[: _MOST_PASSES - 2], "…", said[-1]]


def _cautions(one: TorquedSet) -> list[str]:
    more = len(one.cautions) - _MOST_CAUTIONS
    said = [_said(caution) for caution in one.cautions[:_MOST_CAUTIONS]]
    return [*said, f"{more} more on the page of the part"] if more > 0 else said


def _figures(digits: str) -> str:
    """The figures of a torque; those no wrench has, in a short form that fits the cell."""
    return digits if len(digits) <= _MOST_DIGITS else f"{float(digits):.3g}"


def _said(words: str) -> str:
    """What fits a cell: cut where it is very long, with “…”, and with places to break in words wider than a cell."""
    short = words if len(words) <= _LONGEST_SENTENCE else f"{words[:_LONGEST_SENTENCE]}…"
    return " ".join(word if len(word) <= _LONGEST_WORD else "\u200b".join(word) for word in short.split(" "))
