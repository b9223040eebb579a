"""The badges of a class as PDF: ten on A4, to be cut apart, each the size of a card in a wallet."""

from fingertight.cards.lesson.benches import BadgesCard
from fingertight.paper.codes import address_outline
from fingertight.paper.sheets import CannotPrint
from fingertight.paper.typeset import typeset

PER_PAGE = 10
HOW = "Scan it at the bench, then type your own four figures."


def badges_pdf(card: BadgesCard) -> bytes:
    """What PDF prints the badges of these students? A4, ten a page, 85.6 × 53.98 mm each (ISO/IEC 7810, ID-1).

    Raises CannotPrint for a class without students, and for a name with a letter that no font has.
    """
    if not card.badges:
        raise CannotPrint("Nobody is on the list of this class: there is no badge to print.")
    badges = []
    for badge in card.badges:
        side, drawn = address_outline(badge.address)
        badges.append({"name": badge.name, "class": card.title, "side": side, "outline": drawn})
    pages = [badges[first : first + PER_PAGE] for first in range(0, len(badges), PER_PAGE)]
    return typeset("badges", {"title": f"Badges: {card.title}", "how": HOW, "pages": pages})
