"""How many questions it takes, beside asking one by one and beside what no way of asking can go below."""

import tomllib
from itertools import combinations
from math import log2

from fingertight.anatomy.model import Anatomy
from fingertight.order import Stands, strip_order
from fingertight.order.learn import Answer, Strip, heard, learn, next_question
from fingertight.order.learn.learned import Learned, closed
from fingertight.order.learn.pairs import bits
from tests.conftest import ROOT
from tests.order.by_the_text import Machine
from tests.order.learn.workshop import asked_out, assembled, honest, necessary, one_by_one, strips_of


def anatomies(parts: int) -> list[dict[str, Stands]]:
    """Every machine without ways that could have been stripped in this one order: each closed set of forward pairs."""
    pairs = list(combinations(range(parts), 2))
    found = []
    for chosen in range(1 << len(pairs)):
        rows = [0] * parts
        for number in bits(chosen):
            first, second = pairs[number]
            rows[second] |= 1 << first
        if closed(rows) == rows:
            found.append({f"p{b}": Stands(f"p{b}", [f"p{a}" for a in bits(row)]) for b, row in enumerate(rows)})
    return found


def pump_engine() -> Anatomy:
    """An example machine, some parts of which come off by either of two ways."""
    return Anatomy.model_validate(tomllib.loads((ROOT / "examples" / "pump-engine.toml").read_text("utf-8")))


def least_at_worst(learned: Learned) -> int:
    """Below how many yes/no questions no way of asking can stay on every machine these strips allow (no answers yet).

    The bound is log2 of a number of different anatomies that could each still be true: an answer is one bit, so q
    questions tell at most 2^q of them apart. Cut the usual order in two: any choice of the open pairs that cross the
    cut, with nothing else, is transitive (no pair ends where another begins) and lawful by every strip. So there are
    at least 2^c of them, c the pairs across the cut that has most. It holds for the worst machine and for the mean
    over all of them, not for each: real machines are sparse, so a good guesser stays below it on those.
    """
    place = {part: number for number, part in enumerate(learned.evidence.usual)}
    crossing = [0] * (len(place) + 1)
    for second, at in place.items():
        for first in bits(learned.pairs.open(second)):
            for cut in range(place[first] + 1, at + 1):
                crossing[cut] += 1
    return max(crossing)


def test_over_every_machine_of_five_parts_the_mean_stays_within_a_third_of_the_bits_there_are() -> None:
    # 357 orders of five parts lie within one line: OEIS A006455, from memory; found here by trying all 1,024 sets.
    every = anatomies(5)
    assert len(every) == 357
    learned = learn([Strip(tuple(f"p{number}" for number in range(5)), "Ann, Monday")])
    asked = [len(asked_out(learned, machine, ways=False)[1]) for machine in every]
    assert sum(asked) / len(asked) >= log2(357)
    assert sum(asked) / len(asked) <= 4 / 3 * log2(357)
    assert least_at_worst(learned) <= log2(357) <= max(asked)


def test_at_forty_parts_it_takes_at_most_three_fifths_of_the_questions_asked_one_by_one() -> None:
    for seed, habit in ((1, False), (2, True), (3, False), (4, True)):
        machine = assembled(seed, 40)
        learned = learn(strips_of(machine, 10, seed, habit=habit))
        known, asked = asked_out(learned, machine, ways=False)
        _, singly = one_by_one(learned, machine)
        assert known.candidates() == necessary(machine)
        assert len(asked) <= 0.6 * singly < 0.6 * learned.unsettled()
        print(f"{len(asked)} asked, {singly} one by one, {least_at_worst(learned)} at worst whoever asks")


def test_a_question_nobody_could_answer_is_never_asked_again_and_others_follow_until_none_is_left() -> None:
    machine = assembled(6, 10)
    learned, asked = learn(strips_of(machine, 2, 6)), []
    while question := next_question(learned):
        asked.append((question.part, frozenset(question.on)))
        learned = heard(learned, question.answered("don't know", "Ann"))
    assert len(asked) == len(set(asked)) > 10
    assert necessary(machine) <= learned.candidates()
    assert all(stand.surely == () for stand in learned.stands())


def test_somebody_who_knows_only_half_still_helps_and_is_never_asked_the_same_twice() -> None:
    machine = assembled(7, 16)
    learned, asked = learn(strips_of(machine, 3, 7)), []
    while question := next_question(learned):
        asked.append((question.part, frozenset(question.on)))
        knows = len(asked) % 2
        learned = heard(learned, honest(machine, question) if knows else question.answered("don't know", "Ann"))
    assert len(asked) == len(set(asked))
    assert necessary(machine) <= learned.candidates()
    assert not learned.contradictions


def test_what_follows_from_two_answers_is_not_asked() -> None:
    machine: Machine = {"a": Stands("a"), "b": Stands("b", ["a"]), "c": Stands("c", ["b"])}
    _, asked = asked_out(learn([Strip(("a", "b", "c"), "Ann")]), machine)
    assert [(question.part, question.on) for question in asked] == [("b", ("a",)), ("c", ("b",))]


def test_a_try_that_failed_counts_as_an_answer_and_spares_questions() -> None:
    strip = Strip(("a", "b", "c"), "Ann")
    tried = Answer("c", ("b",), "no", "Bea, Tuesday: tried, would not come")
    machine: Machine = {"a": Stands("a"), "b": Stands("b", ["a"]), "c": Stands("c", ["b"])}
    _, asked = asked_out(learn([strip], [tried]), machine)
    assert [question.part for question in asked] == ["b"]


def test_two_answers_that_overlap_do_not_make_the_same_question_come_back() -> None:
    # Found by seed: "no" with {p0, p3} and with {p3, p8} were both waiting, and the second was asked for ever.
    machine: Machine = {
        part: Stands(part, behind)
        for part, behind in {
            "p0": [], "p1": ["p0"], "p2": ["p0"], "p3": ["p1"], "p4": ["p0", "p3"], "p5": ["p2"], "p6": ["p4"],
            "p7": ["p2"], "p8": ["p5"],
        }.items()
    }  # fmt: skip
    strips = [
        Strip(("p0", "p2", "p1", "p7", "p3", "p5", "p8", "p4", "p6"), "bench 0"),
        Strip(("p6", "p0", "p2", "p5", "p7"), "bench 1"),
        Strip(("p5", "p8", "p0", "p1", "p3", "p4", "p6"), "bench 2"),
        Strip(("p0", "p2", "p5", "p8", "p1"), "bench 3", ("p3", "p4", "p7")),
        Strip(("p0", "p2", "p5", "p1", "p7"), "bench 4", ("p3", "p4", "p6", "p8")),
        Strip(("p7", "p0", "p1", "p5", "p3"), "bench 5", ("p4", "p6", "p8")),
    ]
    learned, _ = asked_out(learn(strips), machine)
    assert learned.candidates() == necessary(machine)


def test_of_a_machine_with_ways_no_question_comes_twice_and_an_end_comes() -> None:
    """A part with ways answers "no" to sets in which no single part blocks it: that settles nothing, and is not asked
    again."""
    engine = pump_engine()
    machine: Machine = {part.id: Stands(part.id, part.behind, part.ways) for part in engine.parts if not part.stays}
    order = strip_order(engine).order
    assert order is not None
    learned, asked = learn([Strip(order, "the demonstration")]), set()
    while question := next_question(learned, ways=False):
        assert (question.part, question.on) not in asked
        asked.add((question.part, question.on))
        learned = heard(learned, honest(machine, question))
    assert necessary(machine) <= learned.candidates()
    assert not learned.contradictions
