"""Common assemblies as a teacher looks through them, and one of them as it is copied into a machine."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from fingertight.anatomy.library.copied import Copied
from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.moves import held_in_short
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.rules import Rules


@dataclass(frozen=True)
class AssemblyPart(Card):
    """One part: what it is behind, what holds it, what can hurt."""

    title: str
    waits: str
    held: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class AssemblyCard(Card):
    """One assembly: what it is, its parts from outside in, its picture. figures: where they come from."""

    name: str
    title: str
    about: str
    figures: str
    sentence: str
    parts: tuple[AssemblyPart, ...]
    rings: RingPicture
    is_ticked: bool = False


@dataclass(frozen=True)
class LibraryCard(Card):
    """All of them. slug: the machine they are copied into, "" for one that is begun; typed: its name so far."""

    slug: str
    machine: str
    typed: str
    assemblies: tuple[AssemblyCard, ...]


@dataclass(frozen=True)
class OffFirst(Card):
    """A part of the machine that may be asked to be off before the assembly."""

    part: str
    title: str
    is_ticked: bool


@dataclass(frozen=True)
class CopyCard(Card):
    """One assembly before it is copied. names: what its parts will be called, where some of their names are taken."""

    slug: str
    machine: str
    newest: int
    assembly: AssemblyCard
    others: tuple[OffFirst, ...]
    names: str


def assembly_card(name: str, anatomy: Anatomy, *, is_ticked: bool = False) -> AssemblyCard:
    """What is this assembly?"""
    found = layers(Rules.of(anatomy))
    titles = {part.id: part.title for part in anatomy.parts}
    state = {part.id: "free" if part.id in found[0] else "on" for part in anatomy.parts}
    depth = {part: nth for nth, layer in enumerate(found) for part in layer}
    sentence = f"{counted(len(anatomy.parts), 'part')}, {counted(len(found), 'round')} deep"
    return AssemblyCard(
        name=name,
        title=anatomy.machine.name,
        about=anatomy.machine.about,
        figures=anatomy.machine.source,
        sentence=sentence,
        parts=tuple(
            AssemblyPart(
                part.title,
                ", ".join(titles[other] for other in part.behind),
                " · ".join(held_in_short(part)),
                part.cautions,
            )
            for part in sorted(anatomy.parts, key=lambda part: depth[part.id])
        ),
        rings=ring_picture(found, titles, state, f"{anatomy.machine.name}: {sentence}."),
        is_ticked=is_ticked,
    )


def library_card(
    machine: tuple[str, str], assemblies: Iterable[tuple[str, Anatomy]], ticked: Collection[str] = (), typed: str = ""
) -> LibraryCard:
    """All assemblies. machine: address and name of the one they are for, both "" for one that is begun."""
    cards = tuple(assembly_card(name, anatomy, is_ticked=name in ticked) for name, anatomy in assemblies)
    return LibraryCard(*machine, typed, cards)


def copy_card(
    machine: tuple[str, int], into: Anatomy, assembly: AssemblyCard, made: Copied, ticked: Collection[str] = ()
) -> CopyCard:
    """An assembly before it is copied. machine: its address and its newest version; made: what would come of it."""
    slug, newest = machine
    others = tuple(OffFirst(part.id, part.title, part.id in ticked) for part in into.parts if not part.stays)
    names = ""
    if made.number > 1:
        first = f"{assembly.parts[0].title} {made.number}"
        names = (
            f"Some of these names are taken in this machine: each gets a {made.number} behind it, {first} and so on."
        )
    return CopyCard(slug, into.machine.name, newest, assembly, others, names)


def copied_sentence(title: str, many: int, number: int) -> str:
    """What was done, and what is still to be said.

    >>> copied_sentence("Wet clutch", 7, 2)
    'Wet clutch: 7 new parts, each with a 2 behind its name. Now open what lies behind them, and tick them there.'
    """
    numbered = f", each with a {number} behind its name" if number > 1 else ""
    return f"{title}: {many} new parts{numbered}. Now open what lies behind them, and tick them there."
