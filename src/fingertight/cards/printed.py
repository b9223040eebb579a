"""What was put on paper: which labels, on how many sheets, in which file."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.cards.card import Card
from fingertight.cards.labels import Label


@dataclass(frozen=True)
class PrintedLabel(Card):
    """One label: the bag's number, what lies in it, and the short code by which it is found again."""

    bag: str
    part: str
    place: str | None
    code: str


@dataclass(frozen=True)
class PrintedCard(Card):
    """A file of labels, ready for the printer."""

    file: str
    sheet: str
    pages: int
    labels: tuple[PrintedLabel, ...]
    machine: Annotated[str, Field(exclude=True)]
    sheet_says: Annotated[str, Field(exclude=True)]


def printed_card(
    labels: Sequence[Label], *, file: str, machine: str, sheet: tuple[str, str, int], start_at: int
) -> PrintedCard:
    """What stands in the file. `sheet`: its name, what it is for people, and how many labels it has."""
    name, says, on_one = sheet
    return PrintedCard(
        file=file,
        sheet=name,
        pages=-(-(len(labels) + start_at - 1) // on_one),
        labels=tuple(PrintedLabel(label.bag, label.part, label.place, label.code) for label in labels),
        machine=machine,
        sheet_says=says,
    )
