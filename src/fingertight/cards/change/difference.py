"""From one machine file to another: what changed in words, grouped by table, and what that means at a bench."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.change.words import Told, told
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.told.benches import for_benches
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card

HEADINGS = {
    "machine": "The machine",
    "engine": "The engine",
    "instrument": "Instruments",
    "part": "Parts",
    "check": "Sizes to measure",
    "setting": "Settings",
    "sign": "Sign-offs",
}


@dataclass(frozen=True)
class Changed(Card):
    """What changed of one table. kind: machine, engine, instrument, part, check, setting or sign; id: "" for a
    kind as a whole."""

    kind: str
    id: str
    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class DifferenceCard(Card):
    """What changed, table by table. same: the files say the same of the machine. benches: what is different for a job
    that goes on with the new file."""

    old: str
    new: str
    same: bool
    sentence: str
    changes: tuple[Changed, ...]
    benches: tuple[str, ...]


def difference_card(named: tuple[str, str], old: Anatomy, new: Anatomy, *, letter_for_letter: bool) -> DifferenceCard:
    """What changed from one file to the other? named: what the two are called. letter_for_letter: the texts are equal.

    >>> vice = Anatomy.model_validate({"format": 1, "machine": {"name": "Vice"}, "part": [{"id": "jaw"}]})
    >>> difference_card(("a", "b"), vice, vice, letter_for_letter=False).sentence
    'b says the same of the machine as a; only how it is written has changed.'
    """
    said = told(old, new)
    first, second = named
    sentence = f"{counted(len(said), 'change')} from {first} to {second}."
    if not said:
        sentence = f"{second} says the same of the machine as {first}; only how it is written has changed."
    if letter_for_letter:
        sentence = f"{second} is {first}, letter for letter."
    return DifferenceCard(first, second, not said, sentence, grouped(said), for_benches(old, new))


def grouped(said: Sequence[Told]) -> tuple[Changed, ...]:
    """The sentences of each table together, in the order of a machine file."""
    found: dict[tuple[str, str], list[Told]] = {}
    for one in sorted(said, key=lambda one: list(HEADINGS).index(one.kind)):
        found.setdefault((one.kind, one.id), []).append(one)
    return tuple(
        Changed(kind, table, several[0].title, tuple(one.sentence for one in several))
        for (kind, table), several in found.items()
    )
