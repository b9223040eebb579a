"""The gap of a coil by cards, and ring gaps as a measure of the bore: what a person reads."""

import math
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.sums.setting.gaps.coil import CoilCard
from fingertight.cards.sums.setting.gaps.ring_gap import RingGapCard
from fingertight.cli.answers import answer_page
from fingertight.setting.gaps.coil import card_mm, round_the_rim_mm
from fingertight.setting.gaps.rings import gap_elsewhere_mm, taper
from tests.setting.asking import asked, page, refused


def test_a_pack_of_cards_tells_one_card_to_a_hundredth_part_of_the_caliper_s_error() -> None:
    card = cast(CoilCard, asked("coil", pack="3 mm", cards="10"))
    assert card.card_mm == pytest.approx(0.3)
    # ± 0.02 mm of ten cards: 0.02 / √3 / 10 · 2.
    assert card.unsure_mm == pytest.approx(0.0023, abs=0.0001)
    said = page("coil", pack="3 mm", cards="10")
    assert "One card is 0.30 mm thick; one card makes a gap of 0.30 mm (11.8 thou)." in said
    assert "Good: it lies within 0.010 in to 0.014 in, which is usual on small engines." in said
    assert "range: common practice, no source" in said


def test_too_thin_a_card_is_laid_twice() -> None:
    said = page("coil", pack="1.5 mm", cards="10", range="0.20 to 0.60")
    assert "Too small for 0.20 mm to 0.60 mm: it may rub when hot" in said
    assert "2 of these cards would make 0.30 mm (11.8 thou)." in said
    assert "Good: it lies within 0.20 mm to 0.60 mm." in page(
        "coil", pack="1.5 mm", cards="10", layers="2", range="0.20 to 0.60"
    )
    assert "No number of these cards makes a gap within the range" in page("coil", pack="8", cards="10")


def test_a_card_at_the_edge_of_the_range_is_too_close_to_call() -> None:
    assert "Too close to call" in page("coil", pack="2.545 mm", cards="10")


def test_a_rim_that_runs_out_may_rub_though_the_gap_is_right() -> None:
    card = cast(CoilCard, asked("coil", gap="0.30", runout="0.2", play="0.15", error="0.01"))
    assert (card.verdict, card.tightest_mm, card.is_no) == ("good", pytest.approx(-0.05), True)
    assert "the rim would rub: find out why before the engine is run" in answer_page(card).replace("\n", " ")
    assert "Once round nothing rubs: 0.25 mm are left" in page("coil", gap="0.30", runout="0.05")


@given(st.floats(0.1, 1), st.floats(0, 0.3), st.floats(0, 2 * math.pi))
def test_no_place_of_the_rim_is_nearer_than_is_said(gap: float, runout: float, set_at: float) -> None:
    # A rim whose middle runs half the run-out beside the shaft’s, set at any place of it.
    least, most = round_the_rim_mm(gap, runout)
    around = [gap + runout / 2 * (math.cos(set_at) - math.cos(step / 20)) for step in range(126)]
    assert least - 1e-9 <= min(around)
    assert max(around) <= most + 1e-9


def test_a_pack_without_cards_is_none() -> None:
    with pytest.raises(ValueError, match="at least one card"):
        card_mm(3, 0)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Pack: write how thick a pack of cards is and how many they are, for example 3 mm and 10"),
        ({"pack": "3"}, "Cards: write how many cards the pack has, for example 10"),
        ({"gap": "0.3", "cards": "3"}, "Cards: they belong to a pack; write how thick it is."),
        ({"pack": "3 kg", "cards": "10"}, "Pack of cards: kg is a mass, mm a length: write it in mm."),
        ({"pack": "30", "cards": "3"}, "Pack: 10 mm are no card. Is it 30 mm for 3 of them?"),
        ({"pack": "3", "cards": "1.5"}, "Cards in the pack: “1.5” is not a whole number."),
        ({"pack": "3", "cards": "0"}, "Cards in the pack: “0” must be more than 0; write for example 10."),
        ({"gap": "0.3", "range": "14 to 10 thou"}, "Range: “14 to 10 thou” runs from more to less"),
        ({"gap": "thin"}, "Gap: “thin” is not a number"),
    ],
)
def test_what_is_no_coil_gap_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("coil", **said)


RING = {"gaps": "0.45; 0.38; 0.35", "depths": "10; 45; 90", "new": "0.25 to 0.40", "max": "1.0"}


