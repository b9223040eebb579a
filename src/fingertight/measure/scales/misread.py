"""Practice at reading: a random setting, and the slip that explains what was read instead."""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from fingertight.measure.scales.kinds import Scales
from fingertight.measure.scales.shows import reading_of, shown_at, steps_of
from fingertight.measure.slips import turned_round


class Misread(StrEnum):
    """Why a reading was not right; NONE when it was."""

    NONE = "right to the line"
    TURN = "a turn missed"
    MARK = "a mark of the main scale too many or too few"
    LINE = "the line beside"
    VERNIER = "the vernier taken for whole steps"
    TENTH = "the last figure"
    TENFOLD = "the decimal mark"
    UNIT = "inch for millimetre"
    TURNED = "two digits turned round"
    SIGN = "the sign"
    FAR = "something else"


@dataclass(frozen=True, slots=True)
class Told:
    """What was read against what was set: how far off [unit], and the likeliest slip."""

    set_to: float
    off_by: float
    slip: Misread


def setting_for(seed: int, scales: Scales) -> float:
    """The setting that belongs to a seed: any step of the instrument, as likely as any other.

    >>> from fingertight.measure.scales.kinds import KINDS
    >>> 0 <= setting_for(7, KINDS["micrometer-0.01"]) <= 25
    True
    """
    low, high = (round(end / scales.step) for end in scales.range)
    return round(random.Random(f"{scales.name} {seed}").randint(low, high) * scales.step, 6)


def told(read: float, set_to: float, scales: Scales) -> Told:
    """How far off is this reading, and which slip would explain it?

    >>> from fingertight.measure.scales.kinds import KINDS
    >>> told(17.38, 17.88, KINDS["micrometer-0.01"]).slip.value
    'a turn missed'
    """
    off_by = round(read - set_to, 6)
    if steps_of(read, scales) == steps_of(set_to, scales) and abs(off_by) < scales.step / 2:
        return Told(set_to, off_by, Misread.NONE)
    slip = next(
        (slip for slip, would in _would_read(set_to, scales) if abs(read - would) < 0.51 * scales.step), Misread.FAR
    )
    return Told(set_to, off_by, slip)


def _would_read(set_to: float, scales: Scales) -> Iterator[tuple[Misread, float]]:
    """What each slip makes of a setting, the usual ones first."""
    shown = shown_at(set_to, scales)
    if scales.turn is not None:
        for turns in (-1, 1):
            yield Misread.TURN, set_to + turns * scales.turn
    else:
        for marks in (-1, 1):
            yield Misread.MARK, set_to + marks * scales.mark
        yield Misread.VERNIER, shown.whole + shown.line * (0.01 if scales.unit == "mm" else scales.step * 0.1)
    if scales.vernier:
        yield Misread.TENTH, reading_of(shown_at(set_to - shown.tenth * scales.step, scales), scales)
        for tenths in (-2, -1, 1, 2):
            yield Misread.TENTH, set_to + tenths * scales.step
        for lines in (-1, 1):
            yield Misread.LINE, set_to + lines * scales.vernier * scales.step
    else:
        for lines in (-1, 1, -2, 2):
            yield Misread.LINE, set_to + lines * scales.step
    yield Misread.SIGN, -set_to
    for times in (0.1, 10, 0.01, 100):
        yield Misread.TENFOLD, set_to * times
    for times in (25.4, 1 / 25.4):
        yield Misread.UNIT, set_to * times
    for other in turned_round(set_to):
        yield Misread.TURNED, other
    if scales.turn is None:
        for marks in (-10, -5, 5, 10):
            yield Misread.MARK, set_to + marks * scales.mark
    else:
        yield Misread.MARK, set_to + (1 if scales.unit == "mm" else 0.1)
        yield Misread.MARK, set_to - (1 if scales.unit == "mm" else 0.1)
