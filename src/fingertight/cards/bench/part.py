"""One part by itself: where it is, what holds it, what stands in its way, and what was done with it."""

from dataclasses import dataclass

from fingertight.anatomy.model import Part
from fingertight.cards.bench.moves import Fact, facts_of
from fingertight.cards.bench.page import FlagCard, JobName, flag_card
from fingertight.cards.bench.words import listed, why_not_off, why_not_on
from fingertight.cards.card import Card
from fingertight.cards.pictures.bolts import BoltPicture, bolt_picture
from fingertight.cards.workshop.log import LogLine, log_lines
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import State


@dataclass(frozen=True)
class PieceCard(Card):
    """One piece, and where it is."""

    name: str
    sentence: str


@dataclass(frozen=True)
class PartCard(Card):
    """All there is to know about one part at one bench. `why` says why it may not move now; "" when it may."""

    job: JobName
    part: str
    title: str
    pieces: tuple[PieceCard, ...]
    free: bool
    why: str
    facts: tuple[Fact, ...]
    picture: BoltPicture | None
    cautions: tuple[str, ...]
    stands: tuple[str, ...]
    things: tuple[str, ...]
    history: tuple[LogLine, ...]
    flags: tuple[FlagCard, ...]


def part_card(job: JobName, ledger: Ledger, part_id: str) -> PartCard:
    """Where is this part, what held it, why does it not move yet, and what was done with it?

    Raises KeyError when the machine has no such part.
    """
    state = ledger.state
    part = state.plan.anatomy.part_by_id[part_id]
    about = {entry.id for entry in ledger.entries if entry.said.get("part") == part_id}
    may = part_id in {*state.moves.may_come_off(), *state.moves.may_go_on()}
    return PartCard(
        job=job,
        part=part_id,
        title=part.title,
        pieces=tuple(_piece(state, part, place) for place in part.places or (None,)),
        free=may,
        why="" if may else _why(state, part),
        facts=_facts(part),
        picture=bolt_picture(part.held_by, tightening=state.moves.is_off(part_id)),
        cautions=part.cautions,
        stands=_stands(state, part),
        things=tuple(part.bag_holds),
        history=tuple(line for line in log_lines(ledger) if line.entry in about)[::-1],
        flags=tuple(flag_card(flag) for flag in state.flags.open() if flag.part == part_id),
    )


def _piece(state: State, part: Part, place: str | None) -> PieceCard:
    slot = (part.id, place)
    name = f"{part.title}, {place}:" if place else ""
    if state.moves.is_absent(part.id):
        return PieceCard(name, "This machine does not have it.")
    if slot in state.lies:
        bag = state.lies[slot]
        return PieceCard(name, f"Off, in bag {bag}." if bag else "Off; nobody said in which bag.")
    if slot in state.empty:
        return PieceCard(name, "Off; what belongs here sits in another place.")
    return PieceCard(name, "On the machine; it never comes off." if part.stays else "On the machine.")


def _why(state: State, part: Part) -> str:
    titles = {other: plan.title for other, plan in state.plan.parts.items()}
    if part.stays or state.moves.is_absent(part.id):
        return ""
    if state.moves.is_off(part.id):
        return why_not_on(state.moves.not_yet(part.id), titles)
    return why_not_off(state.moves.in_the_way(part.id), titles)


def _facts(part: Part) -> tuple[Fact, ...]:
    """What is said for taking off and for fitting, each line once."""
    both = [*facts_of(part, "off"), *facts_of(part, "on")]
    return tuple(dict.fromkeys(both))


def _stands(state: State, part: Part) -> tuple[str, ...]:
    """Who stands in its way, and in whose way it stands, as the machine's file says it."""
    plan = state.plan
    said = []
    if part.behind:
        said.append(f"Behind {plan.titles(part.behind)}.")
    if part.ways:
        said.append(f"Ways out: {listed((plan.titles(way) for way in part.ways), 'or')}.")
    if part.fit_after:
        said.append(f"Fitted after {plan.titles(part.fit_after)}.")
    hides = [
        other.id for other in plan.anatomy.parts if part.id in other.behind or any(part.id in way for way in other.ways)
    ]
    if hides:
        said.append(f"In the way of {plan.titles(hides)}.")
    return tuple(said)
