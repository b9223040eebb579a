"""Threads that are taken for each other come out of the sums: who starts in whose hole, and where it binds."""

import math

import pytest

from fingertight.tighten.threads.limits import bolt_limits, nut_limits
from fingertight.tighten.threads.lookalikes import Meets, look_alikes, meeting, usual_weights
from fingertight.tighten.threads.names import thread_named, threads


def _meets(bolt: str, hole: str) -> Meets:
    return meeting(thread_named(bolt), thread_named(hole)).ends


# Pairs that mechanics mix up: common practice, no source. None of them is written down in the code.
@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("M6", "1/4-20 UNC"),
        ("M8", "5/16-18 UNC"),
        ("M5", "#10-24 UNC"),
        ("M5", "#10-32 UNF"),
        ("M10x1", "G1/8"),
        ("1/4-20 BSW", "1/4-20 UNC"),
        ("M12", "1/2-13 UNC"),
        ("M10", "3/8-16 UNC"),
        ("M8", "M8x1"),
    ],
)
def test_the_pairs_that_mechanics_mix_up_come_out_both_ways(one: str, other: str) -> None:
    assert other in {alike.thread.name for alike in look_alikes(thread_named(one), most=20)}
    assert one in {alike.thread.name for alike in look_alikes(thread_named(other), most=20)}


@pytest.mark.parametrize(
    ("one", "other"), [("M6", "M8"), ("M6", "M10"), ("M5", "1/4-20 UNC"), ("M8", "3/8-16 UNC"), ("G1/4", "M8")]
)
def test_sizes_that_nobody_mixes_up_do_not_come_out(one: str, other: str) -> None:
    assert other not in {alike.thread.name for alike in look_alikes(thread_named(one), most=20)}


@pytest.mark.parametrize(
    ("bolt", "hole", "ends"),
    [
        ("M6", "1/4-20 UNC", Meets.BINDS),
        ("1/4-20 UNC", "M6", Meets.DOES_NOT_START),
        ("5/16-18 UNC", "M8", Meets.BINDS),
        ("#10-24 UNC", "M5", Meets.BINDS),
        ("#10-32 UNF", "M5", Meets.GOES_IN),
        ("G1/8", "M10x1", Meets.BINDS),
        ("1/4-20 BSW", "1/4-20 UNC", Meets.GOES_IN),
        ("M6", "M6", Meets.FITS),
        ("M6", "M8", Meets.DROPS_IN),
        ("M8", "M6", Meets.DOES_NOT_START),
    ],
)
def test_a_bolt_in_a_wrong_hole_ends_as_mechanics_know_it(bolt: str, hole: str, ends: Meets) -> None:
    assert _meets(bolt, hole) == ends


def test_the_turns_are_the_play_over_what_the_pitches_drift_apart() -> None:
    # By hand: M6 bolt 5.212 to 5.324 mm (ISO 965-2), 1/4-20 hole 0.2175 to 0.2224 in (ASME B1.1), pitch 1 and 1.27 mm:
    # (5.5245 − 5.324) / (0.27 · 1.7321) = 0.43 and (5.6490 − 5.212) / 0.46765 = 0.93 turns.
    turns = meeting(thread_named("M6"), thread_named("1/4-20 UNC")).turns
    assert turns == pytest.approx((0.43, 0.93), abs=0.01)


def test_threads_of_one_pitch_never_bind_by_pitch() -> None:
    met = meeting(thread_named("1/4-20 BSW"), thread_named("1/4-20 UNC"))
    assert met.turns[1] == math.inf


def test_a_bolt_always_fits_its_own_hole_and_a_wrong_one_is_never_said_to_fit() -> None:
    usual = [thread for name, thread in threads().items() if usual_weights()[name] >= 1]
    for bolt in usual:
        for hole in usual:
            met = meeting(bolt, hole)
            assert (met.ends is Meets.FITS) is (bolt == hole)
            assert met.turns[0] <= met.turns[1]
            assert met.play_mm[0] < met.play_mm[1]


def test_what_does_not_start_has_no_room_by_its_limits() -> None:
    # Checked against the limits themselves: with play on the flanks and at crest and root it would start.
    for bolt in (thread_named(name) for name in ("M5", "M6", "M8", "M10", "1/4-20 UNC", "3/8-16 UNC")):
        for hole in threads().values():
            met = meeting(bolt, hole)
            if met.ends is Meets.DOES_NOT_START:
                outside, inside = bolt_limits(bolt), nut_limits(hole)
                flanks = inside.pitch_mm[1] - outside.pitch_mm[0]
                crest = inside.major_min_mm + 0.1 * hole.pitch_mm - outside.major_mm[0]
                assert min(flanks, crest) <= 0 or met.turns[1] < 0.25, (bolt.name, hole.name)


def test_how_usual_a_thread_is_is_said_of_threads_that_exist() -> None:
    assert set(usual_weights()) == set(threads())
    assert max(usual_weights().values()) == 100
    assert min(usual_weights().values()) > 0
    assert len(set(usual_weights().values())) > 5
