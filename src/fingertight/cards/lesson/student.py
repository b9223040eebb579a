"""What one person has done with their own hands, and what not yet."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.lesson.hands import Did, Hands


@dataclass(frozen=True)
class DoneLine(Card):
    """One kind of work: how often, and what."""

    title: str
    sentence: str
    what: tuple[str, ...]


@dataclass(frozen=True)
class StudentCard(Card):
    """Somebody's work over all their benches. not_yet: sentences; uneven: where one of a pair does nearly all."""

    name: str
    benches: tuple[str, ...]
    sentence: str
    done: tuple[DoneLine, ...]
    not_yet: tuple[str, ...]
    uneven: tuple[str, ...]


_KINDS = (
    ("off", "Took off", "move"),
    ("on", "Fitted", "move"),
    ("passes", "Tightened to a torque", "pass"),
    ("readings", "Measured", "reading"),
    ("settings", "Set", "setting"),
    ("signs", "Shown for a sign-off", "sign-off"),
    ("counts", "Counted", "count"),
)


def student_card(
    name: str, benches: Sequence[str], hands: Hands, not_yet: Sequence[str], uneven: Sequence[str]
) -> StudentCard:
    """What did somebody do, and what not yet?"""
    done = [_line(title, word, getattr(hands, field)) for field, title, word in _KINDS]
    total = sum(len(getattr(hands, field)) for field, _, _ in _KINDS)
    sentence = f"{counted(total, 'entry')} with their own hands." if total else "Nothing with their own hands yet."
    return StudentCard(
        name, tuple(benches), sentence, tuple(line for line in done if line.what), tuple(not_yet), tuple(uneven)
    )


def _line(title: str, word: str, done: Sequence[Did]) -> DoneLine:
    return DoneLine(title, counted(len(done), word), tuple(dict.fromkeys(one.what for one in done)))
