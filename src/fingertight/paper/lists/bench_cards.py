"""The cards that stand on the benches as PDF: four on A4, to be cut apart."""

from fingertight.cards.lesson.benches import BenchCardsCard
from fingertight.cards.sums.answer import FIRST
from fingertight.paper.codes import address_outline, outline
from fingertight.paper.sheets import CannotPrint
from fingertight.paper.typeset import typeset

PER_PAGE = 4


def bench_cards_pdf(card: BenchCardsCard) -> bytes:
    """What PDF prints the cards of these benches? A4, four cards a page, lines to cut along.

    Raises CannotPrint for a class without benches, and for a name with a letter that no font has.
    """
    if not card.benches:
        raise CannotPrint("This class has no bench: there is no card to print.")
    benches = []
    for bench in card.benches:
        side, drawn = address_outline(bench.address) if bench.address else (21, outline(bench.code))
        benches.append(
            {
                "bench": bench.bench,
                "code": bench.code,
                "machine": bench.machine,
                "class": card.title,
                "where": card.where,
                "side": side,
                "outline": drawn,
            }
        )
    pages = [benches[first : first + PER_PAGE] for first in range(0, len(benches), PER_PAGE)]
    return typeset("bench_cards", {"title": f"Bench cards: {card.title}", "first": FIRST, "pages": pages})
