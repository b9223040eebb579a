"""Bench cards and badges, read back from the page by a scanner and by another library than made them."""

import pytest

from fingertight.cards.lesson.benches import Badge, BadgesCard, BenchCard, BenchCardsCard
from fingertight.paper.lists.badges import badges_pdf
from fingertight.paper.lists.bench_cards import bench_cards_pdf
from fingertight.paper.sheets import CannotPrint
from tests.paper.pictures import drawn, said

HOST = "http://192.168.10.20:8010"
CODES = [f"K7QX2{letter}" for letter in "ABCDEFGHJKLM"]


def bench_cards(address: str) -> BenchCardsCard:
    """The cards of twelve benches."""
    benches = (
        BenchCard(f"Bench {nth}", code, "Pump engine", f"{address}/join/{code}" if address else "")
        for nth, code in enumerate(CODES, 1)
    )
    return BenchCardsCard("Thursday class (invented)", "Type this code under “Join”.", tuple(benches))


def badges(*names: str) -> BadgesCard:
    """Badges of these students."""
    made = (Badge(name, f"{HOST}/badge/p-{nth:012x}:{'x' * 43}") for nth, name in enumerate(names))
    return BadgesCard("Thursday class (invented)", tuple(made))


@pytest.mark.parametrize("address", [HOST, ""], ids=["tablets reach it", "only its code is said"])
def test_every_bench_card_is_scanned_and_its_code_stands_in_letters_too(address: str) -> None:
    pdf = bench_cards_pdf(bench_cards(address))
    pages = drawn(pdf)
    assert len(pages) == 3
    found = sorted(code for page in pages for code in page.codes())
    assert found == sorted(f"{address}/join/{code}" if address else code for code in CODES)
    text = said(pdf)
    for nth, code in enumerate(CODES, 1):
        assert f"Bench {nth} " in text
        assert code in text


def test_every_badge_is_scanned_and_says_whose_it_is() -> None:
    names = [f"Anouk {letter}" for letter in "ABCDEFGHIJKL"]
    card = badges(*names)
    pdf = badges_pdf(card)
    pages = drawn(pdf)
    assert len(pages) == 2
    assert sorted(code for page in pages for code in page.codes()) == sorted(one.address for one in card.badges)
    assert all(name in said(pdf) for name in names)
    assert said(pdf).count("then type your own four figures") == len(names)


def test_a_badge_is_as_large_as_a_card_in_a_wallet() -> None:
    """ISO/IEC 7810, ID-1: 85.60 mm by 53.98 mm; the line to cut along is its edge."""
    [page] = drawn(badges_pdf(badges("Anouk")), dpi=300)
    left, top, right, bottom = page.dark_box_mm()
    assert (right - left, bottom - top) == (pytest.approx(85.6, abs=0.4), pytest.approx(53.98, abs=0.4))


def test_a_long_name_is_made_smaller_and_stays_off_the_code() -> None:
    pdf = badges_pdf(badges("Maximiliana-Wilhelmina Q"))
    assert "Maximiliana-Wilhelmina Q" in said(pdf)
    [page] = drawn(pdf)
    assert len(page.codes()) == 1


def test_a_class_without_students_or_benches_prints_nothing() -> None:
    with pytest.raises(CannotPrint, match="Nobody is on the list of this class"):
        badges_pdf(badges())
    with pytest.raises(CannotPrint, match="This class has no bench"):
        bench_cards_pdf(BenchCardsCard("Empty", "", ()))
