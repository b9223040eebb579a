"""The next question: the one that settles most, about the parts that come off early first.

One part after the other is settled, in the order in which they usually come off, so that what is before its candidates
is known already and follows by itself. Of its candidates the nearest in the strips are asked about together, as many
as make "yes" about as likely as "no"; a "no" is halved until one part is left.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from fingertight.order.learn.heard import Answer, Said
from fingertight.order.learn.learned import Learned
from fingertight.order.learn.pairs import bits
from fingertight.order.learn.ways import ways_of

BLOCKERS, FURTHER_BLOCKERS = 1.2, 0.3
"""How many blockers that do not follow from each other a part is expected to have, and how many more once it has one.

1.2 a part is what the design's test machines have. From 1.0 and 0.2 to 1.5 and 0.3 the number of questions
changed by up to 4 % on ten machines of 40 parts.
"""
SEEN_FAR = 100.0
"""The gap taken for two parts that no strip shows."""


@dataclass(frozen=True, slots=True)
class Question:
    """Could `part` come off with all of `on` still on, and everything else off as far as it will come?

    about: "blockers" settles pairs, "ways" looks for sets one of which must be off, "surely" makes sure of a blocker
    that was only left over when others had been ruled out. `chance`: of a "yes", as far as strips and answers tell.
    `clears`: how many pairs a "yes" frees at once, at least.
    """

    part: str
    on: tuple[str, ...]
    about: Literal["blockers", "ways", "surely"]
    chance: float
    clears: int

    def answered(self, said: Said, by: str) -> Answer:
        """The answer to it."""
        return Answer(self.part, self.on, said, by)


def next_question(learned: Learned, *, ways: bool = True) -> Question | None:
    """What to ask next; None when nothing is left that somebody could know.

    Without `ways`, only about blockers: then what is learned is right for machines without ways. A question to which
    somebody said "don't know" is never asked again, nor one that contains it; nor any that was answered and the answer
    set aside.

    >>> from fingertight.order.learn import Strip, learn
    >>> question = next_question(learn([Strip(("cover", "gear", "shaft"), "Ann, Monday")]))
    >>> question.part, question.on, question.about, question.chance
    ('gear', ('cover',), 'blockers', 0.05)
    """
    had = {(answer.part, frozenset(answer.on)) for answer in learned.answers}
    about = chain(_about_blockers(learned), *([_about_ways(learned), _making_sure(learned)] if ways else []))
    return next((question for question in about if (question.part, frozenset(question.on)) not in had), None)


def _unknown_to_them(learned: Learned, part: int) -> list[int]:
    """The sets about which somebody said "don't know"."""
    evidence = learned.evidence
    about = (answer for answer in learned.counted if answer.said == "don't know")
    return [evidence.mask(answer.on) for answer in about if evidence.index[answer.part] == part]


# -- blockers -----------------------------------------------------------------------------------------------------


def _about_blockers(learned: Learned) -> Iterator[Question]:
    for part in learned.evidence.usual:
        if learned.pairs.open(part):
            question = _group(learned, part)
            if question:
                yield question


def chances(learned: Learned, part: int) -> dict[int, float]:
    """For each open candidate, how likely it is to be a blocker of its own: the nearer in a strip, the likelier."""
    gaps = learned.evidence.gaps[part]
    weights = {other: gaps.get(other, SEEN_FAR) ** -2.0 for other in bits(learned.pairs.open(part))}
    expected = FURTHER_BLOCKERS if learned.pairs.before[part] else BLOCKERS
    whole = sum(weights.values())
    return {other: min(0.95, expected * weight / whole) for other, weight in weights.items()}


def _unexplained(learned: Learned, part: int) -> list[int]:
    """Within which sets there is a blocker for sure: one for each "no" that nothing explains yet."""
    pairs = learned.pairs
    nos = (on & ~pairs.free[part] for on, _ in pairs.nos[part] if not on & pairs.before[part])
    return [on for on in nos if on]


def _carrying(learned: Learned, on: int) -> int:
    """With what stands behind them."""
    for other in bits(on):
        on |= learned.pairs.after[other]
    return on


def _group(learned: Learned, part: int) -> Question | None:
    """The question about this part whose answer is hardest to foretell."""
    pairs, likely, passed = learned.pairs, chances(learned, part), _unknown_to_them(learned, part)
    nos = _unexplained(learned, part)
    within = min((_carrying(learned, on) & pairs.open(part) for on in nos), key=int.bit_count, default=0)
    none_of_all = 1.0
    if within:
        for other in bits(within):
            none_of_all *= 1.0 - likely[other]
    scope = within or pairs.open(part)
    best: tuple[float, int, float] | None = None
    group, none, stands_on = 0, 1.0, 0
    for other in sorted(bits(scope), key=lambda one: (-likely[one], one)):
        if group >> other & 1:
            continue
        more = (1 << other | pairs.after[other] & scope) & ~group
        wider = stands_on | 1 << other | pairs.after[other]
        if any(not unknown & ~wider for unknown in passed):
            continue
        for one in bits(more):
            none *= 1.0 - likely[one]
        group, stands_on = group | more, wider
        if any(not on & ~wider for on in nos):  # that would be "no" again
            break
        chance = (none - none_of_all) / (1.0 - none_of_all) if within else none
        if best is None or abs(chance - 0.5) < best[0]:
            best = abs(chance - 0.5), group, chance
    if best is None:
        return _any_one(learned, part, likely, passed)
    _, group, chance = best
    return _asked(learned, part, group, "blockers", chance)


def _any_one(learned: Learned, part: int, likely: dict[int, float], passed: list[int]) -> Question | None:
    """Any single candidate that nobody passed on yet."""
    for other, chance in sorted(likely.items(), key=lambda one: -one[1]):
        wider = 1 << other | learned.pairs.after[other]
        if not any(not unknown & ~wider for unknown in passed):
            return _asked(learned, part, 1 << other, "blockers", 1.0 - chance)
    return None


def _asked(
    learned: Learned, part: int, on: int, about: Literal["blockers", "ways", "surely"], chance: float
) -> Question:
    """Name only those that carry the others: with the cover on, what is behind it is on anyway."""
    carried = 0
    for other in bits(on):
        carried |= learned.pairs.after[other]
    clears = (on | carried) & learned.pairs.open(part)
    names = learned.evidence.names(on & ~carried & ~(1 << part))
    return Question(learned.parts[part], names, about, round(chance, 2), clears.bit_count())


# -- ways ---------------------------------------------------------------------------------------------------------


def _about_ways(learned: Learned) -> Iterator[Question]:
    for part in learned.evidence.usual:
        found = ways_of(learned, part)
        if found.ask:
            question = _asked(learned, part, found.ask, "ways", 0.5 if found.written else 0.9)
            if learned.evidence.mask(question.on) not in _unknown_to_them(learned, part):
                yield question


def _making_sure(learned: Learned) -> Iterator[Question]:
    """A blocker that was left over when others were ruled out is one only if the part has no ways: ask of it alone."""
    for part in learned.evidence.usual:
        passed = _unknown_to_them(learned, part)
        for other in bits(learned.covering[part] & learned.pairs.before[part]):
            if learned.pairs.is_chosen(other, part) and 1 << other not in passed:
                yield _asked(learned, part, 1 << other, "surely", 0.1)