def test_gaps_down_the_bore_tell_its_taper_and_how_sure_that_is() -> None:
    card = cast(RingGapCard, asked("ring-gap", **RING))
    # (0.45 − 0.35) / π = 0.0318; step 0.05 / √12 and leaf 0.006 / √3, twice, over π, times 2.
    assert card.taper_mm == pytest.approx(0.1 / math.pi)
    assert card.taper_unsure_mm == pytest.approx(
        2 * math.sqrt(2) / math.pi * math.hypot(0.05 / 12**0.5, 0.006 / 3**0.5)
    )
    said = page("ring-gap", **RING, taper_max="0.05")
    assert "By these gaps the bore has a taper of 0.032 mm ± 0.013 mm; up to 0.05 mm are allowed: good." in said
    assert "10 mm 0.45 mm 0.0318 mm 45 mm 0.38 mm 0.0095 mm 90 mm 0.35 mm smallest" in said
    assert "Gaps say nothing of out-of-round" in said
    assert "too close to call, take a bore gauge" in page("ring-gap", **RING, taper_max="0.03")
    assert asked("ring-gap", **RING, taper_max="0.01").is_no


@pytest.mark.parametrize(
    ("gaps", "sentence"),
    [
        ("0.30", "As new: 0.30 mm (0.25 to 0.40 mm when new, worn past 1.00 mm)."),
        ("0.55", "Larger than new, still good: 0.55 mm"),
        ("1.2", "Worn: 1.20 mm (0.25 to 0.40 mm when new, worn past 1.00 mm). First look whether it is ring or bore"),
        ("0.98", "Too close to call: 0.98 mm"),
        ("0.15", "Too small: 0.15 mm (0.25 to 0.40 mm when new, worn past 1.00 mm). Hot, its ends would meet"),
        ("0.22", "Too close to call: 0.22 mm"),
    ],
)
def test_a_ring_is_as_new_allowed_worn_too_small_or_too_close_to_call(gaps: str, sentence: str) -> None:
    assert sentence in page("ring-gap", gaps=gaps, new="0.25 to 0.40", max="1.0")


def test_without_limits_nothing_is_said_of_the_ring() -> None:
    card = asked("ring-gap", gaps="0.35")
    assert (card.verdict, card.is_no) == (None, False)
    assert "Without the maker’s limits that says nothing of the ring." in page("ring-gap", gaps="0.35")


def test_a_ring_has_another_gap_in_another_bore_and_is_filed_for_that_one() -> None:
    # π · 0.165 = 0.518 more.
    said = page("ring-gap", gaps="0.25", measured_in="68", bore="68.165")
    assert "In a bore of 68.165 mm the same ring has a gap of 0.768 mm." in said
    assert "its ends would meet" in page("ring-gap", gaps="0.25", measured_in="68", bore="67.9")
    assert "For 0.30 mm file off up to 0.10 mm, square and from one end" in page("ring-gap", gaps="0.2", wanted="0.3")
    assert "For 0.30 mm nothing is filed" in page("ring-gap", gaps="0.4", wanted="0.3")
    narrower = asked("ring-gap", gaps="0.25", measured_in="68.05", bore="68", wanted="0.3")
    assert narrower.to_file_mm == pytest.approx(0.05 + math.pi * 0.05, abs=1e-6)


@given(st.lists(st.floats(0.1, 2), min_size=2, max_size=6), st.floats(50, 100))
def test_the_bores_from_gaps_give_the_gaps_back(gaps: list[float], bore: float) -> None:
    found = taper(gaps, 0.05, 0.004)
    for gap, larger in zip(gaps, found.larger_mm, strict=True):
        assert gap_elsewhere_mm(min(gaps), bore, bore + larger) == pytest.approx(gap, abs=1e-6)
    assert max(found.larger_mm) == pytest.approx(found.taper_mm, abs=1e-8)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Gaps: nothing was typed; write for example 0.35; 0.38; 0.42."),
        ({"gaps": "x"}, "Gaps: “x” is not a number"),
        ({"gaps": "0.3; 0.4", "depths": "1"}, "Depths: 1 for 2 gaps; write one depth for each gap."),
        ({"gaps": "0.3", "taper_max": "0.05"}, "Taper allowed: one gap says nothing of a taper"),
        ({"gaps": "0.3", "bore": "68"}, "Bore: write both, the bore the gap was measured in"),
        ({"gaps": "0.3", "new": "0.25 to 0.4", "max": "0.3"}, "Worn past: 0.30 mm is less than a new ring has"),
        ({"gaps": "30"}, "Gaps: 30 mm is no ring gap; is the unit right?"),
        ({"gaps": "0.3; -1"}, "Gaps: “0.3; -1” has one that is 0 or less"),
        ({"gaps": "0.3 bar"}, "Gaps: bar is a pressure, mm a length: write it in mm."),
        ({"gaps": "0.3", "new": "0.4 to 0.25"}, "New: “0.4 to 0.25” runs from more to less"),
        ({"gaps": ";".join(["0.3"] * 13)}, "Gaps: 13 are more than anybody measures; write up to 12."),
    ],
)
def test_what_is_no_ring_gap_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("ring-gap", **said)
