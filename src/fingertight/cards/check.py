"""Every mistake of one machine file or of several: where, what, how to mend it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from fingertight.anatomy.mistakes import Mends, Mistake, out
from fingertight.anatomy.model import title_of
from fingertight.anatomy.read import Reading, read
from fingertight.cards.card import Card
from fingertight.order.knots import Knot, knots
from fingertight.order.rules import Rules, Stands

_MENDS = {
    "ring": "Take one of them out of the “behind” or “ways” of the part before it in this list.",
    "never-off": "Take the staying part out of its “behind” or “ways”, or take “stays” away.",
    "never-on": "Take one of them out of the “fit_after” or “behind” of another.",
}


@dataclass(frozen=True)
class FoundMistake(Card):
    """One mistake, and the file it stands in as that was named."""

    file: str
    line: int
    column: int
    where: str
    code: str
    text: str
    mend: str


@dataclass(frozen=True)
class CheckCard(Card):
    """All is well, or the mistakes in the order of the files and their lines."""

    ok: bool
    mistakes: tuple[FoundMistake, ...]
    files: Annotated[tuple[str, ...], Field(exclude=True)]


def check_card(texts: Iterable[tuple[str, str]]) -> CheckCard:
    """All that is wrong in these files, each given by its name and its text.

    >>> check_card([("vice.toml", "format = 1")]).mistakes[0].text
    'The file has no “machine”.'
    """
    found = [(file, all_mistakes(read(text))) for file, text in texts]
    mistakes = tuple(
        FoundMistake(file, one.line, one.column, one.where, one.code, one.text, one.mend)
        for file, several in found
        for one in several
    )
    return CheckCard(not mistakes, mistakes, tuple(file for file, _ in found))


def all_mistakes(reading: Reading) -> tuple[Mistake, ...]:
    """What the reader found, and what keeps the machine from being stripped or built back, in the file's order."""
    stands = list(_as_far_as_understood(reading.said))
    index = {part.id: number for number, part in enumerate(stands)}
    titles = _titles(reading.said)
    found = knots(Rules(stands)) if len(index) == len(stands) else []
    # A ring of one is a part in its own way, which the reader has said already.
    blocked = [_placed(reading, knot, index, titles) for knot in found if len(knot.ring) > 1]
    return tuple(sorted([*reading.mistakes, *blocked], key=lambda one: (one.line, one.column)))


def _placed(reading: Reading, knot: Knot, index: dict[str, int], titles: dict[str, str]) -> Mistake:
    first = ("part", index[knot.ring[0]], "fit_after" if knot.code == "never-on" else "behind")
    return reading.mistake(
        first, knot.code, knot.sentence(titles), _MENDS[knot.code], _untied(reading.said, knot, index)
    )


def _untied(said: dict[str, Any], knot: Knot, index: dict[str, int]) -> Mends:
    """The ways to undo a knot: one of its parts is taken out of the list of another."""
    pairs = zip(knot.ring, [*knot.ring[1:], *([] if knot.code == "never-off" else knot.ring[:1])], strict=False)
    found = []
    for waits, blocker in pairs:
        for one, other, key in (
            (waits, blocker, "behind"),
            (waits, blocker, "fit_after"),
            (blocker, waits, "fit_after"),
        ):
            listed = said["part"][index[one]].get(key)
            if other in _listed(listed) and (key == "behind" or knot.code == "never-on"):
                found.append(("part", index[one], key, listed.index(other)))
    return out(*dict.fromkeys(found))


def _as_far_as_understood(said: dict[str, Any]) -> Iterable[Stands]:
    """Who stands in whose way, even in a file with mistakes: what is named and not there is in nobody's way."""
    parts = [part if isinstance(part, dict) else {} for part in _listed(said.get("part"))]
    known = {part["id"] for part in parts if isinstance(part.get("id"), str)}
    for number, part in enumerate(parts):
        name = part.get("id") if isinstance(part.get("id"), str) else f"part {number + 1}"
        yield Stands(
            str(name),
            _ids(part.get("behind"), known),
            [_ids(way, known) for way in _listed(part.get("ways"))],
            _ids(part.get("fit_after"), known),
            part.get("stays") is True,
        )


def _titles(said: dict[str, Any]) -> dict[str, str]:
    parts = [part for part in _listed(said.get("part")) if isinstance(part, dict)]
    return {str(part.get("id")): title_of(str(part.get("id")), str(part.get("name", ""))) for part in parts}


def _ids(named: object, known: set[str]) -> list[str]:
    return [part for part in _listed(named) if isinstance(part, str) and part in known]


def _listed(value: object) -> Sequence[Any]:
    return value if isinstance(value, list) else ()
