"""How far a job is, how far it should be, and what that is in lessons."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.ledger import Ledger
from fingertight.lesson.pace import Pace, pace_of, share_done, share_planned
from tests.ledger.bench import Bench, Said, heard, plan_of, replay
from tests.ledger.jobs import ENGINE, honest, logs
from tests.order.machines import Machine, strippable

PLAN = plan_of(ENGINE)
PARTS = """
[[part]]
id = "case"
stays = true
minutes = 99.0
[[part]]
id = "lid"
minutes = 6.0
[[part]]
id = "shoe"
minutes = 3.0
places = ["left", "right", "rear"]
[[part]]
id = "pin"
"""


def done(bench: Bench) -> float:
    return share_done(bench.ledger.state)


def test_a_machine_nobody_touched_has_nothing_done_and_does_not_pass_for_built_back() -> None:
    assert done(Bench(PARTS)) == 0.0


def test_each_part_weighs_its_minutes_off_and_again_on() -> None:
    bench = Bench(PARTS)
    bench.off("lid")
    assert done(bench) == 6 / 20
    bench.on("lid")
    assert done(bench) == 12 / 20


def test_a_part_whose_file_gives_no_minutes_weighs_one() -> None:
    bench = Bench(PARTS)
    bench.off("pin")
    assert done(bench) == 1 / 20


def test_the_pieces_of_a_part_share_its_minutes() -> None:
    bench = Bench(PARTS)
    bench.off("shoe", place="left")
    assert done(bench) == 1 / 20
    bench.off("shoe", place="rear")
    bench.on("shoe", place="left")
    assert done(bench) == 3 / 20


def test_what_takes_longer_to_fit_weighs_more_on_the_way_back() -> None:
    bench = Bench('[[part]]\nid = "ring"\nminutes = 1.0\nminutes_on = 3.0\n')
    bench.off("ring")
    assert done(bench) == 0.25
    bench.on("ring")
    assert done(bench) == 1.0


def test_a_part_that_must_come_off_again_counts_as_off() -> None:
    bench = Bench(PARTS)
    bench.off("lid")
    bench.on("lid")
    bench.off("lid")
    assert done(bench) == 6 / 20


def test_an_absent_part_is_left_out_of_the_whole() -> None:
    bench = Bench(PARTS)
    bench.say("absent", part="lid")
    bench.off("pin")
    assert done(bench) == 1 / 8


def test_a_part_that_stays_is_left_out_even_when_somebody_took_it_off() -> None:
    bench = Bench(PARTS)
    bench.off("case")
    assert done(bench) == 0.0


def test_a_job_said_to_be_finished_with_half_of_it_untouched_is_half_done() -> None:
    bench = Bench('[[part]]\nid = "lid"\n[[part]]\nid = "pin"\n')
    bench.off("lid")
    bench.on("lid")
    assert bench.finish()
    assert done(bench) == 0.5


def test_a_machine_with_nothing_to_move_is_done() -> None:
    assert done(Bench('[[part]]\nid = "case"\nstays = true\n')) == 1.0
    assert done(Bench('[[part]]\nid = "lid"\nminutes = 0.0\n')) == 1.0


def test_an_undo_takes_the_work_back() -> None:
    bench = Bench(PARTS)
    bench.undo(bench.off("lid"))
    assert done(bench) == 0.0


@settings(deadline=None, max_examples=60)
@given(strippable(8, fit_after=True), st.integers(0, 10_000))
def test_an_honest_job_is_half_done_at_its_turn_and_wholly_at_its_end(machine: Machine, seed: int) -> None:
    plan, log = honest(machine, seed)
    ledger, shares = Ledger(plan), [0.0]
    for said in log:
        ledger.hear(said)
        shares.append(share_done(ledger.state))
    assert ledger.state.finished
    assert shares[-1] == 1.0
    assert shares == sorted(shares)
    first_on = next(number for number, said in enumerate(log) if said["kind"] == "on")
    assert math.isclose(shares[first_on], 0.5)


@settings(deadline=None, max_examples=60)
@given(logs())
def test_whatever_is_said_the_share_is_from_nothing_to_all(log: list[Said]) -> None:
    share = share_done(heard(PLAN, log).state)
    assert 0.0 <= share <= 1.0
    assert share == share_done(replay(PLAN, log).state)


@pytest.mark.parametrize(
    ("before", "elapsed", "planned"),
    [(0, 0, 0.0), (0, 45, 0.125), (1, 45, 0.375), (3, 90, 1.0), (4, 0, 1.0), (9, 10, 1.0), (-1, 0, 0.0)],
)
def test_the_plan_is_spread_evenly_over_the_lessons(before: int, elapsed: float, planned: float) -> None:
    assert share_planned(before, elapsed, 90, 4) == planned


def test_in_the_break_after_a_lesson_nothing_more_is_planned() -> None:
    assert share_planned(0, 400, 90, 4) == 0.25
    assert share_planned(1, -5, 90, 4) == 0.25


@pytest.mark.parametrize(("lesson", "lessons"), [(0, 4), (-90, 4), (math.nan, 4), (math.inf, 4), (90, 0)])
def test_no_lesson_and_a_lesson_without_length_are_refused(lesson: float, lessons: int) -> None:
    with pytest.raises(ValueError, match=r"A job has 1 lesson or more|A lesson takes more than 0 minutes"):
        share_planned(0, 10, lesson, lessons)


def test_minutes_that_are_no_number_are_refused() -> None:
    with pytest.raises(ValueError, match=r"The minutes since the lesson began are no number\."):
        share_planned(0, math.nan, 90, 4)


@pytest.mark.parametrize(
    ("lessons", "sentence"),
    [
        (0.0, "on time"),
        (0.25, "on time"),
        (-0.25, "on time"),
        (0.26, "a quarter of a lesson ahead"),
        (-0.375, "half a lesson behind"),
        (-0.5, "half a lesson behind"),
        (0.75, "three quarters of a lesson ahead"),
        (-1.0, "1 lesson behind"),
        (-1.25, "1¼ lessons behind"),
        (1.5, "1½ lessons ahead"),
        (1.8, "1¾ lessons ahead"),
        (-1.9, "2 lessons behind"),
        (12.0, "12 lessons ahead"),
    ],
)
def test_a_pace_is_said_in_quarters_of_a_lesson(lessons: float, sentence: str) -> None:
    assert Pace(lessons).sentence == sentence
    assert Pace(lessons).is_behind == sentence.endswith("behind")


def test_a_job_with_less_done_than_planned_is_behind_by_so_many_lessons() -> None:
    assert pace_of(0.25, 0.5, 6) == Pace(-1.5)
    assert pace_of(0.5, 0.25, 6).sentence == "1½ lessons ahead"
    # In a computer 0.8 - 0.75 is a hair more than 0.05, and yet a quarter of five lessons.
    assert pace_of(0.8, 0.75, 5).sentence == "on time"
    with pytest.raises(ValueError, match=r"A job has 1 lesson or more, not 0\."):
        pace_of(0.5, 0.5, 0)


@given(st.floats(0, 1), st.floats(0, 1), st.integers(1, 40))
def test_the_same_way_ahead_is_said_as_it_is_behind(one: float, other: float, lessons: int) -> None:
    there, back = pace_of(one, other, lessons), pace_of(other, one, lessons)
    assert there.sentence.replace("ahead", "behind") == back.sentence.replace("ahead", "behind")
    assert not (there.is_behind and back.is_behind)
