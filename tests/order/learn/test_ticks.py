"""Everything in the way of one part is ticked at once: the same is learned, with a small part of the presses."""

import random
from collections.abc import Sequence

import pytest

from fingertight.order.learn import Answer, AtOnce, Learned, Strip, Ticks, learn, next_at_once, next_question, told
from tests.order.by_the_text import NOBODY, Machine, may_come_off, reach
from tests.order.learn.workshop import asked_out, assembled, honest, necessary, one_by_one, strips_of, written


def off_with(machine: Machine, part: str, on: tuple[str, ...]) -> bool:
    """Whether it can come off with these on, everything else off as far as it will come."""
    return part in reach([one for one in machine if one not in on], NOBODY, machine)


def sets_of(machine: Machine, asked: AtOnce) -> list[list[str]]:
    """What somebody ticks who knows the machine: what is directly in the way, one set for each way."""
    stands = machine[asked.part]
    behind = [one for one in stands.behind if one in asked.candidates or stands.ways]
    return [[*behind, *(one for one in way if one not in behind)] for way in stands.ways or [[]]]


def ticked_out(strips: list[Strip], machine: Machine, answered: Sequence[Answer] = ()) -> tuple[Learned, int, int]:
    """Tick as somebody does who knows the machine; how many parts and ticks."""
    plain = learned = learn(strips, answered)
    ticks: list[Ticks] = []
    while asked := next_at_once(learned, [one.part for one in ticks]):
        ticks.append(Ticks(asked.part, tuple(map(tuple, sets_of(machine, asked))), True, "the teacher"))
        for answer in told(plain, ticks):
            assert honest(machine, answer).said == answer.said, answer
        learned = learn(strips, (*answered, *told(plain, ticks)))
    return learned, len(ticks), sum(len(some) for one in ticks for some in one.sets)


@pytest.mark.parametrize("seed", range(40))
def test_every_pair_is_learned_with_one_page_a_part_and_a_tick_a_blocker(seed: int) -> None:
    machine = assembled(seed, 12 + seed)
    learned, parts, ticks = ticked_out(strips_of(machine, 1, seed), machine)
    assert learned.candidates() == necessary(machine)
    assert learned.unsettled() == 0
    assert parts < len(machine)
    assert ticks <= sum(len(stands.behind) for stands in machine.values())
    assert not learned.contradictions


@pytest.mark.parametrize("seed", range(40))
def test_ways_are_told_by_ticks_too_and_the_few_questions_left_find_the_rest(seed: int) -> None:
    machine = assembled(seed, 14, ways=0.3)
    learned, _, _ = ticked_out(strips_of(machine, 1, seed), machine)
    assert necessary(machine) <= learned.candidates()
    known, asked = asked_out(learned, machine)
    print(f"{len(asked)} questions left")
    assert not known.contradictions
    assert moves(written(known)) == moves(machine)


def moves(machine: Machine) -> list[tuple[str, ...]]:
    """What may come off along 40 strips at random."""
    found = []
    for seed in range(40):
        chance, order = random.Random(seed), list[str]()
        while free := sorted(may_come_off(order, NOBODY, machine)):
            found.append(tuple(free))
            order.append(chance.choice(free))
    return found


def test_it_takes_far_fewer_presses_than_questions_one_by_one() -> None:
    machine = assembled(3, 28)
    strips = strips_of(machine, 1, 3)
    learned = learn(strips)
    _, singly = one_by_one(learned, machine)
    _, asked = asked_out(learned, machine, ways=False)
    _, parts, ticks = ticked_out(strips, machine)
    print(f"{parts} pages and {ticks} ticks; {len(asked)} questions; {singly} one by one")
    assert parts + ticks <= 0.5 * len(asked)


@pytest.mark.parametrize("seed", range(20))
def test_after_some_questions_ticks_go_on_where_those_stopped(seed: int) -> None:
    machine = assembled(seed, 14, ways=0.3)
    strips, answered = strips_of(machine, 1, seed), list[Answer]()
    for _ in range(8):
        if question := next_question(learn(strips, answered)):
            answered.append(honest(machine, question))
    learned, _, _ = ticked_out(strips, machine, answered)
    known, _ = asked_out(learned, machine)
    assert not known.contradictions
    assert moves(written(known)) == moves(machine)


