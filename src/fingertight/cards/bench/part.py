"""One part by itself: where it is, what holds it, what stands in its way, and what was done with it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fingertight.anatomy.model import Part
from fingertight.cards.bench.bags import Bags, CountedKey, holds_counted, suggested_bag
from fingertight.cards.bench.due import TORQUE_UNITS
from fingertight.cards.bench.moves import Ask, Fact, MoveCard, QuestionCard, Way, facts_of, move_card, notes_asked
from fingertight.cards.bench.page import FlagCard, JobName, flag_card
from fingertight.cards.bench.words import why_not_off, why_not_on
from fingertight.cards.card import Card
from fingertight.cards.pictures.bolts import BoltPicture, bolt_picture
from fingertight.cards.workshop.log import LogLine, log_lines
from fingertight.ledger.plan import listed
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import Slot, State
from fingertight.lesson.record.recording import A_PHOTO


@dataclass(frozen=True)
class PieceCard(Card):
    """One piece, where it is, the move it can be said to have made, lawful or not, and what to count as it comes off.

    `counting`: something was counted and not taken.
    """

    name: str
    place: str
    sentence: str
    is_on: bool
    move: MoveCard | None
    counts: tuple[CountedKey, ...]
    counting: bool


@dataclass(frozen=True)
class SetAgain(Card):
    """A fastener set whose passes can be done again: its number from 0, its name, how many passes it has."""

    set: int
    name: str
    passes: tuple[int, ...]


@dataclass(frozen=True)
class PartCard(Card):
    """All there is to know about one part at one bench. `why` says why it may not move now; "" when it may; photos: the
    ids of pictures noted of it."""

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
    questions: tuple[QuestionCard, ...]
    sets: tuple[SetAgain, ...]
    units: tuple[str, ...]
    notes: tuple[Ask, ...]
    things: tuple[str, ...]
    absent: bool
    stays: bool
    history: tuple[LogLine, ...]
    photos: tuple[str, ...]
    flags: tuple[FlagCard, ...]


def part_card(
    job: JobName, ledger: Ledger, bags: Bags, part_id: str, typed: Mapping[str, str] | None = None
) -> PartCard:
    """Where is this part, what held it, why does it not move yet, and what was done with it?

    typed: texts by field of a form that was not taken. Raises KeyError when the machine has no such part.
    """
    state = ledger.state
    part = state.plan.anatomy.part_by_id[part_id]
    about = {entry.id for entry in ledger.entries if entry.said.get("part") == part_id}
    next_way: Way = "on" if state.moves.is_off(part_id) else "off"
    may = part_id in {*state.moves.may_come_off(), *state.may_go_on()}
    return PartCard(
        job=job,
        part=part_id,
        title=part.title,
        pieces=tuple(_piece(state, bags, (part_id, place), may, typed or {}) for place in part.places or (None,)),
        free=may,
        why="" if may else _why(state, part),
        facts=tuple(dict.fromkeys([*facts_of(part, "off", next_way), *facts_of(part, "on", next_way)])),
        picture=bolt_picture(part.held_by, tightening=next_way == "on"),
        cautions=part.cautions,
        stands=_stands(state, part),
        questions=tuple(QuestionCard(ask.question, ask.answers) for ask in part.ask),
        sets=_sets(part),
        units=TORQUE_UNITS,
        notes=notes_asked(part, part.record),
        things=tuple(part.bag_holds),
        absent=state.moves.is_absent(part_id),
        stays=part.stays,
        history=tuple(line for line in log_lines(ledger) if line.entry in about)[::-1],
        photos=_photos(ledger, part_id),
        flags=tuple(flag_card(flag) for flag in state.flags.open() if flag.part == part_id),
    )


def _photos(ledger: Ledger, part_id: str) -> tuple[str, ...]:
    """The pictures that were noted of it here, the newest first."""
    struck = ledger.struck()
    notes = (entry for entry in ledger.entries if entry.kind == "note" and entry.id not in struck)
    found = [str(note.said.get("photo") or "") for note in notes if note.said.get("part") == part_id]
    return tuple(photo for photo in reversed(found) if A_PHOTO.match(photo))


def _piece(state: State, bags: Bags, slot: Slot, may: bool, typed: Mapping[str, str]) -> PieceCard:
    part, place = state.plan.anatomy.part_by_id[slot[0]], slot[1]
    name = f"{part.title} ({place}):" if place else ""
    sentence, is_on = _where(state, part, slot)
    move: MoveCard | None = None
    counts: tuple[CountedKey, ...] = ()
    if not (part.stays or state.moves.is_absent(part.id)):
        way: Way = "off" if is_on else "on"
        bag = suggested_bag(state, bags, slot) if is_on else state.lies.get(slot) or ""
        move = move_card(way, part, place, bag)
        meant = typed.get("kind") == "off" and typed.get("place", "") == (place or "")
        counts = holds_counted(state, slot, move.id, typed if meant else {}) if is_on else ()
        if not may:
            move = replace(move, act="It came off all the same" if is_on else "It went on all the same")
    return PieceCard(name, place or "", sentence, is_on, move, counts, any(key.typed for key in counts))


def _where(state: State, part: Part, slot: Slot) -> tuple[str, bool]:
    """Where the piece of this place is, and whether its place is filled (perhaps by another's piece)."""
    if state.moves.is_absent(part.id):
        return "This machine does not have it.", False
    bag = state.lies.get(slot)
    if slot in state.empty:
        if slot not in state.lies:
            return "Off; what belongs here sits in another place.", False
        return (f"Off, in bag {bag}." if bag else "Off; nobody said in which bag."), False
    if slot in state.sits:
        lies = f" What belongs here lies in bag {bag}." if bag else ""
        return f"Its place holds the piece of {state.sits[slot][1]}.{lies}", True
    return ("On the machine; it never comes off." if part.stays else "On the machine."), True


def _sets(part: Part) -> tuple[SetAgain, ...]:
    return tuple(
        SetAgain(number, fasteners.counted_as or f"set {number + 1}", tuple(range(1, len(fasteners.passes) + 1)))
        for number, fasteners in enumerate(part.held_by)
        if fasteners.torque is not None
    )


def _why(state: State, part: Part) -> str:
    titles = {other: plan.title for other, plan in state.plan.parts.items()}
    if part.stays or state.moves.is_absent(part.id):
        return ""
    if state.moves.is_off(part.id):
        return why_not_on(state.not_yet(part.id), titles)
    return why_not_off(state.moves.in_the_way(part.id), titles)


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
