"""Sets one of which must be off: found by questions, exact where they are answered out, and never against a strip."""

from fingertight.order import Stands
from fingertight.order.learn import Answer, Strip, learn, next_question
from tests.order.by_the_text import reachable_sets
from tests.order.learn.workshop import asked_out, assembled, lawful, necessary, strips_of, written
from tests.order.machines import layered

EITHER = {
    "cover": Stands("cover"),
    "plug": Stands("plug"),
    "shaft": Stands("shaft", ways=[["cover"], ["plug"]]),
}


def test_the_moves_of_every_machine_with_ways_are_learned_exactly_once_all_is_answered() -> None:
    had_ways = 0
    for seed in range(200):
        size = 4 + seed % 6
        machine = assembled(seed, size, ways=0.8) if seed % 4 else layered(seed, size)
        strips = strips_of(machine, 1 + seed % 5, seed)
        learned, _ = asked_out(learn(strips), machine)
        theirs = written(learned)
        assert not learned.contradictions
        assert learned.candidates() == necessary(machine), seed
        assert all(lawful(strip.order, theirs) for strip in strips), seed
        assert reachable_sets({part: theirs[part] for part in machine}) == reachable_sets(machine), seed
        had_ways += any(stand.ways for stand in learned.stands())
    assert had_ways > 50


def test_whoever_stops_at_any_time_gets_an_anatomy_by_which_every_strip_was_lawful() -> None:
    for seed in range(10):
        machine = assembled(seed, 12, ways=0.35)
        strips = strips_of(machine, 4, seed)
        learned, asked = asked_out(learn(strips), machine)
        for stop in range(0, len(asked), 3):
            until = learn(strips, learned.answers[:stop])
            assert necessary(machine) <= until.candidates(), seed
            assert all(lawful(strip.order, written(until)) for strip in strips), seed


def test_a_part_that_never_had_the_same_part_off_before_it_is_asked_about_and_gets_its_two_ways() -> None:
    strips = [Strip(("cover", "shaft", "plug"), "Ann, Monday"), Strip(("plug", "shaft", "cover"), "Bea, Tuesday")]
    learned = learn(strips)
    stand = learned.stand("shaft")
    assert (stand.behind, stand.ways, stand.ways_open) == ((), (), True)
    assert stand.seen_off == (("cover",), ("plug",))
    question = next_question(learned)
    assert question is not None
    assert (question.part, question.about) == ("shaft", "ways")
    assert set(question.on) == {"cover", "plug"}
    learned, _ = asked_out(learned, EITHER)
    assert set(learned.stand("shaft").ways) == {("cover",), ("plug",)}
    assert not learned.stand("shaft").ways_open


def test_a_way_is_found_even_where_every_strip_had_both_off() -> None:
    strips = [Strip(("cover", "plug", "shaft"), "Ann, Monday"), Strip(("plug", "cover", "shaft"), "Bea, Tuesday")]
    learned, asked = asked_out(learn(strips), EITHER)
    assert set(learned.stand("shaft").ways) == {("cover",), ("plug",)}
    assert {question.about for question in asked} >= {"blockers"}


def test_not_with_both_but_with_either_is_no_contradiction_but_two_ways() -> None:
    strip = Strip(("cover", "plug", "shaft"), "Ann, Monday")
    said = [
        Answer("shaft", ("cover", "plug"), "no", "Carl"),
        Answer("shaft", ("cover",), "yes", "Carl"),
        Answer("shaft", ("plug",), "yes", "Dora"),
    ]
    learned = learn([strip], said)
    assert not learned.contradictions
    assert set(learned.stand("shaft").ways) == {("cover",), ("plug",)}
