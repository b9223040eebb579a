"""One part that may come off, or go on, now: how it is held, with what, into which bag, and what to mind."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fingertight.anatomy.model import FastenerSet, Part
from fingertight.cards.bench.words import counted, noun_of, plural
from fingertight.cards.card import Card
from fingertight.cards.pictures.bolts import BoltPicture, bolt_picture
from fingertight.ledger.plan import listed
from fingertight.order.cost import spanner_of
from fingertight.quantity import plain

Way = Literal["off", "on"]
FLAT = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True)
class Fact(Card):
    """One line of a card: what it is about, and what there is to know."""

    about: str
    text: str


@dataclass(frozen=True)
class QuestionCard(Card):
    """Asked when the part is fitted; which answer is right is not on the card."""

    question: str
    answers: tuple[str, ...]


@dataclass(frozen=True)
class Counted(Card):
    """One key of a bag's count, and how many belong there."""

    name: str
    how_many: int


@dataclass(frozen=True)
class Ask(Card):
    """Something to do before the move: note something, or say that a new one is here. `kind`: note or renew."""

    kind: str
    what: str
    how_many: int
    label: str
    act: str


Warned = Mapping[tuple[str, str], tuple[str, ...]]
FilmWords = Mapping[tuple[str, str], str]
"""By way and part, what the link to a move's place in the film is called."""
MOST_WARNINGS = 2


@dataclass(frozen=True)
class MoveCard(Card):
    """A move that may be made now. `place` is "" for a part in one piece; `act` stands on the one big button; `film` is
    what the link to its place in the film is called, "" where no film shows it."""

    id: str
    way: Way
    part: str
    place: str
    title: str
    short: str
    facts: tuple[Fact, ...]
    picture: BoltPicture | None
    cautions: tuple[str, ...]
    questions: tuple[QuestionCard, ...]
    bag: str
    holds: tuple[Counted, ...]
    act: str
    first: tuple[str, ...]
    asks: tuple[Ask, ...]
    warned: tuple[str, ...]
    film: str


def move_card(
    way: Way,
    part: Part,
    place: str | None,
    bag: str,
    *,
    first: Sequence[str] = (),
    asks: Sequence[Ask] = (),
    warned: Warned | None = None,
    films: FilmWords | None = None,
) -> MoveCard:
    """The card of one move. `bag`: where it shall lie, or lies. `first`, `asks`: what is still to be done before it.
    warned: what other benches got wrong, by way and part; films: what a film shows, by the same."""
    on = way == "on"
    title = f"{part.title} ({place})" if place else part.title  # as the ledger's sentences name a piece
    act = (f"On — from bag {bag}" if bag else "On") if on else f"Off — bag {bag}"
    return MoveCard(
        id=FLAT.sub("-", f"{way}-{part.id}-{place or ''}".lower()),
        way=way,
        part=part.id,
        place=place or "",
        title=title,
        short=" · ".join([*held_in_short(part), *(ask.act for ask in asks[:1])]),
        facts=facts_of(part, way),
        picture=bolt_picture(part.held_by, tightening=on),
        cautions=part.cautions,
        questions=tuple(QuestionCard(ask.question, ask.answers) for ask in part.ask) if on else (),
        bag=bag,
        holds=tuple(Counted(name, how_many) for name, how_many in part.bag_holds.items()),
        act=act,
        first=tuple(first),
        asks=tuple(asks),
        warned=(warned or {}).get((way, part.id), ())[:MOST_WARNINGS],
        film=(films or {}).get((way, part.id), ""),
    )


def held_in_short(part: Part) -> list[str]:
    """How it is held, in a few words for a closed card: 6 bolts, 10 mm."""
    counts: dict[str, int] = {}
    for fasteners in part.held_by:
        name = noun_of(fasteners) or f"× {fasteners.thread}"
        counts[name] = counts.get(name, 0) + fasteners.how_many * part.count
    held = ", ".join(f"{many} {name}" if name[0] == "×" else counted(many, name) for name, many in counts.items())
    return [said for said in (held, listed(spanners_of(part))) if said]


def spanners_of(part: Part) -> list[str]:
    """The spanners its fasteners ask for, each once."""
    return list(dict.fromkeys(spanner for spanner in map(spanner_of, part.held_by) if spanner))


