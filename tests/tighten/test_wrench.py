"""The torque wrench: extensions, how far it is off, and the page that says what to set."""

import math
from typing import Any, cast

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.cards.sums.tighten.wrench import SUM, WrenchCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood, converted
from fingertight.tighten.torque.wrench import effective_arm_mm, may_be_off, setting_nm

UNITS = ("N·m", "lb·ft", "lb·in", "kgf·m", "kgf·cm")
an_arm = st.floats(100, 1500)
an_extension = st.floats(0, 90)
an_angle = st.floats(0, 180)


def asked(**said: str) -> WrenchCard:
    return cast(WrenchCard, SUM.ask(said))


@given(st.floats(0.5, 500), an_arm, an_extension, an_angle)
@settings(max_examples=60, deadline=None)
def test_what_the_fastener_gets_is_recovered_from_the_setting(
    wanted: float, arm: float, extension: float, angle: float
) -> None:
    # From the forces alone: the hand pulls square to the wrench, and the square of the wrench feels what it is set to.
    pull = np.array([0.0, setting_nm(wanted, arm, extension, angle) * 1000 / arm, 0.0])
    hand, turn = np.array([-arm, 0.0, 0.0]), math.radians(angle)
    fastener = extension * np.array([math.cos(turn), math.sin(turn), 0.0])
    assert abs(np.cross(hand - fastener, pull)[2]) / 1000 == pytest.approx(wanted)


@given(st.floats(0.5, 500), an_arm, an_extension, st.floats(0, 80))
@settings(max_examples=60, deadline=None)
def test_the_extension_is_recovered_from_what_was_set_and_what_was_got(
    wanted: float, arm: float, extension: float, angle: float
) -> None:
    ratio = wanted / setting_nm(wanted, arm, extension, angle)
    along = effective_arm_mm(1000, 1000, angle) - 1000
    assert (ratio - 1) * arm * 1000 / along == pytest.approx(extension, abs=1e-6)


@given(an_arm, an_extension, an_angle)
@settings(max_examples=60, deadline=None)
def test_an_extension_helps_up_to_square_and_hinders_beyond(arm: float, extension: float, angle: float) -> None:
    longer = effective_arm_mm(arm, extension, angle) - arm
    assert longer >= -1e-9 if angle <= 90 else longer <= 1e-9


@pytest.mark.parametrize(("largest_nm", "share"), [(2, 0.06), (10, 0.06), (10.1, 0.04), (300, 0.04)])
def test_a_small_wrench_may_be_further_off(largest_nm: float, share: float) -> None:
    # ISO 6789:2003, type II class A, as quoted in a torque-wrench manual: 6 % up to 10 N·m, 4 % above.
    assert may_be_off(largest_nm) == share


def test_the_page_says_what_to_set_and_why() -> None:
    page = answer_page(asked(torque="30 N·m", arm="300", extension="75"))
    assert "Set the wrench to 24 N·m to get 30 N·m.\n" in page
    assert "An extension of 75 mm lengthens the arm of 300 mm to 375 mm.\n" in page
    assert "  lb·ft   17.7\n" in page
    assert "  ± 0.96 N·m  4 % of what it is set to\n" in page


def test_the_page_shows_what_the_same_number_does_on_another_scale() -> None:
    page = answer_page(asked(torque="30 N·m"))
    assert "The same number, 30, on a scale of another unit\n  lb·ft   40.7 N·m, 1.36 times as much\n" in page
    assert "  kgf·m   294 N·m, 9.81 times as much\n" in page


@pytest.mark.parametrize(
    ("angle", "sentence"),
    [
        ("45", "An extension of 4 mm at 45° lengthens the arm of 10 mm to 12.8 mm."),
        ("90", "An extension of 4 mm at 90° changes nothing: it stands square to the arm of 10 mm."),
        ("180", "An extension of 4 mm at 180° shortens the arm of 10 mm to 6 mm."),
    ],
)
def test_an_angle_is_explained_in_a_sentence(angle: str, sentence: str) -> None:
    assert sentence in answer_page(asked(torque="30", arm="10", extension="4", angle=angle))


@pytest.mark.parametrize("unit", UNITS)
def test_a_torque_in_any_unit_is_set_on_a_scale_of_any_other(unit: str) -> None:
    for scale in UNITS:
        card = asked(torque=f"12 {unit}", scale=scale)
        assert card.set_on_scale == pytest.approx(converted(12, unit, scale))
        assert card.in_units[unit] == pytest.approx(12)


def test_without_a_scale_the_unit_that_was_typed_is_the_scale() -> None:
    assert asked(torque="20 lb-ft").scale == "lb·ft"


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"torque": "-3"}, "Torque wanted: “-3” must be more than 0; write for example 30 N·m."),
        ({"torque": "0"}, "Torque wanted: “0” must be more than 0; write for example 30 N·m."),
        ({"torque": "30", "extension": "75"},
         "Arm of the wrench: with an extension it must be known; write for example 300 mm."),
        ({"torque": "30", "arm": "300", "extension": "400", "angle": "180"},
         "Extension: folded back it reaches past the grip; write a shorter one."),
        ({"torque": "30", "scale": "mm"},
         "Unit of the scale: there is no “mm” here; choose one of N·m, lb·ft, lb·in, kgf·m, kgf·cm."),
        ({"torque": "30", "arm": "0,3", "extension": "75"},
         "Arm of the wrench: “0,3” is less than 10 mm, the least that is worked out here; is the unit right?"),
        ({"torque": "30", "angle": "45"},
         "Angle: it is that of an extension; write how long that is too, for example 75 mm."),
        ({"torque": "30", "arm": "300", "extension": "75", "angle": "270"},
         "Angle: “270” is more than 180, and 0 is straight on, 180 folded back: it is the same as 90; write 90."),
        ({"torque": "30", "arm": "300", "extension": "75", "angle": "-45°"},
         "Angle: “-45°” is less than 0, and 0 is straight on, 180 folded back: it is the same as 45; write 45."),
        ({"torque": "30 kN"}, "Torque wanted: kN is a force, N·m a torque: write it in N·m."),
    ],
)  # fmt: skip
def test_what_cannot_be_set_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        asked(**said)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(("angle", "same"), [(200, 160), (270, 90), (-45, 45), (-200, 160), (405, 45), (720, 0)])
def test_the_angle_that_is_offered_instead_lengthens_the_arm_as_much(angle: float, same: float) -> None:
    with pytest.raises(NotUnderstood, match=rf"it is the same as {same}; write {same}\.$"):
        asked(torque="30", arm="300", extension="75", angle=str(angle))
    assert effective_arm_mm(300, 75, angle) == pytest.approx(effective_arm_mm(300, 75, same))


def test_an_angle_may_be_written_with_its_sign() -> None:
    assert asked(torque="30", arm="300", extension="75", angle="45°").angle_deg == 45


def test_three_digits_are_shown_below_1_too() -> None:
    # 4 N·m are 0.408 kgf·m and 1 N·m 0.102: NIST SP 811, appendix B.8 (1 kgf·m = 9.806 65 N·m).
    assert "Set the wrench to 0.408 kgf·m.\n" in answer_page(asked(torque="4", scale="kgf·m"))
    assert "  kgf·m   0.102\n" in answer_page(asked(torque="1"))


@pytest.mark.parametrize("sizes", [(0, 300, 75), (-1, 300, 75), (30, 0, 75), (30, 300, -1)])
def test_lengths_and_torques_that_cannot_be_are_refused(sizes: Any) -> None:
    with pytest.raises(ValueError, match="above 0"):
        setting_nm(*sizes)
