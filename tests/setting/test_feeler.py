"""Feeler leaves: what a reading proves, which leaves prove a range, the screw; what a person reads."""

from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.setting.gaps.feeler.card import FeelerCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.gaps.go_no_go import Set, between, judged, proof
from fingertight.setting.gaps.leaves import Stack, leaf_error_mm, leaves_of, makes, stack_of, stacks
from fingertight.setting.gaps.said import leaves_said, range_said, tried

FEELER = sum_named("feeler")


def feeler(**said: str) -> FeelerCard:
    return cast(FeelerCard, FEELER.ask({name.replace("_", "-"): text for name, text in said.items()}))


def page(**said: str) -> str:
    return " ".join(answer_page(feeler(**said)).split())


def refused(**said: str) -> str:
    with pytest.raises(NotUnderstood) as slip:
        feeler(**said)
    return str(slip.value)


def test_one_leaf_that_goes_and_one_that_does_not_leave_the_gap_between() -> None:
    said = page(reading="0.15 goes, 0.20 does not")
    assert "The gap lies between 0.15 and 0.20 mm by what is marked on the leaves" in said
    assert "and surely between 0.146 and 0.204 mm." in said
    # (0.20 − 0.15) / √12 = 0.0144, with 0.004 of each leaf: √(0.05² + 2 · 0.004²) / √12 = 0.0145.
    assert "0.175 mm, with a standard uncertainty of 0.015 mm" in said
    assert feeler(reading="0.15 goes, 0.20 does not").standard_mm == pytest.approx(0.01453, abs=1e-5)


def test_a_leaf_above_the_range_that_does_not_go_proves_too_little() -> None:
    said = page(reading="0.15 goes, 0.20 does not", range="0.13 to 0.17")
    assert (
        "Too close to call: the leaves do not prove 0.13 to 0.17 mm: about 4 in 10 of what is possible is in." in said
    )
    assert "Try 0.06 + 0.10 (0.16 mm): if it does not go, the gap is not too large." in said
    assert "0.15 mm goes not too small 0.06 + 0.10 (0.16 mm) does not go not too large" in said


def test_a_leaf_within_the_range_that_does_not_go_proves_it() -> None:
    card = feeler(reading="0.15 goes, 0.10 + 0.06 does not", range="0.13 to 0.17")
    assert card.verdict is Set.GOOD
    assert "Good: all of it lies within 0.13 to 0.17 mm." in answer_page(card)


@pytest.mark.parametrize(
    ("reading", "verdict", "sentence"),
    [
        ("0.25 goes", Set.LARGE, "Too large: surely more than 0.17 mm."),
        ("0.10 does not go", Set.SMALL, "Too small: surely less than 0.13 mm."),
        ("0.15 goes", Set.CLOSE, "Try 0.06 + 0.10 (0.16 mm): if it does not go"),
        ("0.05 goes, 0.10 + 0.06 not", Set.CLOSE, "Try 0.15 mm: if it goes, the gap is not too small."),
    ],
)
def test_one_sided_readings_prove_one_side(reading: str, verdict: Set, sentence: str) -> None:
    card = feeler(reading=reading, range="0.13 to 0.17")
    assert card.verdict is verdict
    assert sentence in " ".join(answer_page(card).split())
    assert card.is_no is (verdict in {Set.SMALL, Set.LARGE})


def test_a_leaf_of_the_limit_itself_is_good_only_by_what_is_marked_on_it() -> None:
    said = page(reading="10 thou goes, 11 thou does not", range="10 to 14 thou")
    assert "Too close to call" in said
    assert "By what is marked on the leaves it is good; what they may be off leaves it open" in said
    assert feeler(reading="10 thou goes, 11 thou does not", range="10 to 14 thou", leaf_error="0").verdict is Set.GOOD


def test_which_leaves_would_prove_a_range_is_said_before_anything_is_tried() -> None:
    assert "0.15 mm must go and 0.06 + 0.10 (0.16 mm) must not: then the gap is surely 0.13 to 0.17 mm." in page(
        range="0.13 to 0.17"
    )
    coarse = page(range="0.13 to 0.17", leaves="metric 20")
    assert "With these leaves 0.13 to 0.17 mm cannot be proven" in coarse
    assert "goes not too small" not in coarse


