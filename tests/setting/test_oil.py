"""Oil: amounts for two sumps and two dipsticks, and what a grade says."""

from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.setting.drive.oil.card import OilCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.drive.sumps import Sump, marks_of

TWO = "engine: full 600, stays 40, marks 150, stands half; clutch: full 450 ml, stays 30"


def asked(**said: str) -> Any:
    return sum_named("oil").ask(said)


def page(**said: str) -> str:
    return " ".join(answer_page(asked(**said)).split())


def refused(**said: str) -> str:
    with pytest.raises(NotUnderstood) as slip:
        asked(**said)
    return str(slip.value)


def test_two_sumps_are_topped_up_and_filled_each_by_its_own_figures() -> None:
    said = page(sumps=TWO)
    assert "Engine: 75 ml bring it to the full mark." in said
    assert "Clutch: 420 ml after draining (30 ml stay in), 450 ml after an overhaul, when all is dry." in said
    assert "engine 600 ml 560 ml 150 ml – clutch 450 ml 420 ml – –" in said
    assert "Never above the full mark: the crank beats the oil to foam" in said


@pytest.mark.parametrize(
    ("stands", "sentence"),
    [
        ("low", "150 ml bring it to the full mark."),
        ("1/4", "112 ml bring it to the full mark."),
        ("75 %", "38 ml bring it to the full mark."),
        ("full", "at the full mark, nothing is added."),
        ("1.2", "over the full mark; draw off 30 ml before it is run."),
        ("-0.2", "180 ml bring it to the full mark."),
    ],
)
def test_where_it_stands_says_what_is_added_or_drawn_off(stands: str, sentence: str) -> None:
    card = cast(OilCard, asked(sumps=f"engine: full 600, marks 150, stands {stands}"))
    assert sentence in answer_page(card)
    assert card.is_no is ("draw off" in sentence)


def test_two_known_fillings_make_a_dipstick_of_any_rod() -> None:
    card = cast(OilCard, asked(sumps="clutch: low 10 mm, top 22 mm, fill 450 ml at 11 mm, fill 550 ml at 21 mm"))
    # 100 ml for 10 mm: the full mark at 22 mm is 560 ml, low to full 120 ml.
    sump = card.sumps[0]
    assert (sump.after_overhaul_ml, sump.marks_ml, sump.ml_per_mm) == (560, 120, 10)
    topped = asked(sumps="clutch: low 10 mm, top 22 mm, fill 450 at 11, fill 550 at 21, stands 16 mm")
    assert topped.sumps[0].to_add_ml == pytest.approx(60)


def test_amounts_are_shown_in_the_unit_of_the_jug() -> None:
    # 560 ml = 34.17 in³.
    assert "Engine: 34.2 in³ after draining" in page(sumps="engine: full 600, stays 40", show="in³")
    assert "Engine: 0.56 l after draining" in page(sumps="engine: full 0.6 l, stays 40 ml", show="l")


@given(st.floats(0.1, 20), st.floats(0.1, 50), st.floats(1, 900), st.floats(1, 60), st.floats(1, 40))
def test_a_dipstick_from_two_fillings_gives_every_filling_back(
    per_mm: float, low: float, first: float, apart: float, between: float
) -> None:
    marks, full = marks_of(low, low + between, (first, 5.0), (first + apart * per_mm, 5.0 + apart))
    assert marks.between_ml == pytest.approx(between * per_mm)
    assert full == pytest.approx(first + (low + between - 5.0) * per_mm)


@given(st.floats(1, 5000), st.floats(0, 0.9), st.floats(0.05, 0.95), st.floats(0, 1))
def test_what_is_added_brings_it_to_full(full: float, stays: float, marks: float, share: float) -> None:
    sump = Sump(full, stays * full, marks * full)
    low = full - marks * full
    assert low + share * marks * full + sump.to_add_ml(share) == pytest.approx(full, abs=1e-4)


