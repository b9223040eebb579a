"""Compression ratio, cranking pressure and leak-down: what a person reads, and that the budget is true."""

import math
import random
from itertools import pairwise
from typing import cast

import pytest

from fingertight.cards.pictures.cylinder import volumes_picture
from fingertight.cards.pictures.drawing import Words, svg
from fingertight.cards.sums.setting.cylinder.compression import CompressionCard
from fingertight.cards.sums.setting.cylinder.cranking import CrankingCard, Reading
from fingertight.cli.answers import answer_page
from fingertight.setting.cylinder.cranking import effective_ratio, gauge_bar, leaks, share_compressed
from fingertight.setting.cylinder.volumes import Cylinder, Errors, clearance_for_ml, milled, ratio_budget, to_mill_mm
from fingertight.setting.timing.crank import Crank
from tests.setting.asking import asked, page, refused

PUMP = {"bore": "68", "stroke": "45", "chamber": "21.5"}
CRANK = {"stroke": "45", "rod": "84"}
ALL = {"bore": "4 in", "stroke": "3.48 in", "chamber": "70 ml", "gasket": "0.020 in", "deck": "0.050 in", "crown": "5"}


def test_volumes_give_the_ratio_its_doubt_and_where_that_comes_from() -> None:
    # π/4 · 6.8² · 4.5 = 163.43; (163.43 + 21.5) / 21.5 = 8.601. A burette off by 0.2 ml: 163.43 / 21.5² · 0.2 / √3 · 2.
    said = page("compression", **PUMP)
    assert "The piston sweeps 163.4 ml." in said
    assert "The compression ratio is 8.6 ± 0.09 to 1: 21.5 ml are left above the piston." in said
    assert "Most of the doubt comes from the chamber: 98 % of it." in said
    card = cast(CompressionCard, asked("compression", **PUMP))
    assert card.unsure == pytest.approx(163.43 / 21.5**2 * 0.2 / 3**0.5 * 2, rel=0.02)


def test_the_budget_of_the_ratio_agrees_with_drawing_every_measurement_at_random() -> None:
    found = Cylinder(68, 45, 15, gasket_mm=1.2, gasket_bore_mm=70, deck_mm=0.3, crown_ml=1.5)
    errors, chance = Errors(0.02, 0.05, 0.2), random.Random(4)

    def drawn() -> float:
        def off(by: float) -> float:
            return chance.uniform(-by, by)

        length, oil = errors.length_mm, errors.oil_ml
        return Cylinder(
            68 + off(errors.bore_mm), 45 + off(length), 15 + off(oil), 1.2 + off(length), 70 + off(10 * length),
            0.3 + off(length), 1.5 + off(oil),
        ).ratio  # fmt: skip

    ratios = [drawn() for _ in range(20_000)]
    mean = math.fsum(ratios) / len(ratios)
    deviation = math.sqrt(math.fsum((one - mean) ** 2 for one in ratios) / len(ratios))
    assert ratio_budget(found, errors).standard == pytest.approx(deviation, rel=0.02)
    assert mean == pytest.approx(found.ratio, rel=0.001)


def test_milling_and_a_wanted_ratio_are_each_other_turned_round() -> None:
    found, face = Cylinder(68, 45, 21.5), math.pi / 4 * 68**2
    by = to_mill_mm(found, 9.0, face)
    assert milled(found, by, face).ratio == pytest.approx(9.0)
    assert found.swept_ml / clearance_for_ml(found.swept_ml, 9.0) + 1 == pytest.approx(9.0)
    said = page("compression", **PUMP, wanted="9")
    assert "For 9 : 1 20.4 ml must be left: mill 0.3 mm off the head." in said
    assert "milling brings the valves nearer to the piston" in said
    # 163.43 / 7.3 = 22.388; (22.388 − 21.5) / 3.632 cm² = 0.244 mm.
    assert "take 0.24 mm more of gasket" in page("compression", **PUMP, wanted="8.3")
    assert "0.1 mm milled off the head 8.73 : 1" in said


def test_gasket_deck_and_crown_are_counted_and_drawn() -> None:
    said = page("compression", **ALL, cylinders="8")
    assert "The piston sweeps 716.6 ml, 5733 ml in 8 cylinders." in said
    assert "gasket 4.12 ml deck height 10.3 ml piston crown 5 ml left above the piston 89.41 ml" in said
    drawing = volumes_picture(asked("compression", **ALL))
    assert drawing.says == (
        "The space above the piston at its top: chamber 70 ml, gasket 4.1 ml, deck 10.3 ml, crown 5 ml, left 89.4 ml, "
        "sweeps 716.6 ml."
    )
    bare = volumes_picture(asked("compression", **PUMP))
    assert "gasket" not in bare.says


