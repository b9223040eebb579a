"""Tightening by angle, against published stiffnesses and a sum of thin slices."""

import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.threads.names import thread_named
from fingertight.tighten.torque.friction import Band, bearing_under
from fingertight.tighten.torque.stripping import NoSuchHole
from fingertight.tighten.torque.turn import (
    BOLT_MODULUS_MPA,
    Joint,
    Layer,
    frustum_stiffness_n_per_mm,
    joint_of,
    parts_stiffness_n_per_mm,
    preload_by_turn_n,
    rod_stiffness_n_per_mm,
    turn_for_preload_deg,
)

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "torque.toml").read_text("utf-8"))
Case = dict[str, Any]
# mm with GPa gives kN/mm, which is MN/m; in with Mpsi gives Mlbf/in: any one system of units will do.


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: f"{case['problem']}, {case['stiffness']}")


@cases("cone")
def test_a_cone_is_as_stiff_as_the_textbook_has_it(case: Case) -> None:
    # Shigley, 9th ed., equation 8-20, solutions of problems 8-22 to 8-25; the book rounds to four digits.
    stiff = frustum_stiffness_n_per_mm(case["hole"], case["face"], case["thick"], case["modulus"])
    assert stiff == pytest.approx(case["stiffness"], rel=0.0005)


@cases("clamped")
def test_clamped_parts_are_as_stiff_as_the_textbook_has_them(case: Case) -> None:
    layers = [Layer(thick, modulus) for thick, modulus in case["layers"]]
    stiff = parts_stiffness_n_per_mm(layers, case["hole"], case["face"])
    assert stiff == pytest.approx(case["stiffness"], rel=case["rel"])


@cases("rod")
def test_a_bolt_is_as_stiff_as_the_textbook_has_it(case: Case) -> None:
    # Shigley, 9th ed., equation 8-17.
    stiff = rod_stiffness_n_per_mm([tuple(piece) for piece in case["pieces"]], case["modulus"])
    assert stiff == pytest.approx(case["stiffness"], rel=0.001)


def _give_by_slices(layers: list[tuple[float, float]], hole: float, face: float) -> float:
    """How much parts give, as a row of thin springs: nothing but l/(E A), slice by slice, the cones meeting halfway."""
    whole = sum(thick for thick, _ in layers)
    middle = (np.arange(200_000) + 0.5) * whole / 200_000
    ends = np.cumsum([thick for thick, _ in layers])
    modulus = np.array([stiff for _, stiff in layers])[np.searchsorted(ends, middle)]
    wide = face + 2 * np.minimum(middle, whole - middle) * math.tan(math.radians(30))
    area = math.pi / 4 * (wide**2 - hole**2)
    return float(np.sum(whole / 200_000 / (modulus * area)))


@pytest.mark.parametrize(
    ("layers", "hole", "face"),
    [
        ([(20, 205_000)], 9, 11.63),
        ([(8, 205_000), (12, 70_000)], 9, 11.63),
        ([(3, 70_000), (4, 110_000), (30, 205_000)], 6.6, 12.2),
        ([(25, 70_000), (4, 110_000)], 11, 14.63),
    ],
)
def test_the_closed_formula_is_the_sum_of_thin_springs(
    layers: list[tuple[float, float]], hole: float, face: float
) -> None:
    closed = parts_stiffness_n_per_mm([Layer(*layer) for layer in layers], hole, face)
    assert 1 / closed == pytest.approx(_give_by_slices(layers, hole, face), rel=1e-4)


def test_a_joint_gives_as_its_springs_one_behind_the_other() -> None:
    # Written out by hand, without the functions of the room: bolt by VDI 2230 (head 0.5 d, thread engaged 0.5 d on the
    # root, hole 0.33 d of aluminium), parts slice by slice, d/2 deep into the hole.
    thread, grip = thread_named("M8"), 20.0
    bearing = bearing_under(thread)
    outside, root = math.pi / 4 * 8**2, math.pi / 4 * thread.minor_external_mm**2
    ends = 4 / (205_000 * outside) + 4 / (205_000 * root) + 0.33 * 8 / (70_000 * outside)
    parts = _give_by_slices([(grip, 205_000), (4, 70_000)], bearing.hole_mm, bearing.outer_mm)
    joint = joint_of(thread, grip, bearing, "steel", "aluminium")
    assert joint.bolt_least == pytest.approx(ends + grip / (205_000 * outside))
    assert joint.bolt_most == pytest.approx(ends + grip / (205_000 * root))
    assert joint.parts == pytest.approx(parts, rel=1e-4)
    turned = 45 / 360 * 1.25 / (ends + grip / (205_000 * root) + parts)
    assert preload_by_turn_n(45, joint).low == pytest.approx(turned, rel=1e-4)


