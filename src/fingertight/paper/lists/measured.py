"""The measuring sheet as PDF: what goes into the folder of an engine, and to the counter where parts are ordered."""

from fingertight.cards.measure.sheet import MeasuredSize, MeasuringSheetCard
from fingertight.paper.sheets import CannotPrint
from fingertight.paper.typeset import typeset

MARKS = {"good": "✓ good", "worn": "✕ worn", "too close to call": "? too close to call", "": "…"}


def measured_pdf(card: MeasuringSheetCard) -> bytes:
    """What PDF shows this sheet? A4 upright: sizes, then those still to be measured with room to write, then the order.

    Raises CannotPrint when the machine's file states no sizes, and when a name has a letter that no font has.
    """
    if not card.sizes:
        raise CannotPrint(f"The file of {card.machine} states no sizes to measure. Write a [[check]] for each.")
    heading = f"Measuring sheet: {card.machine}"
    return typeset(
        "measured",
        {
            "title": heading,
            "heading": f"{heading}, {card.bench}" if card.bench else heading,
            "first": card.first,
            "judged": card.judged,
            "printed_from": f"Printed from machine file {card.text_sha256}",
            "sizes": [_row(size) for size in card.measured],
            "still": [
                {"title": size.title, "limits": size.limits, "unit": size.unit, "waits": size.waits}
                for size in card.still
            ],
            "to_order": [
                {"count": str(one.count), "name": one.name, "why": one.why, "perhaps": one.perhaps}
                for one in card.to_order
            ],
        },
    )


def _row(size: MeasuredSize) -> dict[str, object]:
    return {
        "title": size.title,
        "limits": size.limits,
        "reads": [{"where": where, "read": read} for where, read in size.reads],
        "size": size.size_says,
        "verdict": f"{MARKS[size.verdict]}{', decided' if size.decided else ''}",
        "stern": size.verdict in {"worn", "too close to call"},
        "more": list(size.more),
    }
