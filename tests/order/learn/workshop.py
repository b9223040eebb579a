"""Machines with sub-assemblies, classes that strip them, and somebody who knows and answers truly; all by seed."""

import random
from collections.abc import Sequence

from fingertight.order import Stands
from fingertight.order.learn import Answer, Learned, Question, Strip, heard, next_question
from tests.order.by_the_text import NOBODY, Machine, may_come_off, reach


def assembled(seed: int, parts: int, *, ways: float = 0.0) -> dict[str, Stands]:
    """Sub-assemblies of four to ten parts, about 1.2 blockers a part, most of them within the sub-assembly.

    `ways`: the share of parts that come off by either of two sets, too.
    """
    chance = random.Random(seed)
    of: list[int] = []
    while len(of) < parts:
        of += [len(set(of))] * chance.randint(4, 10)
    of = of[:parts]
    chance.shuffle(of)
    machine: dict[str, Stands] = {}
    for number in range(parts):
        near = [f"p{other}" for other in range(number) if of[other] == of[number]]
        every = [f"p{other}" for other in range(number)]
        wanted = chance.choices([0, 1, 2], [5, 75, 20])[0]
        behind: set[str] = set()
        for _ in range(wanted):
            within = near if near and chance.random() < 0.85 else every
            if within:
                behind.add(chance.choice(within[-4:] if chance.random() < 0.5 else within))
        has_ways = len(every) > 3 and chance.random() < ways
        if has_ways and chance.random() < 0.7:
            behind = set()  # or the blockers would mostly carry one of the ways
        two = [chance.sample(every, chance.choice([1, 1, 2])) for _ in range(2)] if has_ways else []
        machine[f"p{number}"] = Stands(f"p{number}", sorted(behind), two)
    return machine


def strips_of(machine: Machine, count: int, seed: int, *, habit: bool = False) -> list[Strip]:
    """So many whole strips, any lawful next part each time; by habit seven steps of ten follow the usual order."""
    chance = random.Random(seed)
    usual: list[str] = []
    strips = []
    for number in range(count + habit):
        order: list[str] = []
        while free := may_come_off(order, NOBODY, machine):
            if usual and chance.random() < 0.7:
                order.append(min(free, key=usual.index))
            else:
                order.append(chance.choice(free))
        if habit and not usual:
            usual = order
        else:
            strips.append(Strip(tuple(order), f"bench {number}, Monday"))
    return strips


def honest(machine: Machine, question: Question | Answer, by: str = "the teacher") -> Answer:
    """What somebody says who knows the machine: everything else goes off as far as it will."""
    others = [part for part in machine if part not in question.on and part != question.part]
    gone = reach([*others, question.part], NOBODY, machine)
    return Answer(question.part, question.on, "yes" if question.part in gone else "no", by)


def asked_out(learned: Learned, machine: Machine, *, ways: bool = True) -> tuple[Learned, list[Question]]:
    """Ask until nothing is left to ask."""
    asked: list[Question] = []
    while question := next_question(learned, ways=ways):
        assert question not in asked, "asked again"
        asked.append(question)
        learned = heard(learned, honest(machine, question))
    return learned, asked


def necessary(machine: Machine) -> frozenset[tuple[str, str]]:
    """Every pair (a, b) of which b never comes off with a on, whatever else is off."""
    return frozenset(
        (first, second)
        for first in machine
        for gone in [reach([part for part in machine if part != first], NOBODY, machine)]
        for second in machine
        if second not in gone and second != first
    )


def written(learned: Learned) -> dict[str, Stands]:
    """What was learned, as a machine."""
    return {stand.part: Stands(stand.part, stand.behind, stand.ways) for stand in learned.stands()}


def lawful(order: Sequence[str], machine: Machine) -> bool:
    """Whether each part was free as it came off."""
    return all(part in may_come_off(order[:place], NOBODY, machine) for place, part in enumerate(order))


def one_by_one(learned: Learned, machine: Machine) -> tuple[Learned, int]:
    """Ask of each open pair alone, the nearest in the strips first, leaving out what follows; how many it took."""
    gaps, count = learned.evidence.gaps, 0
    parts = range(len(learned.parts))
    pairs = [(gaps[b].get(a, 1e3), b, a) for b in parts for a in parts if learned.pairs.open(b) >> a & 1]
    for _, second, first in sorted(pairs):
        if learned.pairs.open(second) >> first & 1:
            count += 1
            asked = Answer(learned.parts[second], (learned.parts[first],), "no", "")
            learned = heard(learned, honest(machine, asked))
    return learned, count
