"""A part of a machine as a form shows it: what is in its way, what it needs, what to take care of."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.change.part import PartSaid, said_of
from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.moves import held_in_short
from fingertight.cards.card import Card
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.rules import Rules
from fingertight.quantity import plain

WORDS = {
    "free": "this part",
    "off": "must come off before it",
    "on": "another part",
    "absent": "another part",
    "stays": "never comes off",
}


@dataclass(frozen=True)
class InItsWay(Card):
    """One other part: whether it must come off before this one."""

    part: str
    title: str
    is_in_the_way: bool


@dataclass(frozen=True)
class EditCard(Card):
    """The form of a part. others: what is in its way first. held: what holds it, as the file says it; ways: its ways
    out, in words."""

    slug: str
    machine: str
    part: str
    title: str
    name: str
    others: tuple[InItsWay, ...]
    ways: str
    stays: bool
    minutes: str
    tools: str
    cautions: str
    care: str
    fit: str
    held: str
    rings: RingPicture


def edit_card(slug: str, anatomy: Anatomy, part_id: str, typed: PartSaid | None = None) -> EditCard:
    """What does the file say of this part, or what was typed and not taken? Raises KeyError for no part."""
    part = anatomy.part_by_id[part_id]
    said = typed or said_of(part)
    titles = {other.id: other.title for other in anatomy.parts}
    return EditCard(
        slug=slug,
        machine=anatomy.machine.name,
        part=part.id,
        title=part.title,
        name=said.name or part.title,
        others=tuple(
            InItsWay(other.id, other.title, other.id in said.behind)
            for other in sorted(anatomy.parts, key=lambda other: other.id not in said.behind)
            if other.id != part.id
        ),
        ways=" or ".join(" with ".join(titles[other] for other in way) for way in part.ways),
        stays=said.stays,
        minutes="" if said.minutes is None else plain(said.minutes),
        tools=", ".join(said.tools),
        cautions="\n".join(said.cautions),
        care=said.care,
        fit=said.fit,
        held=" · ".join(held_in_short(part)) or "nothing",
        rings=_rings(anatomy, part_id, said.behind),
    )


def _rings(anatomy: Anatomy, part_id: str, behind: Sequence[str]) -> RingPicture:
    state = {
        part.id: "free" if part.id == part_id else "off" if part.id in behind else "stays" if part.stays else "on"
        for part in anatomy.parts
    }
    titles = {part.id: part.title for part in anatomy.parts}
    named = ", ".join(titles[other] for other in behind) or "nothing"
    sentence = f"In the way of {titles[part_id]}: {named}."
    return ring_picture(layers(Rules.of(anatomy)), titles, state, sentence, WORDS)