def facts_of(part: Part, way: Way, drawn: Way | None = None) -> tuple[Fact, ...]:
    """All there is to know for this move, in the order it is needed.

    drawn: the move whose order the numbers of the picture beside it show, where that is not this one.
    """
    on = way == "on"
    order = "in the numbered order" if drawn in (None, way) else "against the numbers, the last first"
    held = [Fact("Held by" if number == 0 else "and by", _set_in_words(one)) for number, one in enumerate(part.held_by)]
    facts = [
        Fact("Lay it", part.rests if part.rests and part.rests != "any" else ""),
        Fact("Hands", f"{part.people} people" if part.people > 1 else ""),
        Fact("Pieces", f"{part.count}, all alike: they move as one" if part.count > 1 else ""),
        *held,
        *(Fact(label, text) for label, text in _how_to_turn(part, on, order)),
        Fact("With", listed([*spanners_of(part), *part.tools])),
        Fact("Comes with", "" if on else _comes_with(part)),
        Fact("In the bag", listed(f"{how_many} × {name}" for name, how_many in part.bag_holds.items())),
        Fact("Keep", "" if on else part.care),
        Fact("Fit", part.fit if on else ""),
        Fact("New ones", _renewed(part) if on else ""),
    ]
    return tuple(fact for fact in facts if fact.text)


def _set_in_words(fasteners: FastenerSet) -> str:
    if fasteners.thread is None:
        said = counted(fasteners.how_many, fasteners.kind or "fastener")
    else:
        size = fasteners.counted_as or fasteners.thread
        said = f"{fasteners.how_many} × {size} {plural(fasteners.how_many, noun_of(fasteners))}".rstrip()
    extras = [
        fasteners.grade,
        "left-hand thread" if fasteners.left_hand else "",
        fasteners.surface or "",
        fasteners.note,
    ]
    return ", ".join([said, *(extra for extra in extras if extra)])


def _how_to_turn(part: Part, on: bool, order: str) -> list[tuple[str, str]]:
    said = []
    if any(one.left_hand for one in part.held_by):
        said.append(
            (
                "Turn",
                "Clockwise loosens: a left-hand thread" if not on else "Anticlockwise tightens: a left-hand thread",
            )
        )
    if not on and any(len(one.at) > 2 and one.pattern in {"across", "given"} for one in part.held_by):
        said.append(("Loosen", f"Half a turn each {order}, then out"))
    if on:
        said += [("Tighten", _passes(one, order)) for one in part.held_by if one.torque is not None]
    return said


def _passes(fasteners: FastenerSet, order: str) -> str:
    full = f"{plain(fasteners.torque or 0.0)} N·m"
    if len(fasteners.passes) == 1:
        return f"{full}, {order}" if len(fasteners.at) > 1 else full
    shares = listed(f"{plain(round(share * 100, 1))} %" for share in fasteners.passes)
    return f"{full} in {len(fasteners.passes)} passes: {shares}"


def _comes_with(part: Part) -> str:
    said = [
        (f"{thing.count * part.count} × " if thing.count * part.count > 1 else "")
        + thing.name
        + (" (do not refit)" if thing.single_use else "")
        for thing in part.with_
    ]
    return " · ".join([*said, "itself only once: do not refit"] if part.single_use else said)


def _renewed(part: Part) -> str:
    new = [_ordered(thing.name, thing.spare) for thing in part.with_ if thing.single_use]
    if part.single_use:
        new.insert(0, _ordered("the part itself", part.spare))
    return listed(new)


def _ordered(name: str, spare: str) -> str:
    return f"{name} (order: {spare})" if spare and spare.lower() != name.lower() else name


def notes_asked(part: Part, missing: Sequence[str]) -> tuple[Ask, ...]:
    """What must be noted of the part before it comes off."""
    labels = {
        "photo": "Which picture shows it (number or name of the photo)",
        "wiring": "Where each wire goes (colour, terminal, route)",
    }
    acts = {"photo": "picture first", "wiring": "wiring map first"}
    return tuple(Ask("note", what, 1, f"{labels[what]}: {part.title}", acts[what]) for what in missing)


def new_ones_asked(part: Part, lacking: Sequence[tuple[str | None, int]]) -> tuple[Ask, ...]:
    """What must be new before the part goes on."""
    return tuple(
        Ask(
            "renew",
            thing or "",
            how_many,
            f"{how_many} × new {thing or part.title}",
            f"new {thing or part.title} first",
        )
        for thing, how_many in lacking
    )
