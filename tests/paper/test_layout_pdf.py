"""The list of what is laid out, read back from its PDF: every thing is on it; whose word comes first is above all."""

import pytest

from fingertight.cards.order.layout import FIRST, LayoutCard, layout_of
from fingertight.paper.lists.layout import layout_pdf
from tests.paper.pictures import said
from tests.web.honest import machine


def without_gaps(words: str) -> str:
    """A line may end anywhere; a hyphen at its end is read back as another sign (U+FFFE)."""
    return "".join(words.replace("\ufffe", "").replace("-", "").split())


@pytest.mark.parametrize("name", ["bench-vice", "hand-winch", "pump-engine"])
def test_everything_on_the_list_is_on_the_paper(name: str) -> None:
    card = layout_of(machine(name))
    assert isinstance(card, LayoutCard)
    words = without_gaps(said(layout_pdf(card)))
    for title, things in card.lists():
        assert not things or without_gaps(title) in words
        for thing in things:
            assert without_gaps(thing.name) in words, thing
    assert all(without_gaps(caution.what_for) in words for caution in card.cautions)
    assert words.index(without_gaps(FIRST)) < words.index("Spanners,socketsandkeys")
