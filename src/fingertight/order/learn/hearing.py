"""Strips and answers are put together: strips always count, an answer only while it agrees with those before it."""

from collections.abc import Sequence
from difflib import get_close_matches

from fingertight.order.learn.evidence import Evidence
from fingertight.order.learn.heard import Answer, Contradiction, Source, Strip, listed, who
from fingertight.order.learn.learned import Learned
from fingertight.order.learn.pairs import Clash, Pairs
from fingertight.order.learn.ways import allowed, refused


def learn(strips: Sequence[Strip], answers: Sequence[Answer] = ()) -> Learned:
    """Put everything together from the start. Any input is taken; what cannot be is among the `contradictions`.

    Answers are heard in the order given; of two that exclude each other the first counts. Where "not with all of
    these" meets "but with each of them alone", no one is wrong: the part has ways, and is asked about as such.

    >>> seen = Strip(("cover", "gear", "shaft"), "Ann, Monday")
    >>> learned = learn([seen], [Answer("cover", ("gear",), "no", "Bea, Tuesday")])
    >>> print(learned.contradictions[0].sentence)
    Bea, Tuesday: cover cannot come off with gear on. But Ann, Monday took cover off with gear on. The answer is not \
counted; ask Bea, Tuesday again, and take it back if it was a slip.
    """
    evidence, answers = Evidence(strips), tuple(answers)
    loose: set[int] = set()
    wrong: dict[int, Contradiction] = {
        number: said for number, answer in enumerate(answers) if (said := _cannot_be_meant(evidence, answer))
    }
    while True:
        learned = _before_answers(evidence, answers, frozenset(loose))
        for number, answer in enumerate(answers):
            if number in wrong:
                continue
            clash = _hear(learned, number, answer)
            if clash is None:
                learned.counted = (*learned.counted, answer)
                continue
            if clash.chosen - loose:
                loose |= clash.chosen
            else:
                wrong[number] = _against(learned, answer, clash)
            break
        else:
            learned.contradictions = (*_about_strips(learned), *(wrong[number] for number in sorted(wrong)))
            return learned


def heard(learned: Learned, answer: Answer) -> Learned:
    """The same with one answer more; quick where the answer agrees with all before it."""
    answers = (*learned.answers, answer)
    if _cannot_be_meant(learned.evidence, answer) is None:
        counted = learned.counted
        more = Learned(learned.evidence, learned.pairs.copy(), answers, counted, learned.contradictions)
        if _hear(more, len(learned.answers), answer) is None:
            more.counted = (*counted, answer)
            return more
    return learn(learned.strips, answers)


def saw(learned: Learned, strip: Strip) -> Learned:
    """The same with one strip more: candidates only become fewer, and an answer it proves wrong is set aside."""
    return learn((*learned.strips, strip), learned.answers)


def _before_answers(evidence: Evidence, answers: tuple[Answer, ...], loose: frozenset[int]) -> Learned:
    pairs = Pairs(len(evidence.parts), loose)
    for strip, part, on, gone in evidence.came_off:
        pairs.came_off(part, on, gone, strip)
    pairs.settle()
    return Learned(evidence, pairs, answers, (), ())


def _hear(learned: Learned, number: int, answer: Answer) -> Clash | None:
    """Draw on an answer; what it clashes with, if anything. A clash leaves the pairs half drawn: begin anew."""
    evidence, pairs = learned.evidence, learned.pairs
    part, on, source = evidence.index[answer.part], evidence.mask(answer.on), len(evidence.strips) + number
    try:
        if answer.said == "yes":
            against = refused(learned, part, on)
            if against:
                return _direct(learned, source, against)
            pairs.yes(part, on, source)
        elif answer.said == "no":
            against = allowed(learned, part, on)
            if against:
                return _direct(learned, source, against)
            pairs.no(part, on, source)
    except Clash as clash:
        return clash
    return None


def _direct(learned: Learned, source: int, against: Source) -> Clash:
    """What one answer says against another, or a strip; and why it matters here, where it is about another part."""
    every: list[Source] = [*learned.strips, *learned.answers]
    where = next(number for number, one in enumerate(every) if one is against)
    answer, leans_on = every[source], frozenset[int]()
    if isinstance(against, Answer) and isinstance(answer, Answer):
        one, other = learned.evidence.index[against.part], learned.evidence.index[answer.part]
        for first, second in ((one, other), (other, one)):
            if learned.pairs.is_known(first, second):
                leans_on, _ = learned.pairs.sources(("known", first, second))
    return Clash(("free", 0, 0), frozenset({source, where}) | leans_on, frozenset())


# -- what is said about it ----------------------------------------------------------------------------------------


