"""How a class gets on at reading instruments: by person and instrument, and which slip is commonest."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.measure.exercise import told_of
from fingertight.measure.scales.kinds import KINDS
from fingertight.measure.scales.misread import Misread, setting_for
from fingertight.quantity import NotUnderstood

LATELY = 10


@dataclass(frozen=True)
class Tried:
    """One attempt as it was kept: by whom ("" where nobody said), at which instrument, its seed, and what was typed."""

    who: str
    name: str
    seed: int
    typed: str


@dataclass(frozen=True)
class RecordRow(Card):
    """One person at one instrument: how often, how many of the last ten were right, the commonest slip."""

    who: str
    instrument: str
    attempts: int
    lately: int
    right_lately: int
    slip: str


@dataclass(frozen=True)
class RecordCard(Card):
    """The class: rows by person, and in a sentence what goes wrong most."""

    rows: tuple[RecordRow, ...]
    sentence: str
    slips: tuple[tuple[str, int], ...]


def record_card(attempts: Iterable[Tried]) -> RecordCard:
    """What do all attempts say, the earliest first?

    >>> record_card([]).sentence
    'Nobody has practised yet.'
    """
    groups: dict[tuple[str, str], list[Misread]] = {}
    for one in attempts:
        if (slip := _slip_of(one)) is not None:
            groups.setdefault((one.who, one.name), []).append(slip)
    rows = tuple(_row(who, name, slips) for (who, name), slips in sorted(groups.items()))
    every = [slip for slips in groups.values() for slip in slips]
    wrong = Counter(slip.value for slip in every if slip is not Misread.NONE)
    return RecordCard(rows, _sentence(len(every), wrong), tuple(wrong.most_common()))


def _slip_of(one: Tried) -> Misread | None:
    """The slip of an attempt, worked out anew; None for an instrument that is drawn no more."""
    scales = KINDS.get(one.name)
    if scales is None:
        return None
    try:
        return told_of(one.typed, setting_for(one.seed, scales), scales).slip
    except NotUnderstood:
        return None


def _row(who: str, name: str, slips: Sequence[Misread]) -> RecordRow:
    lately = slips[-LATELY:]
    wrong = Counter(slip.value for slip in lately if slip is not Misread.NONE)
    right = sum(slip is Misread.NONE for slip in lately)
    commonest = wrong.most_common(1)[0][0] if wrong else ""
    return RecordRow(who or "no mark", KINDS[name].title, len(slips), len(lately), right, commonest)


def _sentence(many: int, wrong: Counter[str]) -> str:
    if not many:
        return "Nobody has practised yet."
    right = many - wrong.total()
    said = f"{right} of {many} readings were right to the line."
    if not wrong:
        return said
    slip, times = wrong.most_common(1)[0]
    return f"{said} What goes wrong most: {slip} ({times} {'time' if times == 1 else 'times'})."
