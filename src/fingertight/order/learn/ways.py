"""Ways out of a part: the smallest sets that, off, let it come off; and the questions that find them one by one.

Of each part it is known with what off it came off (strips, "yes") and with what on it would not ("no"). Every set of
the first kind is made smaller by halving, until each of its parts is needed: that is a way. Then one part of each way
found is left on, in every combination: as long as the part still comes off, there is another way; when it never does,
there is none. This is how a monotone Boolean function is learned by asking: Angluin, Machine Learning 2 (1988) 319–342
(from memory).
"""

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from fingertight.order.learn.heard import Source
from fingertight.order.learn.pairs import bits

if TYPE_CHECKING:
    from fingertight.order.learn.learned import Learned

MOST_COMBINATIONS = 64
"""Where the ways of a part have more combinations than that, nobody is asked about all of them."""


class Ways(NamedTuple):
    """`written`: for the anatomy. `open`: whether more could be asked. `ask`: what to leave on next, or 0."""

    written: tuple[int, ...] = ()
    open: bool = False
    ask: int = 0


def _with_what_follows(learned: "Learned", on: int) -> int:
    """With these on, whatever they must be off for is on as well."""
    for part in bits(on):
        on |= learned.pairs.after[part]
    return on


def _said(learned: "Learned", said: str, part: int, others: int) -> Iterator[tuple[int, Source]]:
    """What was said of the part, or of those others: the sets that were on, with who said it."""
    evidence = learned.evidence
    for answer in learned.counted:
        about = evidence.index[answer.part]
        if answer.said == said and (about == part or others >> about & 1):
            yield evidence.mask(answer.on), answer


def _came_off_with(learned: "Learned", part: int) -> Iterator[tuple[int, Source]]:
    """Sets that were on when it came off, or would come off: what must be off before others came off with them, too."""
    for on, strip in learned.evidence.surely_on[part]:
        yield _with_what_follows(learned, on), learned.strips[strip]
    for on, source in _said(learned, "yes", part, learned.pairs.after[part]):
        yield _with_what_follows(learned, on), source


def allowed(learned: "Learned", part: int, on: int) -> Source | None:
    """Who says or saw that the part comes off with all of these on, at once; None if nobody."""
    return next((source for seen, source in _came_off_with(learned, part) if not on & ~seen), None)


def refused(learned: "Learned", part: int, on: int) -> Source | None:
    """Who says that the part does not come off with these on; None if nobody."""
    on = _with_what_follows(learned, on)
    held = _said(learned, "no", part, learned.pairs.before[part])
    return next((source for stuck, source in held if not stuck & ~on), None)


def least_off(learned: "Learned", part: int) -> list[int]:
    """The smallest sets that were off when the part came off, or said to be enough; none where it never came off."""
    everything = (1 << len(learned.parts)) - 1 & ~(1 << part)
    off = {everything & ~on for on, _ in _came_off_with(learned, part)}
    least = [one for one in off if not any(other != one and not other & ~one for other in off)]
    return sorted(least, key=lambda one: (one.bit_count(), one))


def ways_of(learned: "Learned", part: int) -> Ways:
    """The ways of a part as far as they are known, and what to ask next about them.

    A part has ways where it would not come off with only what must be off before it, off. Nothing else is taken for
    ways: that different sets were off before it in different strips is what free parts do, too.
    """
    everything = (1 << len(learned.parts)) - 1 & ~(1 << part)
    must = learned.blockers[part]
    least = least_off(learned, part)
    if not least or any(not one & ~must for one in least):
        return Ways()
    nos = [on for on, _ in _said(learned, "no", part, learned.pairs.before[part])]
    written = tuple(_needed_only(learned, one & ~must) for one in least)
    if not any(not on & must for on in nos):
        return Ways((), True, everything & ~must)  # are there ways at all?
    for one in least:
        ask = _smaller(learned, part, one, must, nos)
        if ask:
            return Ways(written, True, ask)
    combinations = 1
    for way in written:
        combinations *= way.bit_count()
    if combinations > MOST_COMBINATIONS:
        return Ways(written, True)
    for chosen in product(*(list(bits(way)) for way in written)):
        on = sum(1 << other for other in set(chosen))
        if not _stuck(_with_what_follows(learned, on), nos):
            return Ways(written, True, on)
    return Ways(written, False)


def spared(learned: "Learned", part: int, sure: int, ways: tuple[int, ...]) -> tuple[int, tuple[int, ...]]:
    """Blockers that were on as the part came off on a machine that lacks another part; and the ways, with that one.

    Where both sets of a part with ways need the cover off, the cover blocks it; but on a machine that lacks one of
    them, it does not. So the cover is written as a way, and beside it what was absent: on a whole machine that is never
    off while the cover is on, so nothing more becomes possible there.
    """
    seen = [one for one in learned.evidence.came_off_by_part[part] if one.on & sure]
    held = 0
    for one in seen:
        held |= one.on & sure
    if not held:
        return 0, ways
    written = [held | way for way in ways or (0,)]
    for one in seen:
        instead = 0
        for other in bits(one.on & held):
            instead |= learned.pairs.after[other] & one.gone
        way = next((way for way in ways or (0,) if not way & one.on), None)
        if way is not None and instead:
            written.append(way | instead | held & ~one.on)
    return held, tuple(dict.fromkeys(written))


def _needed_only(learned: "Learned", way: int) -> int:
    """Without what is off anyway, once the rest of the way is."""
    for other in bits(way):
        way &= ~learned.blockers[other]
    return way


def _stuck(on: int, nos: list[int]) -> bool:
    return any(not no & ~on for no in nos)


def _smaller(learned: "Learned", part: int, off: int, must: int, nos: list[int]) -> int:
    """What to leave on to find a smaller set within this one; 0 if each of its parts is needed."""
    after = learned.pairs.after
    everything = (1 << len(learned.parts)) - 1 & ~(1 << part)
    on = everything & ~off

    def without(parts: list[int]) -> int:
        left = on
        for other in parts:
            left |= 1 << other | after[other] & everything
        return left

    doubtful = [other for other in bits(_needed_only(learned, off & ~must)) if not _stuck(without([other]), nos)]
    gaps = learned.evidence.gaps[part]
    doubtful.sort(key=lambda other: -gaps.get(other, 0.0))
    while doubtful and _stuck(without(doubtful), nos):
        doubtful = doubtful[: len(doubtful) // 2]  # those farthest off in the strips are the least likely to be needed
    return without(doubtful) if doubtful else 0
