"""Bag labels as PDF, and the ruler page that shows how far a printer prints beside them."""

from collections.abc import Sequence
from dataclasses import asdict

from fingertight.cards.labels import Label, spaced
from fingertight.paper.codes import outline
from fingertight.paper.sheets import CannotPrint, Nudge, Sheet
from fingertight.paper.typeset import typeset
from fingertight.quantity import plain

SAFETY = "Makers' data, the workshop's rules, local law and licensed practice come first."
_STRAIGHT = Nudge()
# The ruler page's two lines start this far from the left and upper edge, and are this long [mm].
RULER_FROM_MM, RULER_ACROSS_MM, RULER_DOWN_MM = 20, 170, 240


def label_pdf(labels: Sequence[Label], sheet: Sheet, nudge: Nudge = _STRAIGHT, start_at: int = 1) -> bytes:
    """What PDF prints these labels on this sheet, the first one on label `start_at` of the first page (from 1)?

    Raises CannotPrint when there are no labels, when the sheet has no label `start_at`, and when a name has a letter
    that no font has.
    """
    if not labels:
        raise CannotPrint("There is no label to print: no part of this machine comes off.")
    if not 1 <= start_at <= sheet.labels:
        raise CannotPrint(f"Sheet {sheet.name} has labels 1 to {sheet.labels}; start at one of them, not {start_at}.")
    places = _drawn_at(sheet, nudge)
    slots = [None] * (start_at - 1) + list(labels)
    pages = [
        [
            {"at": place, **_words(label)}
            for place, label in zip(places, slots[first : first + sheet.labels], strict=False)
            if label is not None
        ]
        for first in range(0, len(slots), sheet.labels)
    ]
    return typeset(
        "labels",
        {
            "title": f"Bag labels: {labels[0].machine}",
            "paper": sheet.paper,
            "label": sheet.label,
            "face": asdict(sheet.face),
            "digits": max(len(label.bag) for label in labels),
            "hole": sheet.hole,
            "cuts": places if sheet.hole else [],
            "footer": SAFETY if sheet.hole else "",
            "pages": pages,
        },
    )


def ruler_pdf(sheet: Sheet, nudge: Nudge = _STRAIGHT) -> bytes:
    """What page shows how far this printer prints beside this sheet, and what nudge and scale mend it?

    The page is drawn through `nudge` itself, so printing it again shows whether the new figures are right.
    """
    from_, across, down = RULER_FROM_MM, RULER_ACROSS_MM, RULER_DOWN_MM
    return typeset(
        "ruler",
        {
            "title": f"Ruler page for sheet {sheet.name}",
            "paper": sheet.paper,
            "label": sheet.label,
            "outlines": _drawn_at(sheet, nudge),
            "across": [nudge.moved(from_ + mm, from_) for mm in range(across + 1)],
            "down": [nudge.moved(from_, from_ + mm) for mm in range(down + 1)],
            "sheet": f"{sheet.says[:1].upper()}{sheet.says[1:]}.",
            "printed": f"Printed with {_figures(nudge)}.",
            "steps": _ruler_steps(nudge),
            "footer": SAFETY,
        },
    )


def _figures(nudge: Nudge) -> str:
    """The nudge as it is typed on the command line."""
    return f"--nudge={plain(nudge.x_mm)},{plain(nudge.y_mm)} --scale={plain(nudge.scale_x)},{plain(nudge.scale_y)}"


def _ruler_steps(nudge: Nudge) -> list[str]:
    x, y, scale_x, scale_y = (plain(value) for value in (nudge.x_mm, nudge.y_mm, nudge.scale_x, nudge.scale_y))
    return [
        "Print this page on plain paper at 100 % (“actual size”), never “fit to page”. "
        "The file asks for that, but not every program listens.",
        f"The scale first. Measure the line along the top: it should be {RULER_ACROSS_MM}\u00a0mm long. "
        f"Scale x = {scale_x} × {RULER_ACROSS_MM} ÷ what you measured. "
        f"Measure the line down the left: it should be {RULER_DOWN_MM}\u00a0mm. "
        f"Scale y = {scale_y} × {RULER_DOWN_MM} ÷ what you measured. "
        "Less than half a millimetre out: leave the scale as it is.",
        "If the scale changed, print this page again with it before you go on.",
        "Then the nudge. Measure from the left edge of the paper to the line down the left: "
        f"it should be {RULER_FROM_MM}\u00a0mm. Nudge x = {x} + {RULER_FROM_MM} − what you measured. "
        "Measure from the upper edge to the line along the top: "
        f"it should be {RULER_FROM_MM}\u00a0mm. Nudge y = {y} + {RULER_FROM_MM} − what you measured.",
        "Print this page once more with the new figures and hold it with a blank label sheet against a window. "
        "The thin outlines should lie on the labels. If they do not, your sheet is another one: choose that.",
        "Write the figures on the printer: they belong to it and to its tray.",
    ]


def _words(label: Label) -> dict[str, object]:
    return {
        "number": label.bag,
        "name": label.title,
        "place": label.place or "",
        "code": label.code,
        "letters": spaced(label.code),
        "outline": outline(label.code),
        "holds": label.holds,
        "care": label.care,
        "machine": label.machine,
    }


def _drawn_at(sheet: Sheet, nudge: Nudge) -> list[tuple[float, float]]:
    """Where each label's upper left corner is drawn, so that its middle comes to lie where the nudge puts it."""
    wide, high = sheet.label
    drawn = []
    for x, y in sheet.places():
        middle_x, middle_y = nudge.moved(x + wide / 2, y + high / 2)
        drawn.append((round(middle_x - wide / 2, 4), round(middle_y - high / 2, 4)))
    return drawn
