"""A whole spilled tray, sorted into the holes of one machine."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.tighten.places import FIGURES, SURE, name_of, percent, title_of, where
from fingertight.ledger.asked.openholes import OpenHoles, Swapped, as_holes, holes_of, open_holes, swapped
from fingertight.ledger.state import State
from fingertight.quantity import NotUnderstood
from fingertight.tighten.bolts.match import sort_tray
from fingertight.tighten.bolts.told import Told, read_loose

_MOST_LINES = 100
_REMARK = re.compile(r"\s*#(?![0-9])")
"""A line that begins with # is a remark, but #10-24 is a thread."""


@dataclass(frozen=True)
class SortedCard(Card):
    """Bolts of one line of the tray that belong to one place: part None is none of this machine's."""

    said: str
    count: int
    part: str | None
    place: str | None
    set: int | None
    name: str
    title: str
    probability: float


@dataclass(frozen=True)
class SwapCard(Card):
    """Two lots nobody can tell apart: both titles with names, whether a swap matters, and why."""

    first: str
    second: str
    matters: bool
    because: str


@dataclass(frozen=True)
class LeftCard(Card):
    """Holes that are still without a bolt after the tray is sorted."""

    part: str
    place: str | None
    set: int
    name: str
    title: str
    count: int


@dataclass(frozen=True)
class TrayCard(SumCard):
    """A spilled tray, sorted."""

    machine: str
    bolts: int
    sorted: tuple[SortedCard, ...]
    swaps: tuple[SwapCard, ...]
    left: tuple[LeftCard, ...]
    job: bool

    @property
    def is_no(self) -> bool:
        """Whether some bolt is none of this machine's, or a swap that nobody would see matters."""
        return any(one.part is None for one in self.sorted) or any(swap.matters for swap in self.swaps)

    @property
    def answer(self) -> Answer:
        """Where each belongs, what nobody can tell apart, and what is still missing."""
        foreign = sum(one.count for one in self.sorted if one.part is None)
        doubtful = sum(one.count for one in self.sorted if one.probability < SURE)
        lead = [
            f"{self.bolts - foreign} of {counted(self.bolts, 'bolt')} {'has' if self.bolts == 1 else 'have'} a place."
        ]
        if foreign:
            lead.append(f"{foreign} {'is' if foreign == 1 else 'are'} none of this machine’s, or read wrongly.")
        if doubtful:
            lead.append(f"{doubtful} {'is' if doubtful == 1 else 'are'} in doubt: look at the last table.")
        return Answer(
            title=f"{self.machine}: the tray, sorted",
            lead=tuple(lead),
            sections=(
                Section(
                    "Where they belong",
                    tuple(
                        (f"{one.count} ×", one.said, one.title, one.name, percent(one.probability))
                        for one in self.sorted
                    ),
                    ("", "told as", "part", "fastener", "how sure"),
                ),
                Section("Still without a bolt", tuple((f"{one.count} ×", one.name, one.title) for one in self.left)),
                Section(
                    "Nobody can tell these apart",
                    tuple((f"{one.first} and {one.second}: {one.because}.",) for one in self.swaps),
                ),
            ),
            notes=(FIGURES,),
        )


def tray_card(anatomy: Anatomy, lines: Sequence[str], state: State | None = None) -> TrayCard:
    """Where does each bolt of a tray belong? lines: one kind of bolt each; empty lines are passed over.

    Raises NotUnderstood with the line that is not understood.
    """
    told = _tray(lines)
    places = open_holes(state) if state else holes_of(anatomy)
    bolts = [one.bolt for one in told for _ in range(one.count)]
    found = sort_tray(bolts, as_holes(places))
    line_of = [number for number, one in enumerate(told) for _ in range(one.count)]
    lots = list(zip(line_of, found.holes, strict=True))
    sure = dict(zip(lots, found.sure, strict=True))
    swaps = dict.fromkeys(tuple(sorted((lots[one.first][1] or 0, lots[one.second][1] or 0))) for one in found.swaps)
    return TrayCard(
        machine=anatomy.machine.name,
        bolts=len(bolts),
        sorted=tuple(
            _sorted_card(anatomy, places, (told[line], hole), count, sure[line, hole])
            for (line, hole), count in Counter(lots).items()
        ),
        swaps=tuple(_swap_card(anatomy, places[one], places[other]) for one, other in swaps),
        left=tuple(_left(anatomy, places, Counter(found.holes))),
        job=state is not None,
    )


def _tray(lines: Sequence[str]) -> list[Told]:
    said = [(number, line) for number, line in enumerate(lines, 1) if line.strip() and not _REMARK.match(line)]
    if not said:
        raise NotUnderstood("The tray is empty; write one kind of bolt a line, for example 6 x M6x28 hex flange.")
    if len(said) > _MOST_LINES:
        raise NotUnderstood(f"The tray has {len(said)} lines; {_MOST_LINES} are the most that are sorted at once.")
    told = []
    for number, line in said:
        try:
            told.append(read_loose(line))
        except NotUnderstood as slip:
            raise NotUnderstood(f"Line {number}: {slip}") from None
    return told


def _sorted_card(
    anatomy: Anatomy, places: Sequence[OpenHoles], lot: tuple[Told, int | None], count: int, probability: float
) -> SortedCard:
    told, hole = lot
    if hole is None:
        return SortedCard(told.said, count, None, None, None, "", "none of this machine’s", probability)
    one = places[hole]
    return SortedCard(told.said, count, *where(one), name_of(one), title_of(anatomy, one), probability)


_BECAUSE = {
    Swapped.ALIKE: "it does not matter: same thread, length, head and class",
    Swapped.HEAD: "it does not matter to the thread; the heads differ, so the spanners do",
    Swapped.CLASS: "it matters: they are of different classes; read the marks on the heads",
    Swapped.LENGTH: "it matters little: both hold in both, but measure them against each other",
    Swapped.TOO_LONG: "it matters: one is too long for the other’s hole and bottoms; lay them side by side",
    Swapped.TOO_SHORT: "it matters: one is too short for the other’s hole; lay them side by side",
}
_MATTERS = {Swapped.CLASS, Swapped.TOO_LONG, Swapped.TOO_SHORT}


def _swap_card(anatomy: Anatomy, one: OpenHoles, other: OpenHoles) -> SwapCard:
    what = swapped(one.fasteners, other.fasteners)
    first, second = (f"{name_of(place)} of {title_of(anatomy, place)}" for place in (one, other))
    return SwapCard(first, second, what in _MATTERS, _BECAUSE[what])


def _left(anatomy: Anatomy, places: Sequence[OpenHoles], placed: Counter[int | None]) -> Iterator[LeftCard]:
    """Where bolts are still missing: at sets that got one, and at those that were counted short."""
    for hole, one in enumerate(places):
        count = one.left(placed[hole])
        if count and (placed[hole] or one.short):
            yield LeftCard(*where(one), name_of(one), title_of(anatomy, one), count)