a_joint = st.builds(
    lambda name, grip, clamped, into: joint_of(
        thread_named(name), grip, bearing_under(thread_named(name)), clamped, into
    ),
    st.sampled_from(["M5", "M6", "M8", "M8x1", "M12", "1/4-20"]),
    st.floats(2, 200),
    st.sampled_from(["steel", "cast iron", "aluminium"]),
    st.sampled_from(["", "steel", "cast iron", "aluminium"]),
)


@given(a_joint, st.floats(100, 100_000))
@settings(max_examples=60, deadline=None)
def test_the_preload_is_recovered_from_its_turn(joint: Joint, force_n: float) -> None:
    turn = turn_for_preload_deg(force_n, joint)
    assert turn.low < turn.usual < turn.high
    assert preload_by_turn_n(turn.usual, joint).usual == pytest.approx(force_n)
    assert preload_by_turn_n(turn.low, joint).high == pytest.approx(force_n)
    assert preload_by_turn_n(turn.high, joint).low == pytest.approx(force_n)


@given(a_joint, st.floats(0, 90), st.floats(100, 9_000))
@settings(max_examples=40, deadline=None)
def test_a_turn_adds_to_the_snug_preload_end_by_end(joint: Joint, turn_deg: float, snug_n: float) -> None:
    snug, turned = Band(0.8 * snug_n, snug_n, 1.3 * snug_n), preload_by_turn_n(turn_deg, joint)
    both = preload_by_turn_n(turn_deg, joint, snug)
    assert both.low - turned.low == pytest.approx(snug.low)
    assert both.usual - turned.usual == pytest.approx(snug.usual)
    assert both.high - turned.high == pytest.approx(snug.high)


def test_a_longer_bolt_needs_more_turn_and_aluminium_more_than_steel() -> None:
    thread = thread_named("M8")

    def turn(grip: float, clamped: str) -> float:
        return turn_for_preload_deg(16_000, joint_of(thread, grip, bearing_under(thread), clamped)).usual

    assert turn(10, "steel") < turn(20, "steel") < turn(40, "steel")
    assert turn(20, "steel") < turn(20, "cast iron") < turn(20, "aluminium")


def test_a_nut_gives_a_little_more_than_a_steel_hole_and_the_bolt_is_of_steel() -> None:
    thread = thread_named("M8")
    nut, hole = (joint_of(thread, 20, bearing_under(thread), "steel", into) for into in ("", "steel"))
    # 0.4 d beside 0.33 d.
    assert nut.bolt_least - hole.bolt_least == pytest.approx(0.07 * 8 / (math.pi / 4 * 64) / BOLT_MODULUS_MPA)


def test_no_turn_brings_no_preload_and_none_is_below_0() -> None:
    joint = joint_of(thread_named("M8"), 20, bearing_under(thread_named("M8")), "steel")
    assert preload_by_turn_n(0, joint).usual == 0
    for wrong in (preload_by_turn_n, turn_for_preload_deg):
        with pytest.raises(ValueError, match="0 or more"):
            wrong(-1, joint)


def test_sizes_that_make_no_joint_are_refused() -> None:
    thread = thread_named("M8")
    with pytest.raises(ValueError, match="grip is above 0"):
        joint_of(thread, 0, bearing_under(thread), "steel")
    with pytest.raises(NoSuchHole):
        joint_of(thread, 20, bearing_under(thread), "wood")
    with pytest.raises(ValueError, match="wider than the hole"):
        frustum_stiffness_n_per_mm(9, 9, 10, 205_000)
    with pytest.raises(ValueError, match="above 0"):
        rod_stiffness_n_per_mm([(10, 0)], 205_000)
    with pytest.raises(ValueError, match="above 0"):
        rod_stiffness_n_per_mm([], 205_000)