@pytest.mark.parametrize("more", [{}, {"crown": "-4"}, {"deck": "-0.4", "gasket": "1.2"}, {"crown": "6", "deck": "1"}])
def test_the_picture_of_a_cylinder_stays_in_its_frame_and_no_words_lie_on_others(more: dict[str, str]) -> None:
    drawing = volumes_picture(asked("compression", **PUMP, **more))
    words = [shape for shape in drawing.shapes if isinstance(shape, Words)]
    for one in words:
        assert drawing.top <= one.y - one.size * 0.7
        assert one.y <= drawing.top + drawing.height
        # Letters are about 0.6 of their size wide (judged by eye).
        assert one.x + 0.6 * one.size * len(one.text) <= drawing.left + drawing.width
    heights = sorted(one.y for one in words)
    assert all(lower - upper >= 12 for upper, lower in pairwise(heights))
    assert svg(drawing).startswith('<svg class="drawing"')


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"bore": "68", "stroke": "45"}, "Chamber: nothing was typed; write for example 21.5 ml."),
        ({**PUMP, "bore": "0"}, "Bore: “0” must be more than 0; write for example 68 mm."),
        ({**PUMP, "chamber": "-3"}, "Chamber: “-3” must be more than 0"),
        ({**PUMP, "chamber": "400"}, "Chamber: 400 ml above the piston are more than it sweeps (163.4 ml)"),
        ({**PUMP, "crown": "-30"}, "Piston crown: with these figures -8.5 ml are left above the piston"),
        ({**PUMP, "bore": "68 ml"}, "Bore: ml is a volume, mm a length: write it in mm."),
        ({**PUMP, "bore": "wide"}, "Bore: “wide” is not a number"),
        ({**PUMP, "mill": "8"}, "Milled off: 8 mm would take the whole chamber away"),
        ({**PUMP, "wanted": "1"}, "Ratio wanted: “1” must be more than 1"),
        ({**PUMP, "gasket_bore": "70"}, "Hole of the gasket: write how thick the gasket is too"),
        ({**PUMP, "gasket": "1", "gasket_bore": "50"}, "Hole of the gasket: 50 mm is smaller than the bore of 68 mm"),
        ({**PUMP, "cylinders": "0"}, "Cylinders: “0” must be more than 0"),
        ({**PUMP, "cylinders": "1.5"}, "Cylinders: “1.5” is not a whole number."),
    ],
)
def test_volumes_no_engine_has_are_refused_with_their_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("compression", **said)


def test_the_inlet_closes_late_and_only_the_rest_compresses() -> None:
    # By hand, 138° after top: 22.5 (1 − cos 138°) + 84 − √(84² − (22.5 sin 138°)²) = 39.22 + 1.36 = 40.58, 0.902 of 45.
    assert share_compressed(Crank(45, 84), 42) == pytest.approx(40.58 / 45, abs=0.0005)
    assert share_compressed(Crank(45, 84), 0) == pytest.approx(1.0)
    assert effective_ratio(8.6, 1.0) == pytest.approx(8.6)
    card = cast(CrankingCard, asked("cranking", ratio="8.6", closes="42", **CRANK, altitude="1200 m"))
    assert card.effective_ratio == pytest.approx(1 + 7.6 * 40.58 / 45, abs=0.005)
    # 0.8773 bar (standard atmosphere, 1200 m): 0.8773 · (7.85^1.2 − 1) = 9.5, 0.8773 · (7.85^1.35 − 1) = 13.3.
    assert (card.low_bar, card.high_bar) == (pytest.approx(9.53, abs=0.03), pytest.approx(13.3, abs=0.05))
    said = page("cranking", ratio="8.6", closes="42", **CRANK, altitude="1200 m")
    assert "The inlet closes 42° after bottom, so only 90 % of the stroke compresses: 7.85 : 1." in said
    assert "At the sea the same engine would show 11 to 15.4 bar: take figures of a manual down as much." in said


def test_the_speed_of_cranking_moves_the_band() -> None:
    whole, slow, fast = (asked("cranking", ratio="8", **more) for more in ({}, {"speed": "200"}, {"speed": "600"}))
    assert (whole.low_bar, whole.high_bar) == (slow.low_bar, fast.high_bar)
    assert slow.high_bar < whole.high_bar
    assert fast.low_bar > whole.low_bar
    assert "1.2 to 1.3, slow: by hand or foot" in page("cranking", ratio="8", speed="200")


@pytest.mark.parametrize(
    ("more", "reading", "sentence"),
    [
        ({"measured": "160 psi"}, Reading.WITHIN, "160 psi are as expected."),
        ({"measured": "100 psi"}, Reading.BELOW, "100 psi are low: a spoon of oil on the piston and once more shows"),
        (
            {"measured": "100 psi", "wet": "120 psi"},
            Reading.BELOW,
            "With oil it rises by 20 %: gas passed the piston rings",
        ),
        ({"measured": "100 psi", "wet": "103 psi"}, Reading.BELOW, "hardly rises (3 %): not the rings; a valve"),
        ({"measured": "160 psi", "wet": "163 psi"}, Reading.WITHIN, "hardly rises (2 %): the rings hold."),
        ({"measured": "250 psi"}, Reading.ABOVE, "250 psi are high: carbon on piston and head"),
        ({"measured": "60 psi", "decompressor": "yes"}, Reading.UNKNOWN, "60 psi say nothing: while it is cranked the"),
    ],
)
def test_a_reading_is_put_beside_the_band(more: dict[str, str], reading: Reading, sentence: str) -> None:
    said = {"ratio": "8.6", "closes": "42", **CRANK, **more}
    card = asked("cranking", **said)
    assert (card.reading, card.is_no) == (reading, reading is Reading.BELOW)
    assert sentence in page("cranking", **said)


