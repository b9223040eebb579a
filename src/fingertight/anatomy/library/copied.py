"""An assembly is copied into a machine: its own names are kept where they are free, and the file keeps its comments."""

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fingertight.anatomy.change.fresh import toml
from fingertight.anatomy.mistakes import Mistake
from fingertight.anatomy.model import title_of
from fingertight.anatomy.read import read
from fingertight.anatomy.told.names import with_ids
from fingertight.anatomy.write import AddTable, CannotEdit, Edit, SetKey, rewritten

NUMBERED = ("part", "check", "setting", "sign")
"""What is numbered together where a name is taken: what belongs together stays together by its number."""
KINDS = ("instrument", *NUMBERED)
LAST = ("with", "ask", "held_by")
ANY_REST = "any"
MOST = 1000


class CannotCopy(ValueError):
    """The assembly cannot be copied so; the message is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class Copied:
    """The machine's new text; ids: for each kind, what each table of the assembly is called there; number: 1 where its
    names were free, else what stands behind each of them."""

    text: str
    ids: Mapping[str, Mapping[str, str]]
    number: int


def copied(text: str, assembly: str, behind: Sequence[str] = ()) -> Copied:
    """The text of a machine with this assembly in it.

    assembly: the text of a machine file; its machine table is not copied. behind: ids of parts of the machine that must
    be off before any part of the assembly; they stand with those that come off first.

    >>> case = 'format = 1 # the first\\n[machine]\\nname = "Pump"\\n[[part]]\\nid = "lid"\\n'
    >>> lid = case.replace("Pump", "Lid") + '[[part]]\\nid = "seal"\\nbehind = ["lid"]\\n'
    >>> print(copied(case, lid, ["lid"]).text)
    format = 1 # the first
    [machine]
    name = "Pump"
    [[part]]
    id = "lid"
    <BLANKLINE>
    [[part]]
    id = "lid-2"
    behind = ["lid"]
    <BLANKLINE>
    [[part]]
    id = "seal-2"
    behind = ["lid-2"]
    <BLANKLINE>

    Raises CannotCopy when one of the texts is no machine file, or `behind` names what is not there or never comes off.
    """
    source = read(assembly)
    if source.anatomy is None:
        raise CannotCopy(f"The assembly has mistakes of its own. {_first(source.mistakes)}")
    try:
        machine = tomllib.loads(text.removeprefix("\ufeff"))
    except ValueError as wrong:
        raise CannotCopy(f"The machine’s file has mistakes of its own; mend them first. ({wrong})") from None
    _check(machine, behind)
    number = _free_number(machine, source.said)
    ids = {kind: {one["id"]: _numbered(one["id"], number) for one in _all(source.said, kind)} for kind in NUMBERED}
    ids["instrument"] = _instruments(machine, source.said)
    try:
        changed = rewritten(text, _edits(machine, with_ids(source.said, ids), behind, number))
    except CannotEdit as wrong:
        raise CannotCopy(str(wrong)) from None
    result = read(changed)
    if result.anatomy is None:
        raise CannotCopy(f"The machine’s file has mistakes; mend them first. {_first(result.mistakes)}")
    return Copied(changed, ids, number)


def begun(name: str, assemblies: Iterable[str]) -> str:
    """The text of a new machine of this name, made of these assemblies and nothing else.

    Raises CannotCopy when there is no assembly, or one of them is no machine file.
    """
    text = (
        "# Begun from common assemblies, which are invented: makers' data and the real machine come first.\n\n"
        f"format = 1\n\n[machine]\nname = {toml(name)}\n"
        'source = "Common assemblies, invented: to be compared with the real machine"\n\n'
    )
    several = list(assemblies)
    if not several:
        raise CannotCopy("No assembly was chosen. Tick one or more.")
    for one in several:
        text = copied(text, one).text
    return text


def _all(said: Mapping[str, Any], kind: str) -> list[dict[str, Any]]:
    """The tables of a kind, as far as they are tables with an id."""
    several = said.get(kind)
    return [one for one in several if isinstance(one, dict) and "id" in one] if isinstance(several, list) else []


def _check(machine: Mapping[str, Any], behind: Sequence[str]) -> None:
    for kind in KINDS:
        several = machine.get(kind, [])
        if not isinstance(several, list) or not all(isinstance(one, dict) for one in several):
            raise CannotCopy(f"The machine’s file has mistakes; mend them first. Write each {kind} as [[{kind}]].")
    parts = {one["id"]: one for one in _all(machine, "part")}
    for part in behind:
        if part not in parts:
            raise CannotCopy(f"The machine has no part “{part}”. Choose among those it has.")
        if parts[part].get("stays") is True:
            raise CannotCopy(f"{_title(parts[part])} never comes off: nothing can wait for that. Take its tick away.")


def _free_number(machine: Mapping[str, Any], source: Mapping[str, Any]) -> int:
    """The smallest number with which no id and no name of the assembly is taken in the machine; 1 is none at all."""
    for number in range(1, MOST):
        if not any(_taken(machine, source, kind, number) for kind in NUMBERED):
            return number
    raise CannotCopy(f"The machine has this assembly {MOST - 1} times already.")


def _taken(machine: Mapping[str, Any], source: Mapping[str, Any], kind: str, number: int) -> bool:
    ids = {one["id"] for one in _all(machine, kind)}
    titles = {_title(one).casefold() for one in _all(machine, kind)}
    return any(
        _numbered(one["id"], number) in ids or _titled(_title(one), number).casefold() in titles
        for one in _all(source, kind)
    )


def _numbered(name: str, number: int) -> str:
    return name if number == 1 else f"{name}-{number}"


def _titled(title: str, number: int) -> str:
    return title if number == 1 else f"{title} {number}"


def _title(one: Mapping[str, Any]) -> str:
    return title_of(str(one["id"]), str(one.get("name", "")))


def _instruments(machine: Mapping[str, Any], source: Mapping[str, Any]) -> dict[str, str]:
    """What each instrument of the assembly is called in the machine: one that is there already, alike, is shared."""
    there = {one["id"]: one for one in _all(machine, "instrument")}
    ids = {}
    for one in _all(source, "instrument"):
        free = (_numbered(one["id"], number) for number in range(1, MOST))
        ids[one["id"]] = next(name for name in free if name not in there or _alike(there[name], one))
    return ids


def _alike(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    own = {"id", "count"}
    return {k: v for k, v in one.items() if k not in own} == {k: v for k, v in other.items() if k not in own}


def _edits(machine: Mapping[str, Any], source: Mapping[str, Any], behind: Sequence[str], number: int) -> Iterable[Edit]:
    """The edits that put the assembly in, its ids being new already."""
    rests = machine.get("machine", {}).get("rests", [])
    wanted = [one.get("rests") for one in _all(source, "part")]
    missing = [rest for rest in dict.fromkeys(wanted) if rest and rest != ANY_REST and rest not in rests]
    if missing:
        # How the machine lies first stays so; where it did not say, it lies as the assembly does.
        own = rests or source["machine"]["rests"][:1]
        yield SetKey("machine", None, "rests", list(dict.fromkeys([*own, *missing])))
    there = {one["id"] for one in _all(machine, "instrument")}
    for kind in KINDS:
        for one in _all(source, kind):
            if kind == "instrument" and one["id"] in there:
                continue
            table = dict(one)
            if number > 1 and kind != "instrument" and "name" in table:
                table["name"] = _titled(table["name"], number)
            if kind == "part" and behind and _comes_off_first(table):
                table["behind"] = list(dict.fromkeys(behind))
            yield AddTable(kind, _in_order(table))


def _comes_off_first(part: Mapping[str, Any]) -> bool:
    ways = part.get("ways", [])
    return not part.get("stays") and not part.get("behind") and (not ways or not all(ways))


def _in_order(table: Mapping[str, Any]) -> dict[str, Any]:
    """Id, name and what it is behind first; lists of tables last, as TOML wants them."""
    first = [key for key in ("id", "name", "behind") if key in table]
    last = [key for key in LAST if key in table]
    return {key: table[key] for key in [*first, *(key for key in table if key not in {*first, *last}), *last]}


def _first(mistakes: Sequence[Mistake]) -> str:
    return " ".join(f"Line {one.line}: {one.text} {one.mend}" for one in mistakes[:2])
