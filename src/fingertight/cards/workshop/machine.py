"""A machine's file: how deep its parts lie, what holds them, and its text with every mistake at its line."""

from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import Reading
from fingertight.cards.bench.moves import held_in_short
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.check import all_mistakes
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.rules import Rules

LONGEST_LINE = 120


@dataclass(frozen=True)
class MachinePart(Card):
    """One part of the machine: how it is held, and who stands in its way."""

    part: str
    title: str
    short: str
    waits: str


@dataclass(frozen=True)
class MistakeLine(Card):
    """One mistake: where it stands, what it is, how to mend it, and the line as it is written."""

    line: int
    column: int
    where: str
    text: str
    mend: str
    written: str


@dataclass(frozen=True)
class MachineCard(Card):
    """A machine as its text says it; no picture and no parts while that has mistakes. `slug` is "" until it is kept."""

    slug: str
    name: str
    about: str
    sentence: str
    text: str
    parts: tuple[MachinePart, ...]
    rings: RingPicture | None
    mistakes: tuple[MistakeLine, ...]
    mistakes_sentence: str


def machine_card(slug: str, name: str, text: str, reading: Reading, version: int = 0) -> MachineCard:
    """What is this machine, and what is wrong with its text? `name` is used while the text does not say one."""
    written = {number: line.strip()[:LONGEST_LINE] for number, line in enumerate(text.split("\n"), 1)}
    mistakes = tuple(
        MistakeLine(one.line, one.column, one.where, one.text, one.mend, written.get(one.line, ""))
        for one in all_mistakes(reading)
    )
    anatomy = None if mistakes else reading.anatomy
    are = "is" if len(mistakes) == 1 else "are"
    return MachineCard(
        slug=slug,
        name=anatomy.machine.name if anatomy else name,
        about=anatomy.machine.about if anatomy else "",
        sentence=_sentence(anatomy, version) if anatomy else "",
        text=text,
        parts=tuple(_part(anatomy, number) for number in range(len(anatomy.parts))) if anatomy else (),
        rings=_rings(anatomy) if anatomy else None,
        mistakes=mistakes,
        mistakes_sentence=f"{counted(len(mistakes), 'mistake')} {are} in the way of this file" if mistakes else "",
    )


def _sentence(anatomy: Anatomy, version: int) -> str:
    kept = f"Version {version}. " if version else "No mistakes. Not kept yet. "
    figures = f" Figures: {anatomy.machine.source}." if anatomy.machine.source else ""
    return f"{kept}{counted(len(anatomy.parts), 'part')}, {counted(len(anatomy.checks), 'size')} to measure.{figures}"


def _part(anatomy: Anatomy, number: int) -> MachinePart:
    part = anatomy.parts[number]
    titles = {other.id: other.title for other in anatomy.parts}
    behind = ", ".join(titles[other] for other in part.behind)
    ways = " or ".join(" with ".join(titles[other] for other in way) for way in part.ways)
    waits = [
        f"behind {behind}" if behind else "",
        f"way out: {ways}" if ways else "",
        "never comes off" if part.stays else "",
    ]
    return MachinePart(part.id, part.title, " · ".join(held_in_short(part)), "; ".join(said for said in waits if said))


def _rings(anatomy: Anatomy) -> RingPicture:
    found = layers(Rules.of(anatomy))
    first = {part for part in found[0] if not anatomy.part_by_id[part].stays}
    state = {part.id: "stays" if part.stays else "free" if part.id in first else "on" for part in anatomy.parts}
    sentence = f"{counted(len(first), 'part')} can come off first; {len(found)} rounds deep."
    return ring_picture(found, {part.id: part.title for part in anatomy.parts}, state, sentence)
