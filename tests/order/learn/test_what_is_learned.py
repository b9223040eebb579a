"""Without ways: whoever knows the machine is asked until nothing is open; then the learned moves are the true ones."""

import random

import networkx

from fingertight.order.learn import Answer, Strip, heard, learn, next_question, saw
from fingertight.order.learn.learned import closed
from fingertight.order.learn.pairs import Pairs, bits
from tests.order.by_the_text import NOBODY, may_come_off, reachable_sets
from tests.order.learn.workshop import asked_out, assembled, honest, lawful, necessary, strips_of, written
from tests.order.machines import layered


def test_with_true_answers_the_learned_moves_are_the_true_ones_on_two_hundred_machines() -> None:
    for seed in range(200):
        machine = assembled(seed, 3 + seed % 7) if seed % 2 else layered(seed, 3 + seed % 7, ways=False)
        learned, _ = asked_out(learn(strips_of(machine, 1 + seed % 4, seed)), machine)
        theirs = written(learned)
        assert learned.candidates() == necessary(machine), seed
        assert not any(stand.likely or stand.ways or stand.ways_open for stand in learned.stands()), seed
        assert reachable_sets({part: theirs[part] for part in machine}) == reachable_sets(machine), seed


def test_what_truly_blocks_is_never_lost_while_questions_are_answered_and_no_strip_is_ever_contradicted() -> None:
    for seed in range(12):
        machine = assembled(seed, 14)
        strips, true = strips_of(machine, 3, seed, habit=bool(seed % 2)), necessary(machine)
        learned, open_before = learn(strips), 14 * 14
        while question := next_question(learned):
            assert true <= learned.candidates()
            assert all(lawful(strip.order, written(learned)) for strip in strips)
            assert learned.unsettled() <= open_before
            open_before = learned.unsettled()
            learned = heard(learned, honest(machine, question))
        assert learned.unsettled() == 0
        assert learned.candidates() == true


def test_another_strip_only_takes_candidates_away_and_never_a_true_one() -> None:
    machine = assembled(5, 30)
    true, first, *more = necessary(machine), *strips_of(machine, 12, 5)
    learned = learn([first])
    assert len(learned.candidates()) == 30 * 29 / 2
    for strip in more:
        wider = learned.candidates()
        learned = saw(learned, strip)
        assert true <= learned.candidates() <= wider
    assert len(learned.candidates()) < 30 * 29 / 4


def test_one_answer_more_says_the_same_as_learning_all_from_the_start() -> None:
    machine = assembled(8, 12)
    strips, answers = strips_of(machine, 2, 8), []
    learned = learn(strips)
    while question := next_question(learned):
        answers.append(honest(machine, question))
        learned = heard(learned, answers[-1])
    again = learn(strips, answers)
    assert again.stands() == learned.stands()
    assert (again.pairs.before, again.pairs.free) == (learned.pairs.before, learned.pairs.free)


def test_a_strip_of_a_machine_that_lacks_parts_or_stops_half_way_loses_no_true_blocker() -> None:
    for seed in range(120):
        machine = assembled(seed, 4 + seed % 6, ways=0.4 if seed % 2 else 0.0)
        chance, strips, lacked = random.Random(seed), [], []
        for number in range(2 + seed % 4):
            absent = {part for part in machine if number and chance.random() < 0.15}
            stops = len(machine) // 2 if number and chance.random() < 0.4 else len(machine)
            order: list[str] = []
            while len(order) < stops and (free := may_come_off(order, absent, machine)):
                order.append(chance.choice(free))
            on = tuple(part for part in machine if part not in absent and part not in order)
            strips.append(Strip(tuple(order), f"bench {number}", on))
            lacked.append(absent)
        learned = learn(strips)
        assert necessary(machine) <= learned.candidates(), seed
        for strip, absent in zip(strips, lacked, strict=True):
            said = written(learned)
            assert all(part in may_come_off(strip.order[:at], absent, said) for at, part in enumerate(strip.order))
        learned, _ = asked_out(learned, machine)
        assert learned.candidates() == necessary(machine), seed
        assert not any(one.set_aside for one in learned.contradictions), seed


def test_a_part_overlooked_in_a_strip_teaches_nothing_and_one_that_stayed_on_does() -> None:
    whole = Strip(("cover", "gear", "shaft"), "Ann, Monday")
    assert learn([whole, Strip(("gear", "shaft"), "Bea")]).pair("cover", "gear").standing == "likely"
    left_on = learn([whole, Strip(("gear", "shaft"), "Bea", still_on=("cover",))])
    assert left_on.pair("cover", "gear").standing == "free"
    assert left_on.pair("cover", "gear").rests_on == (left_on.strips[1],)


def test_every_pair_says_how_sure_it_is_and_on_whom_that_rests() -> None:
    ann, bea = Strip(("a", "b", "c", "d"), "Ann, Monday"), Strip(("b", "a", "c", "d"), "Bea, Tuesday")
    said = [Answer("c", ("b",), "no", "Carl"), Answer("d", ("c",), "no", "Dora")]
    learned = learn([ann, bea], said)
    assert learned.pair("b", "d").standing == "known"
    assert learned.pair("b", "d").rests_on == tuple(said)
    assert (learned.pair("a", "c").standing, learned.pair("a", "c").strips) == ("likely", 2)
    assert (learned.pair("a", "b").standing, learned.pair("a", "b").rests_on) == ("free", (bea,))
    stand = learned.stand("d")
    assert (stand.surely, stand.likely) == (("c",), ())  # a and b follow from c


def test_closure_and_covering_are_those_of_networkx() -> None:
    for seed in range(60):
        chance, size = random.Random(seed), 2 + seed % 20
        edges = {(a, b) for b in range(size) for a in range(b) if chance.random() < 0.2}
        graph = networkx.DiGraph()
        graph.add_nodes_from(range(size))
        graph.add_edges_from(edges)
        closure = set(networkx.transitive_closure(graph).edges)
        reduction = set(networkx.transitive_reduction(graph).edges)
        rows = closed([sum(1 << a for a, other in edges if other == b) for b in range(size)])
        assert {(a, b) for b, row in enumerate(rows) for a in bits(row)} == closure
        pairs = Pairs(size)
        for number, (a, b) in enumerate(sorted(edges, key=lambda _: chance.random())):
            pairs.no(b, 1 << a, number)
        assert pairs.before == rows
        names = [f"p{number}" for number in range(size)]
        strip = Strip(tuple(names), "Ann")
        told = learn([strip], [Answer(names[b], (names[a],), "no", "Bea") for a, b in sorted(edges)])
        known = [(a, b) for b in range(size) for a in range(size) if told.pair(names[a], names[b]).standing == "known"]
        assert set(known) == closure
        free = [Answer(names[b], (names[a],), "yes", "Bea") for b in range(size) for a in range(b)]
        all_told = learn([strip], [*told.answers, *(one for one in free if not _holds(told, one))])
        covers = {(a, stand.part) for stand in all_told.stands() for a in stand.surely}
        assert covers == {(names[a], names[b]) for a, b in reduction}
        assert may_come_off([], NOBODY, written(all_told)) == [f"p{b}" for b in range(size) if not rows[b]]


def _holds(told: object, answer: Answer) -> bool:
    return told.pair(answer.on[0], answer.part).standing == "known"  # type: ignore[attr-defined]
