"""Torque and preload against every published value of tests/outside/torque.toml, and each formula there and back."""

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.quantity import converted, in_house
from fingertight.tighten.threads.names import INCH_MM, thread_named
from fingertight.tighten.torque.friction import bearing_under, published_nut_factor
from fingertight.tighten.torque.preload import (
    Lever,
    Twist,
    arm_mm,
    lever_of,
    linear_arm_mm,
    linear_torque_nm,
    nut_factor_of,
    preload_at_share_of_yield_n,
    preload_n,
    short_torque_nm,
    stress_while_tightening_mpa,
    torque_nm,
)
from fingertight.tighten.torque.strength import grade_named, proof_load_n, strength_of
from fingertight.tighten.torque.wrench import may_be_off, setting_nm

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "torque.toml").read_text("utf-8"))
VALUES: list[dict[str, Any]] = OUTSIDE["value"]
Case = dict[str, Any]
CLASSES = ("8.8", "10.9", "12.9")


def _unit(asked: Case) -> float | list[float]:
    """Conversions; pressure, volume and power are made of the lengths, forces and torques that the project knows."""
    ((name, size),) = asked["inputs"].items()
    if name == "pressure_kgf_cm2":
        return in_house(size, "kgf·m") / in_house(1, "in") ** 2 * INCH_MM**2 * 1e4 / 1000
    if name == "volume_in3":
        return in_house(size, "in") ** 3 / 1000
    if name == "power_hp":
        return in_house(550 * size, "lb·ft")
    unit = {"torque_lbf_ft": "lb·ft", "torque_lbf_in": "lb·in", "torque_kgf_m": "kgf·m"}[name]
    target = {"N*m": "N·m", "lbf*ft": "lb·ft"}[asked["unit"]]
    if isinstance(size, list):
        return [converted(one, unit, target) for one in size]
    return converted(size, unit, target)


def _extension(asked: Case) -> float:
    given_sizes = asked["inputs"]
    (name,) = (name for name in given_sizes if name.startswith("torque_wanted"))
    unit = {"torque_wanted_lbf_in": "lb·in", "torque_wanted_lbf_ft": "lb·ft"}[name]
    lengths = (given_sizes[length] * INCH_MM for length in ("wrench_length_in", "extension_in"))
    set_nm = setting_nm(in_house(given_sizes[name], unit), *lengths, given_sizes["angle_deg"])
    return converted(set_nm, "N·m", unit)


def _vdi(asked: Case) -> float:
    """Preload [kN] or torque [N·m] at 90 % of yield, on the bearing face that is given."""
    sizes = asked["inputs"]
    thread, rubs = thread_named(sizes["thread"]), sizes["friction"]
    yield_mpa = strength_of(grade_named(sizes["property_class"]), thread).yield_mpa
    force_n = preload_at_share_of_yield_n(thread, yield_mpa, sizes["use_of_yield"], rubs)
    if asked["unit"] == "kN":
        return force_n / 1000
    lever = lever_of(thread, (sizes["bearing_outer_mm"] + sizes["hole_mm"]) / 2)
    return linear_torque_nm(force_n, lever, rubs, rubs)


def _table_nm(name: str, mark: str, rubs: float, twist: Twist) -> float:
    """What a table of 90 % of yield has for this bolt, on the bearing face of our own table."""
    thread = thread_named(name)
    force_n = preload_at_share_of_yield_n(thread, strength_of(grade_named(mark), thread).yield_mpa, 0.9, rubs, twist)
    return linear_torque_nm(force_n, lever_of(thread, bearing_under(thread).middle_mm), rubs, rubs)


def _shigley(asked: Case) -> float:
    sizes = asked["inputs"]
    across, force_n = sizes["diameter_in"] * INCH_MM, in_house(sizes["preload_lbf"], "lbf")
    if "nut_factor" in sizes:
        return converted(short_torque_nm(force_n, across, sizes["nut_factor"]), "N·m", "lb·in")
    minor = math.sqrt(4 * sizes["minor_area_in2"] / math.pi) * INCH_MM
    lever = Lever(
        across, INCH_MM / sizes["threads_per_in"], (across + minor) / 2, sizes["collar_mean_dia_factor"] * across
    )
    return converted(torque_nm(force_n, lever, sizes["friction_thread"], sizes["friction_collar"]), "N·m", "lb·in")


