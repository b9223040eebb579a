"""The film of a demonstration gets its chapters from the log: each move where it is done, whatever the film lacks."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.lesson.film.chapters import Chapters, chapters_of
from fingertight.lesson.film.clock import Clock, Mark, NotLinedUp, at_words, film_time, film_words, read_mark
from tests.ledger.bench import Bench

PUMP = """
[[part]]
id = "body"
stays = true
[[part]]
id = "cover"
[[part]]
id = "valve"
behind = ["cover"]
places = ["inlet", "outlet"]
[[part]]
id = "rod"
behind = ["cover"]
"""
NINE = 1_772_697_600.0  # 2026-03-05T09:00:00+01:00; the bench's entries follow a minute apart


def shown(found: Chapters) -> list[tuple[str, float, float]]:
    return [(one.title, one.starts_s, one.ends_s) for one in found.chapters]


def film_from(minute: float) -> Clock:
    """A film that was started so many minutes after nine."""
    return Clock.of(Mark(0.0, NINE + 60 * minute))


def test_a_chapter_begins_when_the_move_before_was_done_and_ends_with_its_own() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.say("help", state="asked")
    bench.off("rod", "2")
    bench.on("rod", "2")
    assert shown(chapters_of(bench.ledger, film_from(0.5))) == [
        ("Cover off", 0, 30),
        ("Rod off", 30, 150),
        ("Rod on", 150, 210),
    ]


def test_what_was_struck_through_is_as_if_it_never_was() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    slip = bench.off("rod", "2")
    bench.say("undo", entry=slip)
    bench.off("valve", "3", place="inlet")
    assert shown(chapters_of(bench.ledger, film_from(0))) == [("Cover off", 0, 60), ("Valve (inlet) off", 60, 240)]


def test_a_move_whose_flag_the_instructor_set_aside_is_no_example_to_follow() -> None:
    bench = Bench(PUMP)
    early = bench.off("rod", "2")
    bench.say("aside", entry=early, flag="out-of-turn", reason="the rod was cut", teacher=True)
    bench.off("cover", "1")
    assert shown(chapters_of(bench.ledger, film_from(0))) == [("Cover off", 60, 180)]


def test_a_student_sets_nothing_aside() -> None:
    bench = Bench(PUMP)
    early = bench.off("rod", "2")
    bench.say("aside", entry=early, flag="out-of-turn", reason="me too")
    assert [one.part for one in chapters_of(bench.ledger, film_from(0)).chapters] == ["rod"]


def test_of_a_part_that_came_off_twice_the_last_time_is_shown() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.on("cover", "1")
    bench.off("cover", "1")
    assert shown(chapters_of(bench.ledger, film_from(0))) == [("Cover on", 60, 120), ("Cover off", 120, 180)]


def test_moves_before_and_after_the_film_are_left_out_and_said() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.off("rod", "2")
    bench.off("valve", "3", place="inlet")
    bench.off("valve", "4", place="outlet")
    found = chapters_of(bench.ledger, film_from(1.5), length_s=45)
    assert shown(found) == [("Rod off", 0, 30)]
    assert found.says == (
        "The film begins after its log: 1 move comes before its start.",
        "The film is shorter than its log: 2 moves come after its end at 0:45.",
    )


def test_two_pieces_of_one_moment_share_its_time() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    for place in ("inlet", "outlet"):
        bench.say("off", part="valve", place=place, at="2026-03-05T09:03:00+01:00")
    assert shown(chapters_of(bench.ledger, film_from(0))) == [
        ("Cover off", 0, 60),
        ("Valve (inlet) off", 60, 120),
        ("Valve (outlet) off", 120, 180),
    ]


def test_a_film_that_was_cut_anew_needs_one_new_mark_and_every_chapter_follows() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.off("rod", "2")
    whole = chapters_of(bench.ledger, Clock.of(read_mark("2:00=cover", bench.ledger)))
    cut = chapters_of(bench.ledger, Clock.of(read_mark("0:20=cover", bench.ledger)))
    assert shown(whole)[1] == ("Rod off", 120, 180)
    assert shown(cut)[1] == ("Rod off", 20, 80)
    assert [one.move for one in whole.chapters] == [one.move for one in cut.chapters]


def test_the_card_of_a_move_finds_where_it_is_done() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.off("valve", "3", place="outlet")
    found = chapters_of(bench.ledger, film_from(0))
    assert [seen and seen.ends_s for seen in (found.of("valve", "off"), found.of("valve", "off", "inlet"))] == [
        120,
        None,
    ]
    assert found.of("cover", "on") is None


def test_two_marks_stretch_a_film_and_a_large_stretch_is_said() -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    bench.off("rod", "2")
    marks = [read_mark(typed, bench.ledger) for typed in ("0:10=cover", "0:40=rod")]
    found = chapters_of(bench.ledger, Clock.of(*marks))
    assert shown(found) == [("Cover off", 0, 10), ("Rod off", 10, 40)]
    assert found.says[0].startswith("By the two marks the film runs 0.5 times as fast as the log. If it was cut ")


def test_marks_that_turn_time_round_are_refused() -> None:
    with pytest.raises(NotLinedUp, match="The marks 0:10 and 0:05 of the film are not in the order of the log"):
        Clock.of(Mark(10, NINE), Mark(5, NINE + 60))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0:42", "“0:42” is no mark; write FILM=LOG, for example 0:42=2026-03-05T09:00:00+01:00."),
        ("soon=cover", "“soon” is no time of a film; write it as 12:34, 1:02:03.5 or, in seconds, 754."),
        ("1:75=cover", "“1:75” has 60 or more minutes or seconds after a colon; write it as 1:02:03.5."),
        ("1=2026-03-05T09:00:00", "“2026-03-05T09:00:00” is not a time with its offset; write it as "),
        (
            "1=covr",
            "“covr” is neither a time nor a move; write 2026-03-05T09:00:00+01:00, a part by its id, or on:PART",
        ),
        ("1=rod", "In this log Rod never comes off. Name another move."),
        ("1=on:cover", "In this log Cover never goes on. Name another move."),
    ],
)
def test_a_mark_that_cannot_be_is_answered_with_a_sentence(typed: str, said: str) -> None:
    bench = Bench(PUMP)
    bench.off("cover", "1")
    with pytest.raises(NotLinedUp) as refusal:
        read_mark(typed, bench.ledger)
    assert str(refusal.value).startswith(said)


MOVES = st.lists(
    st.tuples(st.sampled_from(["cover", "rod"]), st.sampled_from(["off", "on"]), st.integers(0, 5_000_000)), max_size=12
)


@given(MOVES, st.integers(0, 4_000_000), st.none() | st.integers(1, 4_000_000), st.sampled_from([1.0, 1.001, 0.25]))
def test_whatever_the_log_holds_chapters_follow_each_other_inside_the_film(
    moves: list[tuple[str, str, int]], film_ms: int, length_ms: int | None, rate: float
) -> None:
    bench = Bench(PUMP)
    for number, (part, kind, ms) in enumerate(moves):
        bench.ledger.hear({"id": str(number), "kind": kind, "at": at_words(NINE + ms / 1000), "by": "s", "part": part})
    clock = Clock(Mark(film_ms / 1000, NINE + 1000), rate)
    chapters = chapters_of(bench.ledger, clock, None if length_ms is None else length_ms / 1000).chapters
    for one in chapters:
        assert 0 <= one.starts_s < one.ends_s
        assert round(one.ends_s * 1000) / 1000 == one.ends_s
        assert length_ms is None or one.ends_s <= length_ms / 1000
    assert all(one.ends_s <= other.starts_s for one, other in pairwise(chapters))
    assert len({one.move for one in chapters}) == len(chapters)


@given(st.integers(0, 359_999_999))
def test_a_time_of_the_film_is_read_as_it_is_written_to_the_millisecond(ms: int) -> None:
    seconds, thousandths = divmod(ms, 1000)
    written = f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}.{thousandths:03}"
    assert film_time(written) == ms / 1000
    assert film_time(film_words(ms / 1000)) == seconds


@given(st.integers(0, 4_000_000_000_000), st.integers(0, 360_000_000), st.sampled_from([1.0, 0.999, 8.0]))
def test_the_two_clocks_lead_there_and_back_to_the_millisecond(log_ms: int, film_ms: int, rate: float) -> None:
    clock = Clock(Mark(12.5, NINE), rate)
    assert abs(clock.film_s(clock.log_s(film_ms / 1000)) - film_ms / 1000) < 5e-4 * max(rate, 1)
    mark = read_mark(f"12.5={at_words(log_ms / 1000)}", None)
    assert round(mark.log_s * 1000) == log_ms
