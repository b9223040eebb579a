"""Whose bolt is this? The holes of one machine to which a bolt from the floor may belong."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.tighten.places import FIGURES, SURE, name_of, percent, title_of, where
from fingertight.ledger.asked.openholes import Lacks, OpenHoles, as_holes, holes_of, open_holes, takes
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State
from fingertight.quantity import NotUnderstood, plain
from fingertight.tighten.bolts.match import whose
from fingertight.tighten.bolts.reach import Reach
from fingertight.tighten.bolts.told import Told, read_loose
from fingertight.tighten.threads.names import thread_named

_MOST_MISFITS = 5
_WHY = {
    Lacks.MISSING: "one is missing there",
    Lacks.OFF: "it is off, and its bag was not found short",
    Lacks.ON: "it is on the machine: was one left out?",
    Lacks.ANY: "",
}


@dataclass(frozen=True)
class HoleCard(Card):
    """Where a bolt may belong: the part, its place, its fastener set from 0, the set's name in counts, how probable."""

    part: str
    place: str | None
    set: int
    name: str
    title: str
    probability: float
    lacks: str
    engaged_mm: float | None


@dataclass(frozen=True)
class MisfitCard(Card):
    """Holes the bolt would go into and must not: too long by, or too short by, so much."""

    part: str
    place: str | None
    set: int
    name: str
    title: str
    fits: str
    by_mm: float


@dataclass(frozen=True)
class BoltCard(SumCard):
    """One loose bolt: the holes it may belong to, most probable first; foreign: none of this machine's."""

    machine: str
    said: str
    holes: tuple[HoleCard, ...]
    misfits: tuple[MisfitCard, ...]
    foreign: float
    job: bool

    @property
    def is_no(self) -> bool:
        """Whether it is more probably none of this machine's."""
        return self.foreign > 0.5

    @property
    def answer(self) -> Answer:
        """Where it belongs, how sure, and where it must not go."""
        return Answer(
            title=f"{self.machine}: whose is “{self.said}”?",
            lead=_bolt_lead(self),
            sections=(
                Section(
                    "Where it may belong",
                    tuple((one.title, one.name, percent(one.probability), one.lacks) for one in self.holes),
                    ("part", "fastener", "how sure", ""),
                ),
                Section("Where it goes in and must not", _misfit_rows(self.misfits)),
            ),
            cautions=("A bolt that bottoms feels tight and clamps nothing; one too short strips its hole.",)
            if self.misfits
            else (),
            notes=(FIGURES,),
        )


def bolt_card(anatomy: Anatomy, text: str, state: State | None = None) -> BoltCard:
    """Whose is this bolt? state: of a job, so that what is missing there comes first.

    Raises NotUnderstood when the bolt is not told in a way that is understood, or several are.
    """
    told = read_loose(text)
    if told.count != 1:
        raise NotUnderstood(f"“{told.said[:60]}” is {told.count} bolts; ask for one, or sort them as a tray.")
    places = open_holes(state) if state else holes_of(anatomy)
    found = whose(told.bolt, as_holes(places))
    return BoltCard(
        machine=anatomy.machine.name,
        said=told.said,
        holes=tuple(_hole_card(anatomy, places[one.hole], one.probability, told) for one in found.chances),
        misfits=_misfits(anatomy, places, told),
        foreign=found.foreign,
        job=state is not None,
    )


def _bolt_lead(card: BoltCard) -> tuple[str, ...]:
    if not card.holes or card.is_no:
        said = "It is none of this machine’s, as far as it was told."
        near = card.misfits[:1]
        return (said, *(f"{one.title}: it goes in there, and is {_misfit(one)}." for one in near))
    best = card.holes[0]
    alike = [one for one in card.holes[1:] if one.probability > best.probability / 3]
    if best.probability >= SURE:
        said = f"It belongs to {best.title}: {best.name}."
    elif alike:
        said = f"It may belong to {listed([best.title, *(one.title for one in alike)], 'or')}."
    else:
        said = f"Most likely it belongs to {best.title}: {best.name}."
    return (said, f"{best.title}: {best.lacks}{'' if best.lacks.endswith('?') else '.'}") if best.lacks else (said,)


def _hole_card(anatomy: Anatomy, one: OpenHoles, probability: float, told: Told) -> HoleCard:
    reached = takes(one.fasteners, told.bolt.length_mm)
    return HoleCard(
        *where(one),
        name=name_of(one),
        title=title_of(anatomy, one),
        probability=probability,
        lacks=_WHY[one.lacks],
        engaged_mm=reached.engaged_mm if reached else None,
    )


def _misfits(anatomy: Anatomy, places: Sequence[OpenHoles], told: Told) -> tuple[MisfitCard, ...]:
    """Holes of a thread it is known to have, where its length does harm."""
    threads = {name for name, times in told.bolt.threads if times > 1.0}
    found = []
    for one in places:
        reached = takes(one.fasteners, told.bolt.length_mm)
        if reached and reached.word is not Reach.HOLDS and thread_named(one.fasteners.thread or "").name in threads:
            fits = (*where(one), name_of(one), title_of(anatomy, one), reached.word.value, reached.by_mm)
            found.append(MisfitCard(*fits))
    return tuple(sorted(found, key=lambda one: one.by_mm))


def _misfit_rows(misfits: Sequence[MisfitCard]) -> tuple[tuple[str, ...], ...]:
    """The nearest first: they tempt most."""
    rows = [(one.title, one.name, _misfit(one)) for one in misfits[:_MOST_MISFITS]]
    more = len(misfits) - _MOST_MISFITS
    return (*rows, ("and besides", f"{more} more sets", "further off still")) if more > 0 else tuple(rows)


def _misfit(one: MisfitCard) -> str:
    by = plain(round(one.by_mm, 1))
    return (
        f"{by} mm too long: it bottoms before it clamps"
        if one.fits == Reach.TOO_LONG.value
        else f"{by} mm too short to hold"
    )
