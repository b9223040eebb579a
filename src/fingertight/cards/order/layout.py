"""What lies on the bench before anybody begins: spanners, tools, what is renewed, bags, settings, safety lines."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Anatomy, FastenerSet, Part
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.order.whole import Asked, NoOrderCard, order_card, proven_cards
from fingertight.order.cost import spanner_of
from fingertight.quantity import plain

FIRST = "Makers’ data, the workshop’s rules, local law and licensed practice come first."
TURNS = 12
SURFACES = {"oiled": "oil for threads", "thread lock": "thread lock"}


@dataclass(frozen=True)
class LaidOut(Card):
    """One thing on the bench: what, and what for."""

    name: str
    what_for: str


@dataclass(frozen=True)
class LayoutCard(Card):
    """All of it, for a whole strip and rebuild or for one way in.

    torques: the range a torque wrench must have; "" for none. two_people: parts that one pair of hands cannot hold.
    lies: the ways the machine lies, in the order of use. first: whose word comes before all. cautions: what can hurt
    someone or the part, part by part in the order of removal.
    """

    about: str
    sentence: str
    spanners: tuple[LaidOut, ...]
    tools: tuple[LaidOut, ...]
    torques: str
    instruments: tuple[LaidOut, ...]
    renewed: tuple[LaidOut, ...]
    consumables: tuple[LaidOut, ...]
    bags: str
    settings: tuple[LaidOut, ...]
    lies: tuple[str, ...]
    two_people: tuple[str, ...]
    first: str
    cautions: tuple[LaidOut, ...]
    file: str
    machine: Annotated[str, Field(exclude=True)]

    def lists(self) -> tuple[tuple[str, tuple[LaidOut, ...]], ...]:
        """Everything to tick, under its heading, in the order in which a bench is laid out."""
        torques = (LaidOut(self.torques, "what it must reach"),) if self.torques else ()
        return (
            ("Spanners, sockets and keys", self.spanners),
            ("Tools", self.tools),
            ("Torque wrench", torques),
            ("Instruments", self.instruments),
            ("To renew, ready before anybody begins", self.renewed),
            ("Consumables", self.consumables),
            ("Bags", (LaidOut(self.bags, "printed in the order of removal"),)),
            ("Set or filled when it is built back", self.settings),
            ("How it lies", tuple(LaidOut(lies, "") for lies in self.lies)),
            ("Two pairs of hands", tuple(LaidOut(part, "") for part in self.two_people)),
        )


def layout_of(anatomy: Anatomy, to: Sequence[str] = (), file: str = "") -> LayoutCard | NoOrderCard:
    """What is laid out for a whole strip and rebuild, or for the way to some parts and back?

    Raises KeyError for a part the machine does not have.
    """
    if not to:
        order = order_card(anatomy)
        return order if isinstance(order, NoOrderCard) else layout_card(anatomy, order.order, file=file)
    *_, found = islice(proven_cards(anatomy, Asked(to=tuple(to))), TURNS)
    if isinstance(found, NoOrderCard):
        return found
    return layout_card(anatomy, found.order, f"{found.about} and back", file)


def layout_card(
    anatomy: Anatomy, order: Sequence[str], about: str = "a whole strip and rebuild", file: str = ""
) -> LayoutCard:
    """What is laid out for taking these parts off and fitting them again?

    order: part ids, as they come off. What the file does not say (an extension, a second wrench) is not here.
    """
    parts = [anatomy.part_by_id[part] for part in order]
    off = set(order)
    sets = [(part, fasteners) for part in parts for fasteners in part.held_by]
    bags = sum(len(part.places) or 1 for part in parts)
    instruments = _instruments(anatomy, off)
    spanners = _spanners(sets)
    renewed = _renewed(parts)
    said = [counted(len(parts), "part"), counted(len(spanners), "spanner")]
    said += [f"{sum(how_many for _, how_many in renewed)} to renew"] if renewed else []
    return LayoutCard(
        about=about,
        sentence=", ".join(said),
        spanners=spanners,
        tools=_tools(parts),
        torques=_torques(fasteners for _, fasteners in sets),
        instruments=instruments,
        renewed=tuple(LaidOut(f"{how_many} × {name}", "used once: never refitted") for name, how_many in renewed),
        consumables=_consumables(fasteners for _, fasteners in sets),
        bags=f"{counted(bags, 'bag')} with {'its label' if bags == 1 else 'their labels'}",
        settings=_settings(anatomy, off),
        lies=tuple(dict.fromkeys(_rests(anatomy, parts))),
        two_people=tuple(part.title for part in parts if part.people > 1),
        first=FIRST,
        cautions=tuple(LaidOut(part.title, ". ".join(part.cautions)) for part in parts if part.cautions),
        file=file,
        machine=anatomy.machine.name,
    )


def _spanners(sets: Sequence[tuple[Part, FastenerSet]]) -> tuple[LaidOut, ...]:
    """Each spanner once, the smallest first, with how many it turns and where."""
    many: Counter[str] = Counter()
    where: dict[str, list[str]] = {}
    for part, fasteners in sets:
        spanner = spanner_of(fasteners)
        if spanner:
            many[spanner] += fasteners.how_many * part.count
            where.setdefault(spanner, []).append(part.title)
    return tuple(
        LaidOut(spanner, f"{many[spanner]} at {_shortened(where[spanner])}") for spanner in sorted(many, key=_by_size)
    )


def _tools(parts: Iterable[Part]) -> tuple[LaidOut, ...]:
    where: dict[str, list[str]] = {}
    for part in parts:
        for tool in part.tools:
            where.setdefault(tool, []).append(part.title)
    return tuple(LaidOut(tool, _shortened(where[tool])) for tool in sorted(where, key=_by_size))


def _torques(sets: Iterable[FastenerSet]) -> str:
    torques = [fasteners.torque for fasteners in sets if fasteners.torque]
    if not torques:
        return ""
    least, most = min(torques), max(torques)
    return f"{plain(least)} N·m" if least == most else f"{plain(least)} to {plain(most)} N·m"


def _instruments(anatomy: Anatomy, off: set[str]) -> tuple[LaidOut, ...]:
    """What the sizes that come bare are measured with, and what settings are set with."""
    where: dict[str, list[str]] = {}
    for check in anatomy.checks:
        if check.instrument and (check.part in off or (check.bare and set(check.bare) <= off)):
            where.setdefault(check.instrument, []).append(check.title)
    for setting in anatomy.settings:
        if setting.instrument and off & {*setting.after, *setting.before}:
            where.setdefault(setting.instrument, []).append(setting.title)
    return tuple(LaidOut(anatomy.instrument_by_id[name].title, _shortened(titles)) for name, titles in where.items())


def _renewed(parts: Iterable[Part]) -> list[tuple[str, int]]:
    """What is ordered before anybody begins: parts and small things that are used once."""
    many: Counter[str] = Counter()
    for part in parts:
        if part.single_use:
            many[part.spare or part.title] += part.count * (len(part.places) or 1)
        for thing in part.with_:
            if thing.single_use:
                many[thing.spare or thing.name] += thing.count * part.count * (len(part.places) or 1)
    return sorted(many.items())


def _consumables(sets: Iterable[FastenerSet]) -> tuple[LaidOut, ...]:
    many: Counter[str] = Counter()
    for fasteners in sets:
        if fasteners.surface in SURFACES:
            many[SURFACES[fasteners.surface]] += fasteners.how_many
    return tuple(LaidOut(name, counted(how_many, "thread")) for name, how_many in sorted(many.items()))


def _settings(anatomy: Anatomy, off: set[str]) -> tuple[LaidOut, ...]:
    """What is set, filled or timed when these parts are on again."""
    touched = [setting for setting in anatomy.settings if off & {*setting.after, *setting.before}]
    return tuple(
        LaidOut(
            setting.title,
            f"{plain(setting.range[0])} to {plain(setting.range[1])} {setting.unit}" if setting.range else setting.how,
        )
        for setting in touched
    )


def _rests(anatomy: Anatomy, parts: Iterable[Part]) -> Iterable[str]:
    first = anatomy.machine.rests[0] if anatomy.machine.rests else ""
    for part in parts:
        lies = part.rests or first
        if lies and lies != "any":
            yield lies


def _shortened(titles: Sequence[str], most: int = 3) -> str:
    named = list(dict.fromkeys(titles))
    more = len(named) - most
    return ", ".join(named[:most]) + (f" and {more} more" if more > 0 else "")


def _by_size(name: str) -> list[tuple[int, float | str]]:
    """8 mm before 10 mm."""
    pieces = re.split(r"(\d+(?:\.\d+)?)", name.casefold())
    return [(1, float(piece)) if re.fullmatch(r"\d+(?:\.\d+)?", piece) else (0, piece) for piece in pieces if piece]