def test_an_edition_is_named_where_two_differ() -> None:
    said = page(grade="SAE 20")
    assert "SAE 20 has 6.9 to below 9.3 mm²/s at 100 °C in the edition of January 2015" in said
    assert "and 5.6 to below 9.3 in that of December 1999: name the edition." in said
    assert page(grade="SAE 20", edition="1999").count("SAE 20 5.6 to below 9.3 at 100 °C") == 1


def test_a_multigrade_is_both_and_a_light_one_may_be_thinner_under_shear() -> None:
    said = page(grade="10W-40", edition="2015")
    assert "SAE 40 is 12.5 to below 16.3 mm²/s thick at 100 °C." in said
    assert "SAE 10W: when cranked no thicker than 7000 mPa·s at -25 °C." in said
    assert "3.5 mPa·s at 150 °C, sheared" in said
    assert "3.7 mPa·s at 150 °C, sheared" in page(grade="15W40", edition="2015")
    assert "3.7 mPa·s at 150 °C, sheared" in page(grade="SAE 40")


def test_a_class_of_iso_is_its_number_at_40_degrees() -> None:
    assert "ISO VG 46 is 41.4 to 50.6 mm²/s thick at 40 °C." in page(grade="iso vg 46")


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Sumps: nothing was asked; write for example engine: full 600, stays 40, marks 150, stands half"),
        (
            {"sumps": "lots"},
            "Sumps, sump 1: “lots” is not understood; write full, stays, marks, stands, low, top or fill",
        ),
        ({"sumps": "engine: full lots"}, "Sumps, engine: “lots” is not a number"),
        (
            {"sumps": "engine: stays 40"},
            "Sumps, engine: write what fills it dry to the full mark, for example full 600",
        ),
        ({"sumps": "engine: full 600, stays 700"}, "Sumps, engine: less stays in than fills it."),
        ({"sumps": "engine: full 600, marks 700"}, "Sumps, engine: less lies between the marks than fills it."),
        ({"sumps": "engine: full 600, stands half"}, "Sumps, engine: to top it up write what lies between"),
        (
            {"sumps": "engine: full 600, marks 150, stands high"},
            "“stands high” is not understood; write low, half, full",
        ),
        ({"sumps": "engine: full 600 mm"}, "Sumps, engine: mm is a length, ml a volume: write it in ml."),
        ({"sumps": "engine: full -3"}, "Sumps, engine: “-3” must be 0 or more, and no lake"),
        ({"sumps": "a: low 10 mm, fill 4 ml at 3 mm"}, "Sumps, a: write where both marks are, from the tip"),
        ({"sumps": "a: low 10, top 22, fill 450 at 11"}, "Sumps, a: two known fillings are wanted"),
        (
            {"sumps": "a: low 22, top 10, fill 450 at 11, fill 550 at 21"},
            "Sumps, a: the full mark is above the low one",
        ),
        ({"sumps": "a: low 10, top 22, fill 550 at 11, fill 450 at 21"}, "Sumps, a: the fuller filling stands higher"),
        ({"sumps": "a: low 10, top 22, fill 450, fill 550 at 21"}, "Sumps, a: “fill 450” is not understood"),
        ({"sumps": ";".join(["a: full 600"] * 7)}, "Sumps: 7 are more than any engine has; write up to 6."),
        ({"grade": "thick"}, "Grade: “thick” is no grade; write for example SAE 30, 10W-40, or ISO VG 46."),
        ({"grade": "SAE 17"}, "Grade: SAE J300 has no 17; winter grades are 0W to 25W"),
        ({"grade": "SAE 16", "edition": "1999"}, "Grade: SAE J300 has no 16 in the edition of 1999"),
        ({"grade": "VG 47"}, "Grade: there is no ISO VG 47; they go 2, 3, 5, 7, 10"),
        ({"grade": "SAE 30", "edition": "2001"}, "Edition: there is no “2001” here; choose one of 2015, 1999."),
        ({"sumps": TWO, "show": "gallons"}, "Amounts in: there is no “gallons” here; choose one of ml, l, in³."),
    ],
)
def test_what_no_sump_holds_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused(**said)
