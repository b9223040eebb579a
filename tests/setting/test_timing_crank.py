"""The slider crank against geometry worked out another way, and angles as mechanics say them."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.angles import (
    in_the_cycle,
    middle,
    on_the_wheel,
    read_angle,
    said_from_nearest,
    said_from_top,
    wrapped,
)
from fingertight.setting.timing.crank import (
    Crank,
    angles_at,
    depth_mm,
    dwell_deg,
    fastest_deg,
    slope_mm_per_deg,
    two_term_depth_mm,
    two_term_fastest_deg,
)
from fingertight.setting.timing.rim import arc_mm, chord_mm, deg_of_arc, deg_of_chord, strips

a_stroke = st.floats(20, 200)
a_crank = st.builds(
    lambda stroke, rods, offset: Crank(stroke, stroke * rods, offset * stroke),
    a_stroke,
    st.floats(0.9, 4),
    st.floats(-0.1, 0.1),
)
a_straight_crank = st.builds(lambda stroke, rods: Crank(stroke, stroke * rods), a_stroke, st.floats(0.9, 4))


@given(a_crank, st.floats(-180, 180))
@settings(max_examples=200, deadline=None)
def test_the_rod_keeps_its_length_wherever_the_crank_stands(crank: Crank, angle: float) -> None:
    # From the drawing board: crankpin on its circle, pin on its line, the distance between them is the rod.
    turned = math.radians(angle) + crank.lean_rad
    crankpin = crank.throw_mm * math.sin(turned), crank.throw_mm * math.cos(turned)
    pin = crank.offset_mm, crank.top_mm - depth_mm(crank, angle)
    assert math.dist(crankpin, pin) == pytest.approx(crank.rod_mm, rel=1e-12)


@given(a_crank, st.floats(-170, 170))
@settings(max_examples=200, deadline=None)
def test_the_slope_is_what_a_small_turn_does(crank: Crank, angle: float) -> None:
    step = 1e-3
    rise = (depth_mm(crank, angle + step) - depth_mm(crank, angle - step)) / (2 * step)
    assert slope_mm_per_deg(crank, angle) == pytest.approx(rise, abs=1e-6 * crank.stroke_mm)


@given(a_crank, st.floats(0.0, 1.0))
@settings(max_examples=200, deadline=None)
def test_the_angles_of_a_depth_give_the_depth_back(crank: Crank, share: float) -> None:
    depth = share * crank.travel_mm
    before, after = angles_at(crank, depth)
    assert before <= 1e-6
    assert after >= -1e-6
    for angle in (before, after):
        assert depth_mm(crank, angle) == pytest.approx(depth, abs=1e-9 * crank.stroke_mm)


@given(a_crank)
@settings(max_examples=100, deadline=None)
def test_no_angle_brings_the_piston_higher_or_lower_than_its_dead_centres(crank: Crank) -> None:
    depths = [depth_mm(crank, angle / 4) for angle in range(-720, 721)]
    assert min(depths) >= -1e-9
    assert max(depths) <= crank.travel_mm + 1e-9
    assert max(depths) == pytest.approx(crank.travel_mm, rel=1e-4)
    assert crank.travel_mm >= crank.stroke_mm * (1 - 1e-12)


@given(a_straight_crank)
@settings(max_examples=100, deadline=None)
def test_nowhere_is_the_piston_faster_than_where_it_is_said_to_be_fastest(crank: Crank) -> None:
    most = slope_mm_per_deg(crank, fastest_deg(crank))
    assert all(slope_mm_per_deg(crank, angle / 2) <= most + 1e-9 for angle in range(361))
    assert fastest_deg(crank) < 90


def test_near_the_top_no_digits_are_lost() -> None:
    # cos α = 1 − α²/2 + α⁴/24 − …, sin α = α − α³/6 + …: the series of the depth up to α⁴, by hand.
    crank, alpha = Crank(45, 84), math.radians(0.01)
    r, rod = 22.5, 84.0
    series = r * (1 + r / rod) * alpha**2 / 2 - r * (1 + 4 * r / rod - 3 * (r / rod) ** 3) * alpha**4 / 24
    assert depth_mm(crank, 0.01) == pytest.approx(series, rel=1e-12)


def test_the_two_term_formula_is_short_by_a_thousandth_where_the_rod_is_five_throws_long() -> None:
    # Books on the theory of machines: the two-term formula and the exact one differ by 0.1 % at n = 5.
    crank = Crank(2, 5)
    worst = max(1 - two_term_depth_mm(crank, angle) / depth_mm(crank, angle) for angle in range(1, 180))
    assert worst == pytest.approx(0.001, abs=0.0002)
    assert two_term_fastest_deg(5) - fastest_deg(crank) == pytest.approx(0.17, abs=0.01)
    assert all(two_term_depth_mm(crank, angle) <= depth_mm(crank, angle) for angle in range(0, 181, 5))


def test_three_degrees_hide_in_a_hundredth_of_a_millimetre() -> None:
    # r (1 + r/L) α² / 2 = 0.005 mm for a band of 0.01 mm from the top: the parabola, by hand.
    crank = Crank(45, 84)
    by_hand = 2 * math.degrees(math.sqrt(0.02 / (22.5 * (1 + 22.5 / 84))))
    assert dwell_deg(crank, 0.01) == pytest.approx(by_hand, rel=1e-3)
    assert dwell_deg(crank, 0.04) == pytest.approx(2 * by_hand, rel=1e-3)


@pytest.mark.parametrize("sizes", [(0, 84), (45, 22.5), (45, 20), (-45, 84), (45, 84, 62), (45, float("nan"))])
def test_a_crank_that_cannot_turn_is_refused(sizes: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="the rod longer than half"):
        Crank(*sizes)


@pytest.mark.parametrize("depth", [-0.1, 45.1, float("nan")])
def test_a_depth_the_piston_never_has_is_refused(depth: float) -> None:
    with pytest.raises(ValueError, match="never goes there"):
        angles_at(Crank(45, 84), depth)


@pytest.mark.parametrize(
    ("said", "deg"),
    [("31 before", -31), ("31 BTDC", -31), ("31° before TDC", -31), ("31 deg before top dead centre", -31),
     ("37 after", 37), ("37atdc", 37), ("329", -31), ("-31", -31), ("- 31", -31), ("−31", -31), ("0", 0), ("360", 0),
     ("31,5 before", -31.5), ("31 1/2 before", -31.5), ("10 BBDC", 170), ("10 after bottom", -170), ("180", 180),
     ("12 before the mark", -12)],
)  # fmt: skip
def test_an_angle_is_read_as_mechanics_say_it(said: str, deg: float) -> None:
    assert on_the_wheel(said) == deg


@pytest.mark.parametrize(
    ("said", "sentence"),
    [("abc", "“abc” is no angle; write degrees, for example 31 before TDC."),
     ("", "“” is no angle; write degrees, for example 31 before TDC."),
     ("31 mm", "“31 mm”: “mm” is no word for an angle here; write for example 31 before TDC."),
     ("31 before after", "“31 before after” says the side twice; write for example 31 before TDC."),
     ("-31 before", "“-31 before” has a minus and a side; write one of them, for example 31 before TDC."),
     ("3.1.4", "“3.1.4” has two marks; write one decimal mark and no mark for thousands, for example 68.02."),
     ("1000", "“1000” is more than two turns of the crank; write 0 to 360, or so much before or after."),
     ("400", "“400” is more than a whole turn; a degree wheel reads 0 to 360."),
     ("9" * 80, f"“{'9' * 20}” is no angle; write degrees, for example 31 before TDC.")],
)  # fmt: skip
def test_what_is_no_angle_is_refused_in_a_sentence(said: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        on_the_wheel(said)
    assert str(refused.value) == sentence


@given(st.floats(-180, 180), st.floats(-180, 180))
def test_the_middle_is_as_far_from_both_and_wraps_round(one: float, other: float) -> None:
    at, half = middle(one, other)
    assume(half < 89.999)
    assert abs(wrapped(at - one)) == pytest.approx(half, abs=1e-9)
    assert abs(wrapped(at - other)) == pytest.approx(half, abs=1e-9)
    assert wrapped(middle(one + 360, other - 720)[0] - at) == pytest.approx(0, abs=1e-9)


@given(st.integers(-179, 180))
def test_an_angle_in_words_is_read_back(deg: int) -> None:
    words = said_from_top(deg)
    assert on_the_wheel("0" if words == "at TDC" else words) == deg
    nearest = said_from_nearest(deg)
    assert on_the_wheel(nearest.replace("at TDC", "0").replace("at BDC", "180")) == deg


def test_only_the_word_firing_tells_two_turns_apart() -> None:
    assert in_the_cycle("345 after TDC", (-1, "top"), 0.0) == -15
    assert in_the_cycle("15 before firing TDC", (-1, "top"), 0.0) == 345
    assert read_angle("15 before firing TDC").centre == "firing"


@given(st.floats(40, 1000), st.floats(0, 180))
def test_arcs_and_chords_are_degrees_again(diameter: float, angle: float) -> None:
    assert deg_of_arc(diameter, arc_mm(diameter, angle)) == pytest.approx(angle, abs=1e-9)
    assert deg_of_chord(diameter, chord_mm(diameter, angle)) == pytest.approx(angle, abs=1e-5)
    assert chord_mm(diameter, angle) <= arc_mm(diameter, angle) + 1e-9


@given(st.floats(40, 1000), st.floats(150, 280))
def test_the_strips_of_a_tape_are_whole_round_and_fit_the_paper(diameter: float, room: float) -> None:
    found = strips(diameter, room)
    assert (found[0].from_deg, found[-1].to_deg) == (-180, 180)
    assert all(one.to_deg == later.from_deg for one, later in pairwise(found))
    assert all(arc_mm(diameter, one.to_deg - one.from_deg) <= room * (1 + 1e-9) for one in found)
    assert sum(one.from_deg < 0 < one.to_deg for one in found) == 1, "top dead centre lies within a strip"