def test_a_gap_is_made_of_as_few_leaves_as_will_do() -> None:
    assert "For 0.45 mm take 0.45 mm." in page(gap="0.45")
    said = page(gap="0.13")
    assert "For 0.13 mm take 0.03 + 0.10 (0.13 mm)." in said
    assert "Leaves on each other are a little thicker than their sum" in said
    assert "For 0.030 in take 0.005 + 0.025 (0.030 in)." in page(gap="0.030 in")


def test_the_screw_is_turned_by_its_pitch_and_the_rocker() -> None:
    # 0.75 mm a turn: 0.05 mm are 24°; a rocker of 1.5 wants 16°.
    assert feeler(pitch="0.75").deg_for_hundredth == pytest.approx(4.8)
    assert "24° of the screw make 0.05 mm of gap." in page(pitch="0.75")
    assert "16° of the screw make 0.05 mm of gap." in page(pitch="0.75", ratio="1.5")
    said = page(reading="0.15 goes, 0.20 does not", range="0.13 to 0.17", pitch="0.75")
    assert "From about 0.175 mm to 0.15 mm turn the screw by 12°, the way that closes the gap" in said
    assert "the way that opens the gap" in page(reading="0.10 goes, 0.15 does not", gap="0.20", pitch="0.75")


def test_cold_parts_top_dead_centre_and_hollow_rockers_are_always_named() -> None:
    said = page(reading="0.15")
    assert "Set a gap at the temperature its maker names, mostly cold" in said
    assert "piston at top dead centre on the firing stroke" in said
    assert "In a rocker worn hollow a leaf bridges the hollow: the gap is larger than the leaf says" in said


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Nothing was asked: write a reading, for example 0.15 goes, 0.20 does not"),
        ({"reading": "0.20 goes, 0.15 does not"}, "Reading: 0.20 mm cannot go where 0.15 mm does not; try both leaves"),
        ({"reading": "0.15 goes, 0.15 does not"}, "Reading: 0.15 mm cannot go where 0.15 mm does not"),
        ({"reading": "thin goes"}, "Reading: “thin” is not a number"),
        ({"reading": "0.15, 0.20"}, "Reading: “0.15”: does it go, or not?"),
        ({"reading": "0.15 goes, 0.2 goes"}, "says twice what goes; write one of each"),
        ({"reading": "6 goes"}, "is no feeler leaf: they are 0.005 to 3 mm thick. Did you mean 6 thou?"),
        ({"reading": "0.15 + goes"}, "Reading: “0.15 +” names no leaf"),
        ({"reading": "0.15 kg goes"}, "Reading: kg is a mass, mm a length: write it in mm."),
        ({"range": "0.17 to 0.13"}, "Range: “0.17 to 0.13” runs from more to less; write the smaller size first"),
        ({"range": "0.15"}, "Range: “0.15” is no range; write its least and its most, for example 0.13 to 0.17."),
        ({"range": "0.1 ± 0.2"}, "Range: “0.1 ± 0.2” reaches below 0"),
        ({"range": "0.15 to 0.15"}, "Range: it has no width"),
        ({"gap": "0"}, "Gap wanted: “0” must be more than 0; write for example 0.45 mm."),
        ({"gap": "2 bar"}, "Gap wanted: bar is a pressure, mm a length: write it in mm."),
        (
            {"gap": "0.2", "leaves": "huge"},
            "Leaves: there is no set “huge” here; write metric, metric 20, inch, or each",
        ),
        ({"gap": "0.2", "leaves": "0.1 9"}, "Leaves: “9” is no feeler leaf"),
        ({"pitch": "26"}, "Pitch of the screw: “26” is more than 3 mm"),
        ({"pitch": "0.75", "ratio": "0"}, "Rocker ratio: “0” must be more than 0"),
    ],
)
def test_what_no_leaf_can_show_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused(**said)


@pytest.mark.parametrize(
    ("text", "goes", "stops"),
    [
        ("0.15 goes, 0.20 does not", (0.15,), (0.20,)),
        ("0,15 goes; 0,20 doesn’t go", (0.15,), (0.20,)),
        ("0.15 goes 0.20 does not", (0.15,), (0.20,)),
        ("go 0.15 no-go 0.20", (0.15,), (0.20,)),
        ("no-go 0.20, go 0.15", (0.15,), (0.20,)),
        ("0.20 won't, 0.15 fits", (0.15,), (0.20,)),
        ("M 0.25 + 0.20", (0.25, 0.20), None),
        ("0.10 + 0.06 mm does not go", None, (0.10, 0.06)),
        ("0.15", (0.15,), None),
    ],
)
def test_a_reading_is_understood_as_it_is_said(text: str, goes: Any, stops: Any) -> None:
    found = tried(text)
    assert (found.goes, found.stops) == (goes, stops)


