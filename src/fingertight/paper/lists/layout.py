"""What lies on the bench before anybody begins, as PDF: each thing with a box to tick."""

from fingertight.cards.order.layout import LayoutCard
from fingertight.paper.typeset import typeset


def layout_pdf(card: LayoutCard) -> bytes:
    """What PDF lists what is laid out? A4 upright, a box before each thing, cautions part by part at the end.

    Raises CannotPrint for a name with a letter that no font has.
    """
    return typeset(
        "layout",
        {
            "title": f"Laid out for {card.about}: {card.machine}",
            "heading": f"Laid out for {card.about}",
            "machine": card.machine,
            "sentence": f"{card.sentence.capitalize()}.",
            "first": card.first,
            "cautions": [{"name": one.name, "for": one.what_for} for one in card.cautions],
            "lists": [
                {"title": title, "things": [{"name": one.name, "for": one.what_for} for one in things]}
                for title, things in card.lists()
                if things
            ],
        },
    )
