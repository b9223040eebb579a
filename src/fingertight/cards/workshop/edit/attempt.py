"""A change of a machine is tried on its text: the new text and what changed in words, or what is wrong, box by box."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from fingertight.anatomy.change.edits import CannotEdit, Edit, at, loaded
from fingertight.anatomy.change.mend import mended
from fingertight.anatomy.change.words import difference
from fingertight.anatomy.mistakes import Mend, Mistake, Path, where
from fingertight.anatomy.model import title_of
from fingertight.anatomy.read import Reading, read
from fingertight.anatomy.write import rewritten
from fingertight.cards.card import Card
from fingertight.cards.check import all_mistakes
from fingertight.cards.workshop.edit.sheets import LABELS, Sheet


@dataclass(frozen=True)
class Offer(Card):
    """One press that mends: what the button sends, and what it says."""

    value: str
    label: str


@dataclass(frozen=True)
class Trouble(Card):
    """Why a change was not made: the key of the box it stands beside, or "" for the whole; and what mends it."""

    key: str
    sentence: str
    offers: tuple[Offer, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """The new text with what changed in words (none: nothing was changed), or the troubles.

    filled: what the form says after a mend that was pressed, where other troubles are left; else None.
    """

    text: str
    name: str
    told: tuple[str, ...]
    troubles: tuple[Trouble, ...] = ()
    filled: Mapping[str, Any] | None = None


# What is said in a form, where the file's own words would speak of keys and brackets.
_TEXTS = {
    "pass-share": "The rounds go from small to large, none is more than 100 percent, and the last is 100.",
    "no-spanner": "The tables have no spanner for this thread under this head.",
    "gap-and-readings": "A gap follows from its two sizes and is not measured itself.",
}
_MENDS = {
    "thread-and-kind": "Type a thread, or choose what it is instead of one; not both.",
    "no-such-thread": "Type it as in M6, M6x0.75, 1/4-20 UNC or #10-24.",
    "no-such-head": "Choose another head, or type the spanner.",
    "no-spanner": "Choose another head, or type the spanner.",
    "count-positions": "Their places are drawn and stay as they are: type that many, or take the drawing out.",
    "order-positions": "Type the number of each place once, and choose that they have an order of their own.",
    "pass-share": "Type for example 50 100.",
    "range-reversed": "The smaller number stands first.",
    "new-is-worn": "Look both up again: what gets smaller is worn out below, what gets larger above.",
    "gap-and-readings": "Empty this box, or choose no gap.",
    "nothing-to-set": "Fill in the smallest and the largest, or a question with its answers; not both.",
    "question-answers": "Type two answers or more, a line each, and the right one.",
    "answer-not-listed": "Type one of the answers.",
    "count-places": "Empty one of the two: each place is one piece.",
    "said-twice": "Once is enough.",
    "after-and-before": "Take it out of one of the two lists.",
    "never-bare": "Take it out of what must be off.",
    "own-way": "Take it out of its own list.",
    "out-of-reach": "Choose another instrument, or change what that one shows.",
    "wrong-unit": "Choose another instrument, or another unit.",
    "unknown-rest": "Choose another way to lie, or add this one to the machine’s ways to lie.",
    "ring": "Take one of them out of the other’s way.",
    "never-off": "Take the staying part out of its way, or let it come off.",
    "never-on": "Take one of them out of the other’s list.",
}
_LINKED = {"count-positions": "count", "thread-and-kind": "thread", "nothing-to-set": "range"}


def attempt(
    text: str, edits: Iterable[Edit], sheet: Sheet | None = None, about: Path = (), chosen: str = ""
) -> Outcome:
    """What comes of these edits? about: the path of the table the form is about; chosen: the offer that was pressed."""
    before = read(text)
    try:
        changed = rewritten(text, edits)
        reading = read(changed)
        found = _new_mistakes(before, reading)
        picked = next(
            (ways[index] for one in found for index, ways in _offered(one) if _value(one, index) == chosen), None
        )
        if picked is not None:
            changed = mended(changed, picked)
            reading = read(changed)
            found = _new_mistakes(before, reading)
    except CannotEdit as refused:
        return Outcome(text, "", (), (Trouble("", str(refused)),))
    if found or reading.anatomy is None or before.anatomy is None:
        speaks = _speaks(reading.said, sheet)
        troubles = tuple(_trouble(one, sheet, about, speaks) for one in found[:20])
        return Outcome(text, "", (), troubles, None if picked is None else _filled(changed, about))
    return Outcome(changed, reading.anatomy.machine.name, difference(before.anatomy, reading.anatomy))


def path_in(text: str, kind: str, name: str | None, inside: Path = ()) -> Path:
    """The path of a table by its id, as far as there is one.

    >>> path_in('[[part]]\\nid = "fan"\\n', "part", "fan")
    ('part', 0)
    """
    listed = read(text).said.get(kind)
    if not isinstance(listed, list):
        return (kind,)
    return next(
        ((kind, index, *inside) for index, one in enumerate(listed) if one.get("id") == name), (kind, len(listed))
    )


def _filled(text: str, about: Path) -> Mapping[str, Any]:
    there = at(loaded(text), about)
    return dict(there) if isinstance(there, dict) else {"way": there}


def _new_mistakes(before: Reading, after: Reading) -> list[Mistake]:
    """What is wrong now and was not before: a machine that had a knot may still be changed."""
    known = {(one.code, one.text) for one in all_mistakes(before)}
    return [one for one in all_mistakes(after) if (one.code, one.text) not in known]


def _offered(one: Mistake) -> Iterable[tuple[int, Any]]:
    return ((index, one.mends) for index in range(len(one.mends)))


def _value(one: Mistake, index: int) -> str:
    return f"{one.code}/{index}/{'.'.join(str(step) for step in one.path)}"


class _Speaks(NamedTuple):
    """What the sentences of a form need: the values of the changed file, titles by ids, labels by keys."""

    said: Mapping[str, Any]
    titles: Mapping[str, str]
    labels: Mapping[str, str]

    def called(self, word: str) -> str:
        """A key by its label, an id by its name; another word as it is."""
        return self.titles.get(word) or self.labels.get(word, word)

    def owner(self, path: Path) -> str:
        """The name of the table a path leads into; "" for the machine itself."""
        name = re.sub(r"^\w+ '([^']*)'$", r"\1", where(path, self.said))
        return self.titles.get(name, name if name != "file" else "")


def _speaks(said: Mapping[str, Any], sheet: Sheet | None) -> _Speaks:
    titles = {
        str(one.get("id")): title_of(str(one.get("id")), str(one.get("name", "")))
        for kind in ("instrument", "check", "setting", "sign", "part")
        for one in said.get(kind, ())
        if isinstance(one, dict)
    }
    return _Speaks(said, titles, {**LABELS, **{field.key: field.label for field in sheet.fields}} if sheet else LABELS)


def _trouble(one: Mistake, sheet: Sheet | None, about: Path, speaks: _Speaks) -> Trouble:
    keys = {field.key for field in sheet.fields} if sheet else set()
    here = bool(about) and one.path[: len(about)] == about
    key = str(one.path[len(about)]) if here and len(one.path) > len(about) else ""
    key = _LINKED.get(one.code, key) if here else ""
    offers = tuple(Offer(_value(one, index), _label(ways[index], speaks)) for index, ways in _offered(one))
    owner = "" if here or one.code in {"ring", "never-off", "never-on"} else speaks.owner(one.path)
    sentence = f"{_words(one, speaks)} {_MENDS.get(one.code, one.mend.replace('Write', 'Type'))}"
    return Trouble(key if key in keys else "", f"{owner}: {sentence}" if owner else sentence, offers[:6])


def _words(one: Mistake, speaks: _Speaks) -> str:
    """The sentence of a mistake, without the words of the file."""
    if one.path == ("part",):
        return "This is the only part; a machine has at least one."
    said = _TEXTS.get(one.code, one.text)
    said = re.sub(r" (in|of) (fastener set|small thing|question) \d+", "", said)
    said = re.sub(r"^(Fastener set|Small thing|Question) \d+", "This set" if said[0] == "F" else "It", said)
    said = said.replace("“at” has", "their drawing has")
    return re.sub(r"“([^”]*)”", lambda found: f"“{speaks.called(found[1])}”", said)


def _label(way: Sequence[Mend], speaks: _Speaks) -> str:
    """What a press on the offer does."""
    words = " and ".join(_one_label(mend, speaks) for mend in way)
    return words[:1].upper() + words[1:]


def _one_label(mend: Mend, speaks: _Speaks) -> str:
    key = next((str(step) for step in reversed(mend.path) if isinstance(step, str)), "")
    label = speaks.labels.get(key, key)
    if mend.what == "put":
        return f"put {_shown(key, mend.value)} under “{label}”"
    if key == "at":
        return "take the drawing of their places out"
    if isinstance(mend.path[-1], str):
        return f"empty “{label}”" if key != "gap" else "choose no gap"
    entry, owner = speaks.called(str(at(speaks.said, mend.path))), speaks.owner(mend.path)
    return f"take {entry} out of {owner}’s way" if key == "behind" else f"take {entry} out of “{label}” of {owner}"


def _shown(key: str, value: Any) -> str:
    if isinstance(value, tuple):
        scale = 100 if key == "passes" else 1
        return (" " if key == "passes" else " to ").join(f"{one * scale:g}" for one in value)
    return f"{value:g}" if isinstance(value, int | float) else str(value)