def _sae(asked: Case) -> float:
    sizes = asked["inputs"]
    thread = thread_named(sizes["thread"])
    if "share_of_proof" in sizes:
        force_n = sizes["share_of_proof"] * proof_load_n(thread, grade_named(f"SAE {sizes['grade']}"))
        return converted(force_n, "N", "lbf")
    set_nm = short_torque_nm(in_house(sizes["clamp_lbf"], "lbf"), thread.diameter_mm, sizes["nut_factor"])
    return converted(set_nm, "N·m", "lb·ft")


def computed(asked: Case) -> float | list[float]:
    """What this project answers to the question of one published value, in its unit."""
    name = asked["id"]
    if name.startswith(("unit-", "torque-", "army-")):
        return _unit(asked)
    if name.startswith("extension-"):
        return _extension(asked)
    if name.startswith("shigley-"):
        return _shigley(asked)
    if name.startswith("nut-factor-"):
        return published_nut_factor(asked["inputs"]["finish"])
    if name.startswith("g2-"):
        return _sae(asked)
    if name.startswith("vdi-"):
        return _vdi(asked)
    if name.startswith("old-"):
        sizes = asked["inputs"]
        return _table_nm(sizes["thread"], sizes["property_class"], sizes["friction"], Twist.ELASTIC)
    assert name.startswith("iso6789-"), f"nothing here answers {name}"
    return may_be_off(asked["inputs"]["torque_Nm"]) * asked["inputs"]["torque_Nm"]


@pytest.mark.parametrize("asked", VALUES, ids=[value["id"] for value in VALUES])
def test_a_torque_comes_out_as_published(asked: Case) -> None:
    # Each value names its source in tests/outside/torque.toml.
    limits = asked["tolerance"]
    expected = pytest.approx(asked["expect"], abs=limits.get("abs") or 1e-9, rel=limits.get("rel", 0))
    assert computed(asked) == expected, f"{asked['question']} {asked['source']}"


def test_every_published_question_is_asked_once() -> None:
    assert len({value["id"] for value in VALUES}) == len(VALUES) == 45


@pytest.mark.parametrize("case", OUTSIDE["vdi_fine"], ids=lambda case: f"{case['thread']} at {case['friction']}")
def test_the_whole_published_table_of_fine_threads_comes_out(case: Case) -> None:
    # VDI 2230 (2001) as reprinted in a dealer's catalogue, M8x1 to M24x2: 162 figures, rounded to 2 or 3 digits.
    thread, rubs = thread_named(case["thread"]), case["friction"]
    for mark, force_kn, set_nm in zip(CLASSES, case["preload_kn"], case["torque_nm"], strict=True):
        yield_mpa = strength_of(grade_named(mark), thread).yield_mpa
        assert preload_at_share_of_yield_n(thread, yield_mpa, 0.9, rubs) / 1000 == pytest.approx(force_kn, rel=0.004)
        assert _table_nm(case["thread"], mark, rubs, Twist.YIELDING) == pytest.approx(set_nm, rel=0.011)


@pytest.mark.parametrize("case", OUTSIDE["older_table"], ids=lambda case: case["thread"])
def test_the_older_workshop_table_comes_out_with_the_twist_kept_elastic(case: Case) -> None:
    # A crane manual, 8.8, 10.9, 12.9 at friction 0.14, M4 to M24: 36 figures, many of two digits.
    for mark, set_nm in zip(CLASSES, case["torque_nm"], strict=True):
        assert _table_nm(case["thread"], mark, 0.14, Twist.ELASTIC) == pytest.approx(set_nm, rel=0.026)


def test_the_same_m8_at_the_same_friction_has_25_in_the_older_table_and_27_in_the_present_one() -> None:
    # 27.3 N·m: VDI 2230 (2003), coarse threads, 90 % of yield, friction 0.14, from memory; 25: the crane manual above.
    assert _table_nm("M8", "8.8", 0.14, Twist.YIELDING) == pytest.approx(27.3, rel=0.01)
    assert _table_nm("M8", "8.8", 0.14, Twist.ELASTIC) == pytest.approx(25, rel=0.01)


