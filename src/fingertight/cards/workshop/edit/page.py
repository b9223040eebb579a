"""The page of one form: its boxes, what is wrong, what lies beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fingertight.anatomy.model import Anatomy
from fingertight.cards.card import Card
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.cards.workshop.edit.attempt import Trouble
from fingertight.cards.workshop.edit.fields import Typed
from fingertight.cards.workshop.edit.form import Boxes, groups_of, offered
from fingertight.cards.workshop.edit.lists import Row, rows_of
from fingertight.cards.workshop.edit.place import Place, shown_at
from fingertight.cards.workshop.edit.sheets import PART
from fingertight.order.layers import layers
from fingertight.order.rules import Rules

WORDS = {
    "free": "this part",
    "off": "must come off before it",
    "on": "another part",
    "absent": "another part",
    "stays": "never comes off",
}


@dataclass(frozen=True)
class EditCard(Card):
    """One form of a machine. back: the page before it; button: what sends it; troubles: what is wrong with the whole.

    rows: what a part lists besides; rings: where it lies, with what is in its way; out: where it is taken out.
    """

    slug: str
    machine: str
    part: str
    title: str
    back: str
    back_to: str
    button: str
    groups: tuple[Boxes, ...]
    troubles: tuple[Trouble, ...]
    rows: tuple[Row, ...]
    rings: RingPicture | None
    out: str
    is_new: bool


def edit_card(
    slug: str,
    anatomy: Anatomy,
    said: Mapping[str, Any],
    place: Place,
    *,
    typed: Typed | None = None,
    filled: Mapping[str, Any] | None = None,
    troubles: Sequence[Trouble] = (),
) -> EditCard:
    """What does the file say there, or what was typed and not taken, or (filled) what a mend made of that?"""
    there = {**shown_at(said, place), **(filled or {})}
    typed = None if filled is not None else typed
    choices = offered(place.sheet, anatomy, str(place.id))
    part = anatomy.part_by_id.get(str(place.id)) if place.kind == "part" else None
    is_main = part is not None and place.sheet is PART
    behind = list(typed.get("behind", ())) if typed is not None else there.get("behind", [])
    return EditCard(
        slug=slug,
        machine=anatomy.machine.name,
        part=part.id if part else "",
        title=_title(anatomy, place, there),
        back=back_of(slug, place),
        back_to=part.title if part and not is_main else anatomy.machine.name,
        button=place.sheet.add if place.is_new else "Change it",
        groups=groups_of(place.sheet, there, choices, typed, troubles),
        troubles=tuple(one for one in troubles if not one.key),
        rows=rows_of(slug, anatomy, part) if part and is_main else (),
        rings=_rings(anatomy, part.id, behind) if part and is_main else None,
        out=_out_of(slug, place),
        is_new=place.is_new,
    )


def back_of(slug: str, place: Place) -> str:
    """The page a form was opened from.

    >>> back_of("box", Place(PART, "part", "lid", "held_by", 0)), back_of("box", Place(PART, "part", "lid"))
    ('/machine/box/part/lid', '/machine/box')
    """
    if place.kind == "part":
        on_part = place.id is not None and (place.key or place.sheet is not PART)
        return f"/machine/{slug}/part/{place.id}" if on_part else f"/machine/{slug}"
    return f"/machine/{slug}/change"


def _out_of(slug: str, place: Place) -> str:
    if place.is_new or place.id is None or (place.kind == "part" and not place.key and place.sheet is not PART):
        return ""
    return "entry" if place.key else f"/machine/{slug}/out/{place.kind}/{place.id}"


def _title(anatomy: Anatomy, place: Place, there: Mapping[str, Any]) -> str:
    part = anatomy.part_by_id.get(str(place.id)) if place.kind == "part" else None
    if place.is_new:
        return f"{place.sheet.add}: {part.title}" if part else place.sheet.add
    if place.key or part is None:
        name = there.get("name") or there.get("question") or ""
        one = place.sheet.one[:1].upper() + place.sheet.one[1:]
        return f"{part.title}: {one} {(place.entry or 0) + 1}" if part else str(name or one)
    return part.title if place.sheet is PART else f"More about: {part.title}"


def _rings(anatomy: Anatomy, part_id: str, behind: Sequence[str]) -> RingPicture:
    state = {
        part.id: "free" if part.id == part_id else "off" if part.id in behind else "stays" if part.stays else "on"
        for part in anatomy.parts
    }
    titles = {part.id: part.title for part in anatomy.parts}
    named = ", ".join(titles[other] for other in behind if other in titles) or "nothing"
    sentence = f"In the way of {titles[part_id]}: {named}."
    return ring_picture(layers(Rules.of(anatomy)), titles, state, sentence, WORDS)