def said(learned: Learned, *ticks: Ticks) -> list[tuple[str, str, tuple[str, ...]]]:
    """What ticks say, without who said it."""
    return [(one.part, one.said, one.on) for one in told(learned, ticks)]


def test_what_stands_behind_a_tick_is_not_said_to_be_free_once_that_is_known() -> None:
    # guard, then fan, then wheel: only the fan is ticked for the wheel, and it holds the guard.
    learned = learn([Strip(("guard", "fan", "wheel", "nut"), "Ann, Monday")])
    wheel, fan = Ticks("wheel", (("fan",),), True, "Bea"), Ticks("fan", (("guard",),), True, "Bea")
    careful = [("wheel", "yes", ("nut",)), ("wheel", "no", ("fan",))]
    assert said(learned, wheel) == careful
    assert said(learned, wheel, fan)[:2] == careful
    assert said(learned, wheel, Ticks("fan", ((),), True, "Bea"))[0] == ("wheel", "yes", ("guard", "nut"))
    assert said(learned, fan, wheel, fan) == said(learned, wheel, fan)[2:] + careful, "the last of one part counts"


def test_without_certainty_only_what_was_ticked_is_said() -> None:
    learned = learn([Strip(("guard", "fan", "wheel", "nut"), "Ann, Monday")])
    assert said(learned, Ticks("nut", (("guard", "wheel"),), False, "Bea")) == [
        ("nut", "no", ("guard",)),
        ("nut", "no", ("wheel",)),
    ]


def test_two_ways_are_yes_for_each_and_no_for_one_of_both() -> None:
    learned = learn([Strip(("head", "case", "nut", "piston"), "Ann, Monday")])
    free = [Ticks(part, ((),), True, "Bea") for part in ("case", "nut")]
    found = said(learned, *free, Ticks("piston", (("head",), ("case", "nut")), True, "Bea"))
    assert found[2:] == [
        ("piston", "yes", ("case", "nut")),
        ("piston", "yes", ("head",)),
        ("piston", "no", ("head", "case")),
        ("piston", "no", ("head", "nut")),
    ]
    with pytest.raises(KeyError, match="lid"):
        told(learned, [Ticks("piston", (("lid",),), True, "Bea")])


def test_a_ring_of_ticks_is_said_to_be_against_the_strip() -> None:
    learned = learn([Strip(("head", "case", "nut"), "Ann, Monday")])
    ring = [Ticks("head", (("nut",),), True, "Bea"), Ticks("nut", (("head",),), True, "Bea")]
    known = learn(learned.strips, told(learned, ring))
    assert [(one.code, one.set_aside) for one in known.contradictions] == [("against-strip", True)]
    assert known.pair("head", "nut").standing == "known", "the tick that the strip allows still counts"


@pytest.mark.parametrize("wanted", [1, 2])
def test_a_long_chain_and_parts_that_all_wait_for_two_are_told_at_once(wanted: int) -> None:
    parts = [f"p{number}" for number in range(400)]
    learned = learn([Strip(tuple(parts), "Ann, Monday")])
    ticks = [Ticks(part, (tuple(parts[max(0, at - wanted) : at]),), True, "Bea") for at, part in enumerate(parts)]
    answers = told(learned, ticks[::-1])
    last = [answer for answer in answers if answer.part == parts[-1]]
    assert [(answer.said, len(answer.on)) for answer in last] == [("no", 1)] * wanted


def test_a_part_nobody_is_certain_of_is_passed_once_and_the_others_follow() -> None:
    learned, done = learn([Strip(("guard", "fan", "wheel", "nut"), "Ann, Monday")]), list[str]()
    while asked := next_at_once(learned, done):
        done.append(asked.part)
    assert done == ["fan", "wheel", "nut"]
