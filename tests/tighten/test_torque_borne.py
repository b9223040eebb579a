"""A bolt in its place: how it bears any torque at all, and what gives first."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.threads.names import thread_named
from fingertight.tighten.torque.borne import Bolted, bolted, borne, borne_torque
from fingertight.tighten.torque.friction import Band, surface_named, surfaces
from fingertight.tighten.torque.strength import Strain, grade_named
from fingertight.tighten.torque.stripping import Link

STRIPS = (Link.HOLE_STRIPS, Link.BOLT_STRIPS)


def an_m8(grade: str = "8.8", surface: str = "oiled", head: str = "hex", **hole: object) -> Bolted:
    known = grade_named(grade)
    state = surface_named(surface, known.material)
    return bolted(thread_named("M8"), known, state, head, **hole)  # type: ignore[arg-type]


a_bolt = st.builds(
    lambda name, grade, surface, into, engaged: bolted(
        thread_named(name), grade_named(grade), surfaces()[surface], into=into, engaged_mm=engaged
    ),
    st.sampled_from(["M5", "M6", "M8", "M8x1", "M10", "1/4-20", "3/8-24"]),
    st.sampled_from(["4.6", "8.8", "10.9", "12.9", "brass"]),
    st.sampled_from(["dry", "oiled", "paste"]),
    st.sampled_from(["", "steel", "cast iron", "aluminium"]),
    st.floats(3, 30),
)


@given(a_bolt, st.floats(0.01, 1e9))
@settings(max_examples=200, deadline=None)
def test_whatever_the_torque_what_it_bears_and_what_it_is_said_to_do_agree(bolt: Bolted, set_nm: float) -> None:
    under = borne_torque(bolt, set_nm)
    pulled, limit_n = under.preload, bolt.limit_n
    assert pulled.low < pulled.usual < pulled.high
    # Nothing is said against it exactly where even a slippery bolt stays under what bolt and hole bear.
    is_well = under.strain is Strain.WITHIN and under.strips is None
    assert is_well == (pulled.high <= limit_n * (1 + 1e-9))
    if under.strips is not None:
        assert bolt.links is not None
        assert under.strips in STRIPS
        assert bolt.links.weakest_n < pulled.high
        assert under.strips_usually == (bolt.links.weakest_n * (1 + 1e-9) < pulled.usual)


@given(a_bolt)
@settings(max_examples=100, deadline=None)
def test_the_most_torque_and_the_usual_preload_are_borne_where_there_is_anything_to_tighten(bolt: Bolted) -> None:
    if bolt.most_nm > 0:
        most = borne_torque(bolt, bolt.most_nm * 0.9999)
        assert (most.strain, most.strips) == (Strain.WITHIN, None)
    assert bolt.usual_n <= bolt.aimed_n <= 0.75 * bolt.proof_n * (1 + 1e-9)


def test_a_thread_that_gives_before_the_bolt_is_overdone_is_named_and_one_that_gives_after_it_is_not() -> None:
    # The hole holds 12.7, 20.0 and 27.3 kN (FED-STD-H28/2 areas, 108 MPa), the bolt 21.2 kN (ISO 898-1, table 5).
    pull = Band(15_300, 18_900, 24_800)
    found = [borne(an_m8(into="aluminium", engaged_mm=engaged), pull) for engaged in (8, 12, 16)]
    assert [one.strips for one in found] == [Link.HOLE_STRIPS, Link.HOLE_STRIPS, None]
    assert [one.strips_usually for one in found] == [True, False, False]
    assert {one.strain for one in found} == {Strain.OVER_WHEN_SLIPPERY}


def test_a_hole_in_which_no_thread_carries_strips_under_any_pull() -> None:
    under = borne_torque(an_m8(into="steel", engaged_mm=0.5), 0.1)
    assert under.strips_usually
    assert an_m8(into="steel", engaged_mm=0.5).most_nm == 0


@pytest.mark.parametrize("head", ["countersunk", "button"])
def test_a_head_that_bears_less_than_its_thread_breaks_earlier(head: str) -> None:
    # ISO 10642, ISO 7380-1 (from memory): 80 % of 29,200 N, the breaking load of M8, 8.8 (ISO 898-1, table 4).
    whole, weak = an_m8(), an_m8(head=head)
    assert weak.breaks_n == pytest.approx(0.8 * 29_200, rel=0.005)
    pull = Band(20_000, 24_500, 26_000)
    assert (borne(whole, pull).strain, borne(weak, pull).strain) == (Strain.OVER, Strain.BREAKS)
    in_steel = an_m8(head=head, into="steel", engaged_mm=12).links
    assert in_steel is not None
    assert in_steel.bolt_breaks_n == pytest.approx(weak.breaks_n)


def test_only_stainless_steel_without_paste_seizes() -> None:
    states = [(grade, surface) for grade in ("8.8", "A2-70") for surface in ("dry", "oiled", "paste")]
    assert [one for one in states if an_m8(*one).may_seize] == [("A2-70", "dry"), ("A2-70", "oiled")]
