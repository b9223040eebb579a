"""How sure a size is, in words and rows: shared by the sums about measuring and by the bench."""

import math
from collections.abc import Callable

from fingertight.cards.sums.answer import Section
from fingertight.measure.verdict import RULES as DECISIONS
from fingertight.measure.verdict import Settling, Way, Word, guard_band, judged
from fingertight.quantity import plain, shown
from fingertight.uncertainty.budget import Budget

RULES = (
    "decision rule: ISO 14253-1:2017, good and worn each proven with the uncertainty",
    "chances: JCGM 106:2012, clause 7",
    "budget: GUM (JCGM 100:2008)",
)


def chance_words(chance: float) -> str:
    """A chance as a person says it.

    >>> [chance_words(chance) for chance in (0.5, 0.17, 0.003, 0.0000001, 0.92)]
    ['about 1 in 2', 'about 1 in 6', 'about 3 in 1,000', 'less than 1 in 10,000', 'about 92 in 100']
    """
    if chance < 1e-4:
        return "less than 1 in 10,000"
    if chance < 5e-4:
        return "less than 1 in 1,000"
    if chance > 1 - 5e-4:
        return f"more than {'9,999 in 10,000' if chance > 1 - 1e-4 else '999 in 1,000'}"
    if chance < 0.01:
        return f"about {max(round(chance * 1000), 1)} in 1,000"
    if chance > 0.99:
        return f"about {min(round(chance * 1000), 999)} in 1,000"
    if chance <= 0.5:
        one_in = 1 / chance
        if abs(one_in - round(one_in)) < 0.2 and one_in < 20.5:
            return f"about 1 in {round(one_in)}"
    return f"about {round(chance * 100)} in 100"


def risk_words(word: Word, chance_good: float) -> str:
    """How likely it is to be wrong, either way.

    >>> risk_words(Word.GOOD, 0.997)
    'The chance that it is worn all the same: about 3 in 1,000.'
    """
    bad, good = chance_words(1 - chance_good), chance_words(chance_good)
    if word is Word.GOOD:
        return f"The chance that it is worn all the same: {bad}."
    if word is Word.WORN:
        return f"The chance that it is good all the same: {good}."
    return f"Called good, it would be worn {bad} times; called worn, good {good} times."


def sized(size: float) -> str:
    """A size of the budget with three figures that mean something.

    >>> sized(0.0028868), sized(0.0000123), sized(1.5)
    ('0.00289', '0.0000123', '1.5')
    """
    return plain(float(f"{size:.3g}"))


def budget_section(budget: Budget, unit: str) -> Section:
    """The budget line by line: what causes it, what it adds, and how much of the whole."""
    rows = [
        (
            line.source,
            line.note,
            {"rectangular": "÷ √3 or √12", "triangular": "÷ √6", "u-shaped": "÷ √2"}.get(line.shape, ""),
            sized(line.part) if line.part else "–",
            f"{round(100 * budget.share(line))} %" if line.part else "",
        )
        for line in budget.lines
    ]
    k, dof = budget.coverage, budget.dof
    freedom = "" if dof > 1e6 else f"{dof:.1f} degrees of freedom"
    rows.append(("all together, u", "", "√ of the sum of squares", sized(budget.standard), ""))
    rows.append((f"U = {k:.2f} · u", freedom, "95 of 100 times", sized(budget.expanded), ""))
    return Section("Budget", tuple(rows), ("cause", "", "", unit, "share"))


def rules_section(size: float, within: tuple[float | None, float | None], budget: Budget, unit: str) -> Section:
    """What each published way to decide says of this size; the last is the one that counts here."""
    rows = []
    for rule in DECISIONS:
        # Between none and the whole of U the guard band hangs on how many degrees of freedom there are.
        some = 0 < rule.guard < 1
        share = guard_band(1 - rule.wrong_at_most, budget.coverage, budget.dof) if some else rule.guard
        by = share * budget.expanded
        rows.append(
            (
                rule.name,
                f"{sized(by)} {unit}" if by else "none",
                judged(size, *within, by).word.value,
                f"{round(100 * rule.wrong_at_most, 1):g} in 100",
                rule.source,
            )
        )
    return Section("Ways to decide", tuple(rows), ("how sure", "inside by", "says", "wrong in at most", "from"))


def settled_words(settling: Settling, size: Callable[[float], str]) -> str:
    """What to do, in one sentence; `size` says an uncertainty with its unit."""
    then = f"± {size(settling.uncertainty)}"
    if settling.way is Way.READ_AGAIN:
        return f"{settling.readings} readings of this spot in all, if they scatter as these do, would settle it."
    if settling.way is Way.BETTER_INSTRUMENT:
        return f"{settling.instrument} would settle it: it would be {then}."
    if settling.way is Way.LET_IT_COOL:
        return f"Let part and instrument come to 20 °C and read again: it would be {then}."
    return "No reading and no instrument here would settle it: the instructor decides, or it is renewed."


def with_its_doubt(size: float, unsure: float) -> str:
    """A size with its expanded uncertainty: that with two figures, rounded up, and the size no finer.

    >>> with_its_doubt(68.15333, 0.00816), with_its_doubt(68.15, 0.0)
    ('68.1533 ± 0.0082', '68.15')

    Source: GUM (JCGM 100:2008) 7.2.6.
    """
    if unsure <= 0:
        return plain(round(size, 6))
    step = 10.0 ** (math.floor(math.log10(unsure)) - 1)
    up = math.ceil(round(unsure / step, 6)) * step
    return f"{shown(size, step)} ± {shown(up, step)}"


def verdict_words(word: Word) -> str:
    """The verdict at the beginning of a sentence."""
    return str(word).capitalize()
