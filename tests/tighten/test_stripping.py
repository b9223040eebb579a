"""What gives first: the bolt, its thread, or the tapped hole."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.threads.limits import bolt_limits, nut_limits
from fingertight.tighten.threads.names import INCH_MM, Thread, thread_named
from fingertight.tighten.torque.strength import breaking_load_n, grade_named
from fingertight.tighten.torque.stripping import (
    DEAD_PITCHES,
    Link,
    Links,
    NoSuchHole,
    hole_material,
    least_engagement_mm,
    links_of,
    shear_area_of_bolt_mm2,
    shear_area_of_hole_mm2,
)

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "torque.toml").read_text("utf-8"))
AREAS = [
    value
    for value in tomllib.loads((Path(__file__).parents[1] / "outside" / "strength.toml").read_text("utf-8"))["value"]
    if value["id"].startswith("strip-internal")
]
Case = dict[str, Any]
METALS = ["steel", "cast iron", "aluminium"]
a_bolt = st.sampled_from(["M5", "M6", "M8", "M8x1", "M10", "M12x1.25", "1/4-20", "3/8-24"])
a_grade = st.sampled_from(["4.8", "8.8", "10.9", "12.9", "A2-70", "brass"])


@pytest.mark.parametrize("value", AREAS, ids=[value["id"] for value in AREAS])
def test_the_limits_of_the_thread_itself_give_the_published_shear_area(value: Case) -> None:
    # FED-STD-H28/2 with 2A and 2B limits, as a fastener dealer's sheet prints it; here from our own limits.
    thread = thread_named(value["inputs"]["thread"])
    bolt, nut = bolt_limits(thread), nut_limits(thread)
    area_mm2 = shear_area_of_hole_mm2(thread.pitch_mm, INCH_MM, bolt.major_mm[0], nut.pitch_mm[1])
    assert area_mm2 / INCH_MM**2 == pytest.approx(value["expect"], rel=value["tolerance"]["rel"])


@pytest.mark.parametrize("case", OUTSIDE["engagement"], ids=lambda case: f"{case['grade']} in {case['into']}")
def test_the_least_engagement_lies_in_the_band_published_from_trials(case: Case) -> None:
    # Catalogue tables from trials, M6 to M16, coarse; see tests/outside/torque.toml.
    shortest, longest = case["diameters"]
    for name in ("M6", "M8", "M10", "M12", "M16"):
        thread = thread_named(name)
        wanted = least_engagement_mm(thread, grade_named(case["grade"]), case["into"]) / thread.diameter_mm
        assert shortest <= wanted <= longest, f"{name}: {wanted:.2f} d"


def _thread_strips(thread: Thread, grade: str, into: str, engaged_mm: float) -> bool:
    return links_of(thread, grade_named(grade), into, engaged_mm).weakest is not Link.BOLT_BREAKS


@given(a_bolt, a_grade, st.sampled_from(METALS))
@settings(max_examples=60, deadline=None)
def test_at_the_least_engagement_bolt_and_thread_give_at_the_same_pull(name: str, grade: str, into: str) -> None:
    thread = thread_named(name)
    least_mm = least_engagement_mm(thread, grade_named(grade), into)
    links = links_of(thread, grade_named(grade), into, least_mm)
    assert min(links.bolt_strips_n, links.hole_strips_n) == pytest.approx(links.bolt_breaks_n, rel=1e-9)
    assert _thread_strips(thread, grade, into, least_mm * 0.99)
    assert not _thread_strips(thread, grade, into, least_mm * 1.01)


@given(a_bolt, st.floats(2, 30), st.floats(1.05, 3))
@settings(max_examples=40, deadline=None)
def test_more_engaged_thread_carries_more_in_proportion(name: str, engaged_mm: float, longer: float) -> None:
    thread, grade = thread_named(name), grade_named("8.8")
    dead_mm = DEAD_PITCHES * thread.pitch_mm
    one = links_of(thread, grade, "aluminium", engaged_mm + dead_mm)
    other = links_of(thread, grade, "aluminium", engaged_mm * longer + dead_mm)
    assert other.hole_strips_n == pytest.approx(one.hole_strips_n * longer)
    assert other.bolt_strips_n == pytest.approx(one.bolt_strips_n * longer)
    assert one.bolt_breaks_n == other.bolt_breaks_n == breaking_load_n(thread, grade)


def test_an_m8_in_aluminium_with_12_mm_strips_the_hole_and_with_18_mm_breaks_the_bolt() -> None:
    bolt, grade = thread_named("M8"), grade_named("8.8")
    assert links_of(bolt, grade, "aluminium", 12).weakest == "the tapped hole strips"
    assert links_of(bolt, grade, "aluminium", 18).weakest == "the bolt breaks"


def test_a_soft_bolt_in_hard_steel_strips_its_own_thread() -> None:
    # 4.8 has 420 MPa and its thread shears inside the hole's; S235 has 360 MPa, but shears further out.
    assert links_of(thread_named("M8"), grade_named("4.8"), "steel", 4).weakest == "the thread of the bolt strips"


def test_thread_that_only_just_meets_carries_next_to_nothing() -> None:
    links = links_of(thread_named("M8"), grade_named("8.8"), "steel", 0.8)
    assert links.hole_strips_n < 1
    assert not links.holds(1000)


def test_of_equals_the_bolt_is_said_to_give_first() -> None:
    assert Links(10.0, 10.0, 10.0).weakest is Link.BOLT_BREAKS


@pytest.mark.parametrize("typed", ["wood", "", "steel plate", "x" * 90])
def test_a_hole_in_what_is_not_known_is_refused_with_what_is(typed: str) -> None:
    with pytest.raises(NoSuchHole, match=r"choose one of steel, cast iron, aluminium\.$"):
        hole_material(typed)


@pytest.mark.parametrize("engaged_mm", [0, -3])
def test_no_engaged_thread_is_no_question(engaged_mm: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        links_of(thread_named("M8"), grade_named("8.8"), "steel", engaged_mm)


@given(st.floats(0.35, 3), st.floats(1, 40), st.floats(3, 40), st.sampled_from([55.0, 60.0]))
@settings(max_examples=60, deadline=None)
def test_the_engaged_length_is_recovered_from_the_area(
    pitch: float, engaged: float, size: float, flanks: float
) -> None:
    for area in (shear_area_of_hole_mm2, shear_area_of_bolt_mm2):
        for_one = area(pitch, 1.0, size, size - 0.1 * pitch if area is shear_area_of_hole_mm2 else size, flanks)
        whole = area(pitch, engaged, size, size - 0.1 * pitch if area is shear_area_of_hole_mm2 else size, flanks)
        assert whole / for_one == pytest.approx(engaged)


@pytest.mark.parametrize("sizes", [(0, 1, 8, 7), (1, 0, 8, 7), (1, 1, 0, 7), (1, 1, 8, 12)])
def test_sizes_that_make_no_thread_are_refused(sizes: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        shear_area_of_hole_mm2(*sizes)