a_lever = st.builds(
    lambda size, pitch, bearing, flanks: Lever(size, size * pitch, size * (1 - 0.65 * pitch), size * bearing, flanks),
    st.floats(2, 40),
    st.floats(0.06, 0.22),
    st.floats(1.1, 1.9),
    st.sampled_from([27.5, 30.0]),
)
rubbing = st.floats(0.02, 0.5)
a_force = st.floats(100, 500_000)


@given(a_force, a_lever, rubbing, rubbing)
@settings(max_examples=60, deadline=None)
def test_preload_and_torque_are_recovered_from_each_other(
    force: float, lever: Lever, thread: float, head: float
) -> None:
    assert preload_n(torque_nm(force, lever, thread, head), lever, thread, head) == pytest.approx(force)


@given(a_force, st.floats(2, 40), st.floats(0.05, 0.5))
@settings(max_examples=40, deadline=None)
def test_each_unknown_of_the_short_form_is_recovered_from_the_rest(force: float, size: float, factor: float) -> None:
    set_nm = short_torque_nm(force, size, factor)
    assert set_nm * 1000 / (factor * size) == pytest.approx(force)
    assert nut_factor_of(set_nm, force, size) == pytest.approx(factor)
    assert set_nm * 1000 / (factor * force) == pytest.approx(size)


@given(st.sampled_from(["M5", "M8", "M8x1", "M20", "1/4-20", "1/2-12 BSW"]), st.floats(200, 1200), rubbing)
@settings(max_examples=60, deadline=None)
def test_the_share_of_yield_is_recovered_from_its_preload(name: str, yield_mpa: float, rubs: float) -> None:
    thread = thread_named(name)
    for share in (0.5, 0.9):
        force_n = preload_at_share_of_yield_n(thread, yield_mpa, share, rubs)
        assert stress_while_tightening_mpa(force_n, thread, rubs) / yield_mpa == pytest.approx(share)


@given(a_lever, st.floats(0.02, 0.2), st.floats(0.02, 0.2))
@settings(max_examples=60, deadline=None)
def test_the_linear_form_stays_within_a_hundredth_or_two_of_the_exact_one(
    lever: Lever, thread: float, head: float
) -> None:
    exact, linear = arm_mm(lever, thread, head), linear_arm_mm(lever, thread, head)
    assert linear < exact
    assert linear == pytest.approx(exact, rel=0.025)


def test_without_friction_a_torque_only_lifts_along_the_thread() -> None:
    # Work: 2 π T = F P.
    lever = Lever(8, 1.25, 7.188, 10.3)
    assert torque_nm(10_000, lever, 0, 0) * 2 * math.pi == pytest.approx(10_000 * 1.25 / 1000)


def test_a_whitworth_thread_rubs_a_little_less_than_a_60_degree_one() -> None:
    steep, flat = (Lever(12.7, 2.117, 11.34, 16, half) for half in (30.0, 27.5))
    assert arm_mm(flat, 0.12, 0.12) < arm_mm(steep, 0.12, 0.12)


@pytest.mark.parametrize("sizes", [(0, 8, 0.2), (-1, 8, 0.2), (100, 0, 0.2), (100, 8, 0), (math.nan, 8, 0.2)])
def test_sizes_that_cannot_be_are_refused(sizes: tuple[float, float, float]) -> None:
    for formula in (short_torque_nm, nut_factor_of):
        with pytest.raises(ValueError, match="above 0"):
            formula(*sizes)


def test_friction_that_cannot_be_is_refused() -> None:
    lever = Lever(8, 1.25, 7.188, 10.3)
    for rubs in (-0.1, 40.0):
        with pytest.raises(ValueError, match="friction"):
            torque_nm(1000, lever, rubs, 0.1)
    for form in (torque_nm, preload_n, linear_torque_nm):
        with pytest.raises(ValueError, match="above 0"):
            form(0, lever, 0.1, 0.1)
    with pytest.raises(ValueError, match="0 or more"):
        linear_arm_mm(lever, 0.1, -0.1)
    with pytest.raises(ValueError, match="0 or more"):
        stress_while_tightening_mpa(-1, thread_named("M8"), 0.1)
    with pytest.raises(ValueError, match="0 or more"):
        preload_at_share_of_yield_n(thread_named("M8"), 640, 0.9, -0.1)
