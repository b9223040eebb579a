"""A machine file becomes an anatomy, or the list of all its mistakes at once."""

import re
import tomllib
from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from pydantic import ValidationError

from fingertight.anatomy.mistakes import Mend, Mends, Mistake, Path, Wrong, where
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.positions import Positions
from fingertight.anatomy.rules import broken_rules
from fingertight.anatomy.schema import SEVERAL, keys_of, nearest, shape_mistakes, unknown_key
from fingertight.anatomy.text import Unreadable, decoded, syntax_mistakes, too_much

_MOST = 1000
_SINGLE = re.compile(
    rf"^([ \t]*)\[[ \t]*({'|'.join('[.]'.join(keys) for keys in SEVERAL)})[ \t]*\]([ \t]*(?:#.*)?)$", re.MULTILINE
)


@dataclass(frozen=True)
class Reading:
    """What was read: the anatomy, or None and every mistake, in the order of the lines.

    `said` is the file's values as they stand and `positions` where they stand, so that a room above can add mistakes.
    """

    anatomy: Anatomy | None
    mistakes: tuple[Mistake, ...]
    positions: Positions = field(repr=False, compare=False)
    said: dict[str, Any] = field(repr=False, compare=False)

    def located(self, path: Path) -> tuple[int, int]:
        """Line and column of what stands at a path such as ("part", 3, "behind")."""
        return self.positions.at(path)

    def mistake(self, path: Path, code: str, text: str, mend: str, mends: Mends = ()) -> Mistake:
        """A mistake found later, by a room above, in the words and with the place of this file."""
        return _placed([Wrong(path, code, text, mend, mends)], self.positions, self.said)[0]


def read(text: str | bytes, *, name: str = "") -> Reading:
    """What does this machine file say, and what is wrong with it?

    `name` is what the file is called in sentences about it. A bad file raises nothing: all its mistakes are listed.

    >>> read('format = 1\\n[machine]\\nname = "Vice"\\n[[part]]\\nid = "screw"').anatomy.parts[0].title
    'Screw'
    >>> read('format = 1\\n[machine]\\nname = "Vice"\\n[[part]]\\nid = "screw"\\nbehnd = []').mistakes[0].mend
    'Write behind.'

    Source: the anatomy file, format 1 (docs).
    """
    try:
        plain = decoded(text, name)
        too_much(plain)
    except Unreadable as refused:
        return Reading(None, (refused.mistake,), Positions(""), {})
    plain, wrong = _double_brackets(plain)
    try:
        said = tomllib.loads(plain)
    except ValueError:
        found = [*syntax_mistakes(plain), *_placed(wrong, Positions(plain), {})]
        return Reading(None, tuple(sorted(found, key=lambda one: (one.line, one.column))), Positions(plain), {})
    return _checked(said, Positions(plain), wrong)


def _double_brackets(text: str) -> tuple[str, list[Wrong]]:
    """The text with [[part]] for [part], which can only be meant so, and what was wrong."""
    if not _SINGLE.search(text):
        return text, []
    headers = Positions(text).headers
    lines, rows = text.split("\n"), []
    for row, line in enumerate(lines):
        # A line inside a text of several lines only looks like a header.
        if row in headers and (single := _SINGLE.match(line)):
            lines[row] = f"{single[1]}[[{single[2]}]]{single[3]}"
            rows.append((row, single[2]))
    mended = "\n".join(lines)
    paths = Positions(mended).headers
    wrong = [
        Wrong(
            paths.get(row, ()),
            "single-brackets",
            f"[{keys}] is one of several and wants two brackets.",
            f"Write [[{keys}]].",
            ((Mend(paths.get(row, ()), "brackets", row),),),
        )
        for row, keys in rows[: _MOST + 1]
    ]
    return mended, wrong


def _checked(said: dict[str, Any], positions: Positions, wrong: list[Wrong]) -> Reading:
    try:
        anatomy: Anatomy | None = Anatomy.model_validate(said, by_alias=True, by_name=False)
        meant = said
    except ValidationError as error:
        anatomy, meant = None, said
        if error.error_count() > _MOST:
            # No machine file: what is wrong with its shapes is more than anybody reads.
            return Reading(
                None, _placed([*wrong, *_first(shape_mistakes(error, said))], positions, said), positions, said
            )
        meant = deepcopy(said)
        wrong += _shapes(error, meant, positions)
    wrong += _first(broken_rules(meant))
    mistakes = _placed(wrong, positions, meant)
    return Reading(None if mistakes else anatomy, mistakes, positions, meant)


def _shapes(error: ValidationError, meant: dict[str, Any], positions: Positions) -> list[Wrong]:
    """What does not fit the model. Misspelt keys get their right name in `meant` first, table within table."""
    wrong: list[Wrong] = []
    while True:
        unknown = [one["loc"] for one in error.errors(include_url=False) if one["type"] == "extra_forbidden"]
        if not unknown:
            return [*wrong, *shape_mistakes(error, meant)]
        wrong += _renamed(unknown, meant, positions)
        try:
            Anatomy.model_validate(meant, by_alias=True, by_name=False)
        except ValidationError as rest:
            error = rest
        else:
            return wrong


def _renamed(unknown: list[Path], meant: dict[str, Any], positions: Positions) -> list[Wrong]:
    """Give misspelt keys the name they were meant to have, so that nothing else is said to be wrong because of them."""
    wrong = []
    for path in unknown:
        *outer, key = path
        table: Any = meant
        for step in outer:
            table = table[step]
        value = table.pop(key)
        # A list of tables may be misspelt in one place and right in another: both are one list.
        free = [one for one in keys_of(tuple(outer)) if one not in table or _both_tables(table[one], value)]
        intended = nearest(str(key), free)
        wrong.append(unknown_key(path, intended))
        if intended and intended in table:
            before = len(table[intended])
            table[intended] += value
            for index in range(len(value)):
                positions.meant((*outer, intended, before + index), (*path, index))
        elif intended:
            table[intended] = value
            positions.meant((*outer, intended), path)
    return wrong


def _both_tables(one: object, other: object) -> bool:
    return all(isinstance(each, list) and all(isinstance(entry, dict) for entry in each) for each in (one, other))


def _first(wrong: Iterable[Wrong]) -> list[Wrong]:
    """As many as are worth listing, and one more to show that there are more."""
    return list(islice(wrong, _MOST + 1))


def _placed(wrong: Iterable[Wrong], positions: Positions, said: dict[str, Any]) -> tuple[Mistake, ...]:
    """Each mistake with its line and column, in the order of the file, each said once."""
    placed = [
        Mistake(*positions.at(path), where(path, said), code, text, mend, path, mends)
        for path, code, text, mend, mends in dict.fromkeys(wrong)
    ]
    placed.sort(key=lambda one: (one.line, one.column))
    if len(placed) > _MOST:
        beyond = f"There are more than {_MOST} mistakes."
        placed[_MOST:] = [Mistake(placed[_MOST].line, 1, "file", "too-many", beyond, "Mend these first.")]
    return tuple(placed)
