"""The answer to a sum: one shape that the terminal and the pages show, beside each card's own numbers for programs."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fingertight.cards.card import Card

if TYPE_CHECKING:
    from fingertight.cards.pictures.bolts import BoltPicture
    from fingertight.cards.pictures.drawing import Drawing

FIRST = "Makers’ data, the workshop’s rules, local law and licensed practice come first."


@dataclass(frozen=True)
class Section(Card):
    """Rows under a heading. Without `columns` each row is what it is about and what there is to know."""

    heading: str
    rows: tuple[tuple[str, ...], ...]
    columns: tuple[str, ...] = ()


@dataclass(frozen=True)
class Curve(Card):
    """Steps with a bar each: what they are, what each step is called, and its height as a share of 1 or more."""

    name: str
    steps: tuple[str, ...]
    heights: tuple[float, ...]


@dataclass(frozen=True)
class Answer(Card):
    """What a person reads: the answer in a sentence or two, the tables behind it, what to mind, where it is from."""

    title: str
    lead: tuple[str, ...]
    sections: tuple[Section, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    picture: "BoltPicture | None" = None
    picture_says: str = ""
    curves: tuple[Curve, ...] = ()
    drawings: "tuple[Drawing, ...]" = ()


@dataclass(frozen=True)
class SumCard(Card):
    """A sum's numbers for programs. Each kind of sum adds its fields, and says its answer to people."""

    @property
    def answer(self) -> Answer:
        """The same as a page."""
        raise NotImplementedError(type(self).__name__)

    @property
    def is_no(self) -> bool:
        """Whether the answer is no: there is no such thread, or it must not be done."""
        return False


def either(names: Sequence[str]) -> str:
    """The names to choose from, as in a sentence.

    >>> either(["10 mm", "8 mm", "5 mm"]), either(["M6"])
    ('10 mm, 8 mm or 5 mm', 'M6')
    """
    return f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else "".join(names)
