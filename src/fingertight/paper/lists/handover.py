"""The hand-over sheet as PDF: a box for each bench, to be read before the next lesson begins."""

from fingertight.cards.sums.answer import FIRST
from fingertight.cards.workshop.handover import HandOver, HandOverCard
from fingertight.paper.sheets import CannotPrint
from fingertight.paper.typeset import typeset


def handover_pdf(card: HandOverCard, day: str) -> bytes:
    """What PDF shows this sheet? A4 upright, no bench over two pages. day: as it is written on top.

    Raises CannotPrint when no bench is at work, and when a name has a letter that no font has.
    """
    if not card.benches:
        raise CannotPrint("No bench is at work: there is nothing to hand over.")
    heading = f"Hand-over, {day}"
    short = "At every bench all that was counted is there."
    if card.short:
        benches = "one bench" if card.short == 1 else f"{card.short} benches"
        short = f"Something is missing or left over at {benches}: look there first."
    return typeset(
        "handover",
        {
            "title": f"{heading}: {card.workshop}",
            "heading": heading,
            "workshop": card.workshop,
            "short": short,
            "is_short": bool(card.short),
            "first": FIRST,
            "benches": [_box(bench) for bench in card.benches],
        },
    )


def _box(bench: HandOver) -> dict[str, object]:
    return {
        "bench": bench.job.bench,
        "machine": bench.job.title,
        "stage": f"{bench.stage}, {bench.depth}",
        "last": bench.last,
        "next": ", ".join(bench.next),
        "bags": bench.bags,
        "tools": ", ".join(bench.tools),
        "flags": list(bench.flags),
        "more": f"and {bench.more_flags} more on the bench’s page" if bench.more_flags else "",
    }
