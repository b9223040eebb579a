"""Good, worn, or too close to call: a size against its limits, with its uncertainty."""

from dataclasses import dataclass
from enum import StrEnum


class Word(StrEnum):
    """The three verdicts."""

    GOOD = "good"
    WORN = "worn"
    CLOSE = "too close to call"


@dataclass(frozen=True, slots=True)
class Verdict:
    """A verdict, the value it rests on, how far inside the limit that is (negative: past it), and the uncertainty U."""

    word: Word
    worst: float
    margin: float
    uncertainty: float


def judged(value: float, smallest: float | None, largest: float | None, uncertainty: float = 0.0) -> Verdict:
    """Is this size within its limits, past them, or too near to tell?

    good: the whole interval value ± U lies within the limits; worn: the whole interval lies past one; else too close.
    `uncertainty` is U, expanded with k = 2; all in one unit. A size exactly on its limit with U = 0 is good.

    >>> judged(68.071, None, 68.165, 0.008).word.value
    'good'
    >>> judged(68.160, None, 68.165, 0.008).word.value
    'too close to call'

    Source: decision rule of ISO 14253-1:2017 (conformity and nonconformity each proven with U), JCGM 106:2012 clause 8.
    Raises ValueError when there is no limit to judge by.
    """
    margins = []
    if largest is not None:
        margins.append(largest - value)
    if smallest is not None:
        margins.append(value - smallest)
    if not margins:
        raise ValueError("there is no limit to judge by")
    margin = min(margins)
    # What is left of the last digit after a subtraction of two readings is no evidence of wear.
    grain = 1e-9 * max(1.0, abs(value))
    if margin >= uncertainty - grain:
        word = Word.GOOD
    elif margin < -uncertainty - grain:
        word = Word.WORN
    else:
        word = Word.CLOSE
    return Verdict(word, value, margin, uncertainty)


def sternest(verdicts: list[Verdict]) -> Verdict:
    """Of several verdicts on one check the one that decides: worn before too close before good; among equals the first.

    >>> sternest([judged(1, None, 2), judged(3, None, 2)]).word.value
    'worn'
    """
    rank = {Word.WORN: 0, Word.CLOSE: 1, Word.GOOD: 2}
    return min(verdicts, key=lambda verdict: rank[verdict.word])