def test_a_unit_behind_one_leaf_holds_for_both_and_answers_in_it() -> None:
    found = tried("5 thou goes but 6 does not")
    assert found.goes == pytest.approx((0.127,))
    assert found.stops == pytest.approx((0.1524,))
    assert "between 5 and 6 thou" in page(reading="5 thou goes but 6 does not")


@pytest.mark.parametrize(
    "text",
    ["0.13 to 0.17", "0,13-0,17", "0.13 0.17 mm", "0.13 – 0.17", "0.15 ± 0.02", "0.15 +/- 0.02 mm", "0.13..0.17"],
)
def test_a_range_is_understood_as_it_is_said(text: str) -> None:
    assert range_said(text, "")[:2] == pytest.approx((0.13, 0.17))


def test_leaves_may_be_a_set_or_each_leaf() -> None:
    assert leaves_said("Metric")[0] == leaves_of("metric")
    assert leaves_said("0.05, 0.10; 0,15")[0] == (0.05, 0.1, 0.15)
    assert leaves_said("2 3 4 thou")[0] == pytest.approx((0.0508, 0.0762, 0.1016))


METRIC = leaves_of("metric")
ENDS = st.floats(0.03, 0.9)


@given(ENDS, st.floats(0.001, 0.3), st.floats(0.0, 1.2), st.lists(st.floats(-1, 1), min_size=4, max_size=4), st.data())
def test_no_verdict_is_ever_wrong_whatever_each_leaf_is_off(
    least: float, wide: float, gap: float, off: list[float], data: st.DataObject
) -> None:
    chosen = data.draw(st.lists(st.sampled_from(METRIC), min_size=2, max_size=4, unique=True))
    true = {leaf: leaf + by * leaf_error_mm(leaf) for leaf, by in zip(chosen, off, strict=False)}
    tested = [(stack, sum(true[leaf] for leaf in stack.leaves_mm)) for stack in stacks(chosen, 2)]
    goes = max((stack for stack, thick in tested if thick <= gap), key=lambda one: one.thickness_mm, default=None)
    stops = min((stack for stack, thick in tested if thick > gap), key=lambda one: one.thickness_mm, default=None)
    if goes and stops and goes.thickness_mm >= stops.thickness_mm:
        return  # leaves so near each other that what is marked turns them round
    found = between(goes, stops)
    assert found.low_mm - 1e-9 <= gap <= found.high_mm + 1e-9
    verdict = judged(found, least, least + wide)
    if verdict is Set.GOOD:
        assert least - 1e-8 <= gap <= least + wide + 1e-8
    elif verdict is Set.SMALL:
        assert gap <= least + 1e-8
    elif verdict is Set.LARGE:
        assert gap >= least + wide - 1e-8


@given(ENDS, st.floats(0.01, 0.3))
def test_the_leaves_named_for_a_range_prove_it(least: float, wide: float) -> None:
    most = least + wide
    found = proof(least, most, METRIC)
    if found.proves:
        assert judged(between(found.goes, found.stops), least, most) is Set.GOOD
    if found.small:
        assert judged(between(None, found.small), least, most) is Set.SMALL
    if found.large:
        assert judged(between(found.large, None), least, most) is Set.LARGE


@given(st.floats(0.03, 1.5))
def test_no_stack_of_three_is_much_nearer_than_the_one_that_is_named(gap: float) -> None:
    named = makes(gap, METRIC)
    best = min(abs(stack.thickness_mm - gap) for stack in stacks(METRIC, 3))
    assert abs(named.thickness_mm - gap) <= best + 0.0005 + 1e-9


def test_a_stack_is_the_sum_of_its_leaves_and_so_is_what_it_may_be_off() -> None:
    assert stack_of([0.5, 0.05]) == Stack((0.05, 0.5), pytest.approx(0.010))
    assert stack_of([0.5, 0.05], 0.001).at_most_mm == pytest.approx(0.552)
