"""Strips that others did of the same machine: what each would teach, and which are added already."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.order.learn import Learned, Strip, saw


@dataclass(frozen=True)
class StripRow(Card):
    """One strip as it is shown. teaches: what it would settle, in a sentence."""

    job: str
    label: str
    teaches: str
    is_added: bool


@dataclass(frozen=True)
class StripsCard(Card):
    """All of them, and what speaks against something else."""

    rows: tuple[StripRow, ...]
    contradictions: tuple[str, ...]


def strips_card(learned: Learned, strips: Mapping[str, Strip], added: Collection[str]) -> StripsCard:
    """Which strips are there, and what would each teach beyond what is known?

    strips: with parts by name, under the address of the job each is of. added: the labels of those that count already.
    """
    return StripsCard(
        rows=tuple(
            StripRow(job, one.label, _teaches(learned, one, added), one.label in added) for job, one in strips.items()
        ),
        contradictions=tuple(one.sentence for one in learned.contradictions),
    )


def _teaches(learned: Learned, strip: Strip, added: Collection[str]) -> str:
    off = f"{counted(len(strip.order), 'part')} off"
    if strip.label in added:
        return f"{off}; added."
    fewer = learned.unsettled() - saw(learned, strip).unsettled()
    if fewer <= 0:
        return f"{off}; nothing new: they came off in an order that is known to be possible."
    return f"{off}; settles {counted(fewer, 'pair')} of parts: one came off with the other still on."
