"""What a part or a machine lists, a press for each; and who names what is to be taken out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fingertight.anatomy.change.named import Names, names
from fingertight.anatomy.model import Anatomy, FastenerSet, Part, title_of
from fingertight.anatomy.rules.said import by_id
from fingertight.cards.card import Card
from fingertight.cards.workshop.edit.sheets import IN_A_PART, OF_A_MACHINE
from fingertight.quantity import plain


@dataclass(frozen=True)
class Press(Card):
    """A press that leads to a form: where, what it says, and what is added for those who listen."""

    href: str
    text: str
    more: str = ""


@dataclass(frozen=True)
class Row(Card):
    """One list: what it is, its entries, and where one is added."""

    title: str
    entries: tuple[Press, ...]
    add: Press


@dataclass(frozen=True)
class ListsCard(Card):
    """All that a machine lists besides what a part says of itself."""

    slug: str
    machine: str
    whole: tuple[Press, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class OutCard(Card):
    """What is to be taken out, and who names it: sentences. goes: what has no sense without it and goes too."""

    slug: str
    machine: str
    title: str
    one: str
    back: str
    named: tuple[str, ...]
    goes: tuple[str, ...]


_TITLES = {"fasteners": "Held by", "bag": "In its bag", "questions": "Asked when fitted", "ways": "Ways out"}
_MANY = {"check": "Sizes", "setting": "Settings", "sign": "Sign-offs", "instrument": "Instruments"}
_NAMED = {
    "behind": "{title} is in the way of {owner}.",
    "fit_after": "{owner} goes back on after {title}.",
    "ways": "{title} is part of a way out of {owner}.",
    "bare": "{title} is off when {owner} is measured.",
    "part": "{owner} is measured on {title}.",
    "after": "{title} is on when {owner} is set.",
    "before": "{title} is not yet on when {owner} is set.",
    "instrument": "{owner} is measured or set with {title}.",
    "gap": "{owner} is the gap between {title} and another size.",
}


def rows_of(slug: str, anatomy: Anatomy, part: Part) -> tuple[Row, ...]:
    """What a part lists, each entry in a few words."""
    titles = {one.id: one.title for one in anatomy.parts}
    said: dict[str, Iterable[str]] = {
        "fasteners": [set_in_short(one) for one in part.held_by],
        "bag": [f"{one.count} × {one.name}" if one.count > 1 else one.name for one in part.with_],
        "questions": [one.question for one in part.ask],
        "ways": [" with ".join(titles[other] for other in way) for way in part.ways],
    }
    base = f"/machine/{slug}/part/{part.id}"
    return tuple(
        Row(
            _TITLES[word],
            tuple(Press(f"{base}/{word}/{number}", text) for number, text in enumerate(said[word], 1)),
            Press(f"{base}/{word}/add", sheet.add),
        )
        for word, (_, sheet) in IN_A_PART.items()
    )


def set_in_short(one: FastenerSet) -> str:
    """A set of fasteners in a few words.

    >>> set_in_short(FastenerSet(thread="M6", length=28, count=6, torque=10))
    '6 × M6x28, 10 N·m'
    """
    name = one.counted_as or one.kind or "fastener"
    many = f"{one.how_many} × {name}" if one.how_many > 1 or one.counted_as else name
    return f"{many}, {plain(one.torque)} N·m" if one.torque else many


def lists_card(slug: str, anatomy: Anatomy) -> ListsCard:
    """What the machine lists: sizes, settings, sign-offs, instruments."""
    kinds = {
        "check": anatomy.checks, "setting": anatomy.settings, "sign": anatomy.signs, "instrument": anatomy.instruments,
    }  # fmt: skip
    rows = tuple(
        Row(
            _MANY[kind],
            tuple(Press(f"/machine/{slug}/change/{kind}/{one.id}", one.title) for one in kinds[kind]),
            Press(f"/machine/{slug}/add/{kind}", sheet.add),
        )
        for kind, sheet in OF_A_MACHINE.items()
    )
    whole = [Press(f"/machine/{slug}/change/machine/machine", "The machine as a whole")]
    if anatomy.engine is not None:
        whole.append(Press(f"/machine/{slug}/change/engine/engine", "Its engine: crank, valves, drive"))
    return ListsCard(slug, anatomy.machine.name, (*whole, Press(f"/machine/{slug}/add/part", "Add a part")), rows)


def out_card(slug: str, anatomy: Anatomy, said: Mapping[str, Any], kind: str, name: str) -> OutCard:
    """Who names what is to be taken out, in sentences. Raises KeyError where there is no such table."""
    title = _title(by_id(dict(said), kind)[name])
    found = names(said, kind, name)
    goes = dict.fromkeys(_gone(said, found))
    back = f"/machine/{slug}/part/{name}" if kind == "part" else f"/machine/{slug}/change/{kind}/{name}"
    one = "part" if kind == "part" else OF_A_MACHINE[kind].one
    sentences = dict.fromkeys(_sentence(said, each, title) for each in found)
    return OutCard(slug, anatomy.machine.name, title, one, back, tuple(sentences), tuple(goes))


def _gone(said: Mapping[str, Any], found: Iterable[Names]) -> Iterable[str]:
    """The titles of what goes too, and of what goes with that."""
    for one in found:
        if one.goes:
            yield _title(by_id(dict(said), one.kind)[one.id])
            yield from _gone(said, names(said, one.kind, one.id))


def _sentence(said: Mapping[str, Any], one: Names, title: str) -> str:
    owner = _title(by_id(dict(said), one.kind)[one.id])
    words = "{title} waits for the sign-off {owner}." if one.kind == "sign" else _NAMED[one.key]
    return words.format(owner=owner, title=title)


def _title(table: Mapping[str, Any]) -> str:
    return title_of(str(table["id"]), str(table.get("name", "")))
