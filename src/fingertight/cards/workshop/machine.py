"""A machine's file: how deep its parts lie, what holds them, and its text with every mistake at its line."""

from dataclasses import dataclass, replace
from hashlib import sha256

from fingertight.anatomy.change.edits import CannotEdit, at
from fingertight.anatomy.change.fresh import toml
from fingertight.anatomy.change.mend import mended
from fingertight.anatomy.mistakes import Mend, Mistake, where
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import Reading, read
from fingertight.cards.bench.moves import held_in_short
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.check import all_mistakes
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.rules import Rules

LONGEST_LINE = 120
MOST_WAYS = 4


@dataclass(frozen=True)
class MachinePart(Card):
    """One part of the machine: how it is held, and who stands in its way."""

    part: str
    title: str
    short: str
    waits: str


@dataclass(frozen=True)
class Mending(Card):
    """One press that mends a mistake in the text: what the button sends; what it does, "" where there is one way."""

    value: str
    does: str


@dataclass(frozen=True)
class MistakeLine(Card):
    """One mistake: where it stands, what it is, how to mend it, the line as it is written, and what mends it."""

    line: int
    column: int
    where: str
    text: str
    mend: str
    written: str
    mends: tuple[Mending, ...]


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
    found = all_mistakes(reading)
    mistakes = tuple(
        MistakeLine(
            one.line, one.column, one.where, one.text, one.mend, written.get(one.line, ""), _mendings(one, reading)
        )
        for one in _first_to_mend(found)
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


def _first_to_mend(found: tuple[Mistake, ...]) -> tuple[Mistake, ...]:
    """While a header wants two brackets nothing else has its place: only that is offered to be mended."""
    if not any(one.code == "single-brackets" for one in found):
        return found
    return tuple(one if one.code == "single-brackets" else replace(one, mends=()) for one in found)


def _mendings(one: Mistake, reading: Reading) -> tuple[Mending, ...]:
    several = len(one.mends) > 1
    return tuple(
        Mending(f"{number}/{_mark(one)}", _does(way, reading) if several else "")
        for number, way in enumerate(one.mends[:MOST_WAYS])
    )


def _mark(one: Mistake) -> str:
    """A short name of a mistake, the same wherever its line has moved to."""
    return sha256(repr((one.code, one.where, one.text, one.path)).encode()).hexdigest()[:12]


def _does(way: tuple[Mend, ...], reading: Reading) -> str:
    """What a way to mend does, in the words of the file."""
    said = []
    for mend in way:
        key = next((str(step) for step in reversed(mend.path) if isinstance(step, str)), "")
        if mend.what == "put":
            said.append(f"write {key} = {toml(mend.value)}")
        elif isinstance(mend.path[-1], int):
            owner = where(mend.path, reading.said)
            said.append(f"take “{at(reading.said, mend.path)}” out of “{key}” of {owner}")
        else:
            said.append(f"take out {key}")
    return " and ".join(said)


def text_mended(text: str, reading: Reading, pressed: str) -> str:
    """The text with the mistake mended whose button was pressed; `reading` is what was read of it.

    Raises CannotEdit where that mistake stands there no more, or the mend leaves it.
    """
    number, _, mark = pressed.partition("/")
    one = next((one for one in _first_to_mend(all_mistakes(reading)) if _mark(one) == mark), None)
    if one is None or not number.isdigit() or int(number[:3]) >= len(one.mends):
        raise CannotEdit("That mistake stands there no more.")
    changed = mended(text, one.mends[int(number[:3])])
    if any(_mark(other) == mark for other in all_mistakes(read(changed))):
        raise CannotEdit("This mistake cannot be mended by itself; mend it by hand.")
    return changed


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