def _cannot_be_meant(evidence: Evidence, answer: Answer) -> Contradiction | None:
    """An answer about parts that no strip names, or about nothing."""
    unknown = tuple(part for part in (answer.part, *answer.on) if part not in evidence.index)
    if unknown:
        near = get_close_matches(unknown[0], evidence.parts, 1)
        mend = f"Did you mean {near[0]}?" if near else "Record a strip that has it, or take the answer back."
        said = f"{answer.by} speaks of {listed(unknown)}, which no strip names. {mend}"
        return Contradiction("unknown-part", unknown, (answer, *evidence.strips), True, said)
    if answer.part in answer.on or not answer.on:
        what = "with nothing on" if not answer.on else "with itself on"
        said = f"{answer.by} speaks of {answer.part} coming off {what}. Name the other parts that were still on."
        return Contradiction("itself", (answer.part,), (answer,), True, said)
    return None


def _sentence(source: Source, part: str) -> str:
    if isinstance(source, Strip):
        on = {*source.order[source.order.index(part) + 1 :], *source.still_on} if part in source.order else set()
        return f"{source.label} stripped {listed(source.order[:4])}{' …' if len(source.order) > 4 or on else ''}"
    can = "can" if source.said == "yes" else "cannot"
    return f"{source.by} said that {source.part} {can} come off with {listed(source.on)} on"


def _against(learned: Learned, answer: Answer, clash: Clash) -> Contradiction:
    """The answer against all that its clash rests on."""
    against = tuple(source for source in learned.sources(clash.sources) if source is not answer)
    strips = [source for source in against if isinstance(source, Strip)]
    can = "can" if answer.said == "yes" else "cannot"
    claim = f"{answer.by}: {answer.part} {can} come off with {listed(answer.on)} on"
    if len(against) == 1 and strips:
        but = f"{strips[0].label} took {answer.part} off with {listed(answer.on)} on"
    else:
        but = ", and ".join(_sentence(source, answer.part) for source in against)
    again = listed(dict.fromkeys([answer.by, *(who(source) for source in against if source not in strips)]))
    mend = f"The answer is not counted; ask {again} again, and take {'it' if strips else 'one'} back if it was a slip."
    code = "against-strip" if strips else "against-answer"
    return Contradiction(
        code,  # type: ignore[arg-type]
        tuple(dict.fromkeys([answer.part, *answer.on])),
        (answer, *against),
        True,
        f"{claim}. But {but}. {mend}",
    )


def _about_strips(learned: Learned) -> list[Contradiction]:
    """Parts that stand twice in a strip, parts that only one strip has, and rings of what is likely."""
    found, strips = [], learned.strips
    for number, strip in enumerate(strips):
        twice = tuple(part for part in dict.fromkeys(strip.order) if strip.order.count(part) > 1)
        for part in twice:
            places = [place for place, other in enumerate(strip.order, 1) if other == part]
            said = (
                f"{strip.label}: {part} stands in this strip more than once, as number {listed(map(str, places))}. "
                "Only what holds for each of them is used; strike out the wrong one."
            )
            found.append(Contradiction("twice", (part,), (strip,), False, said))
        others = [*strips[:number], *strips[number + 1 :]]
        found += [_lone(strip, part, others) for part in dict.fromkeys(strip.order) if _is_lone(strip, part, others)]
    return found + _rings(learned)


def _is_lone(strip: Strip, part: str, others: list[Strip]) -> bool:
    """No other strip has the part, and each of them went on past the place where it came off in this one."""
    later = set(strip.order[strip.order.index(part) + 1 :])
    return bool(others) and all(
        part not in other.order and part not in other.still_on and later & set(other.order) for other in others
    )


def _lone(strip: Strip, part: str, others: list[Strip]) -> Contradiction:
    near = get_close_matches(part, {name for other in others for name in other.order}, 1)
    mend = f"If {near[0]} is meant, correct it" if near else "If the name is mistyped, correct it"
    said = (
        f"{strip.label} took {part} off, which {listed([other.label for other in others[:3]])} "
        f"{'do' if len(others) > 1 else 'does'} not have. {mend}; if only this machine has it, leave it."
    )
    return Contradiction("lone-part", (part,), (strip, *others), False, said)


def _rings(learned: Learned) -> list[Contradiction]:
    """Parts that strips of different machines show one before the other, round and round."""
    found, told = [], 0
    for part, ring in enumerate(learned.rings):
        if not ring or told >> part & 1:
            continue
        told |= ring | 1 << part
        names = learned.evidence.names(ring | 1 << part)
        sources = tuple(strip for strip in learned.strips if len(set(names) & set(strip.order)) > 1)
        said = (
            f"{listed([strip.label for strip in sources])} show {listed(names)} one before the other, round and round, "
            "and none has them all. What is only likely of them is left out; answer a question about them, or record "
            "a strip that has them all."
        )
        found.append(Contradiction("ring", names, sources, False, said))
    return found