def test_without_the_inlet_s_closing_a_low_reading_is_not_called_low() -> None:
    card = asked("cranking", ratio="8.6", measured="9 bar")
    assert (card.reading, card.is_no) == (Reading.OPEN, False)
    assert "less than the whole ratio gives, which says nothing yet" in page("cranking", ratio="8.6", measured="9 bar")


def test_feet_and_a_barometer_do_as_well_as_metres() -> None:
    metres, feet = asked("cranking", ratio="8", altitude="1524"), asked("cranking", ratio="8", altitude="5000 ft")
    assert feet.air_bar == pytest.approx(metres.air_bar)
    assert asked("cranking", ratio="8", barometer="900 hPa").air_bar == pytest.approx(0.9)
    assert asked("cranking", ratio="8", barometer="900 hPa").low_bar == pytest.approx(gauge_bar(0.9, 8, 1.2))


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Ratio: nothing was typed; write for example 8.6 (compression works it out)."),
        ({"ratio": "much"}, "Ratio: “much” is not a number"),
        ({"ratio": "1"}, "Ratio: “1” must be more than 1.5"),
        ({"ratio": "8", "closes": "42"}, "Stroke: with the inlet’s closing it must be known; write stroke and rod."),
        ({"ratio": "8", **CRANK}, "Inlet closes: stroke and rod are for that; write it too, for example 42."),
        ({"ratio": "8", "closes": "200", **CRANK}, "Inlet closes: “200” is more than half a turn"),
        ({"ratio": "8", "closes": "42", "stroke": "45", "rod": "20"}, "Rod: 20 mm is no longer than half the stroke"),
        ({"ratio": "8", "altitude": "high"}, "Altitude: “high” is not a number"),
        ({"ratio": "8", "altitude": "9000"}, "Altitude: “9000” is not between -430 and 6000 m"),
        ({"ratio": "8", "altitude": "100", "barometer": "1 bar"}, "Barometer: write either it or the altitude"),
        ({"ratio": "8", "wet": "9"}, "With oil: it is compared with the reading before; write that too"),
        ({"ratio": "8", "measured": "9 mm"}, "Measured: mm is a length, bar a pressure: write it in bar."),
        ({"ratio": "8", "closes": "179.9", **CRANK}, "Inlet closes: "),
    ],
)
def test_an_engine_that_cannot_be_cranked_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("cranking", **said)


def test_a_leak_is_good_worn_or_too_close_for_the_gauges() -> None:
    close = page("leakdown", cylinder="60 psi", supply="80 psi")
    assert "Too close to call: 25 ± 1.8 % are lost, 25 % are usual as the limit, and the gauges are not that" in close
    assert "60 psi of 80 psi arrive." in close
    assert "Good: 9.1 ± 2 % are lost; 25 % are usual as the limit." in page("leakdown", cylinder="5", supply="5.5")
    worn = asked("leakdown", cylinder="2", supply="5.5")
    assert worn.is_no
    assert "Worn: 63.6 ± 1.6 % are lost; 25 % are usual as the limit. Listen where it hisses." in answer_page(worn)
    assert "Good: 25 ± 1.8 % are lost; 40 % are allowed." in page(
        "leakdown", cylinder="60 psi", supply="80 psi", limit="40"
    )
    assert "Air turns the crank" in answer_page(worn)


def test_the_doubt_of_a_leak_is_that_of_both_gauges_drawn_at_random() -> None:
    chance = random.Random(5)
    lost = [
        100 * leaks(5.5 + chance.uniform(-0.07, 0.07), 4.1 + chance.uniform(-0.07, 0.07)) for _ in range(20_000)
    ]  # fmt: skip
    mean = math.fsum(lost) / len(lost)
    deviation = math.sqrt(math.fsum((one - mean) ** 2 for one in lost) / len(lost))
    assert asked("leakdown", cylinder="4.1", supply="5.5").unsure == pytest.approx(2 * deviation, rel=0.02)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "In the cylinder: nothing was typed; write for example 4.2 bar."),
        ({"cylinder": "5"}, "Supplied: nothing was typed; write for example 5.5 bar."),
        ({"cylinder": "80 psi", "supply": "60 psi"}, "In the cylinder: 80 psi are more than the 60 psi supplied"),
        ({"cylinder": "3 kg", "supply": "5"}, "In the cylinder: kg is a mass, bar a pressure: write it in bar."),
        ({"cylinder": "3", "supply": "5", "limit": "0"}, "Limit: “0” must be more than 0"),
    ],
)
def test_gauges_that_cannot_show_that_are_refused_with_their_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("leakdown", **said)
