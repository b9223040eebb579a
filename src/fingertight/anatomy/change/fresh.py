"""An anatomy, or a table of one, as fresh text."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from fingertight.anatomy.model import Anatomy

KINDS = ("instrument", "part", "check", "setting", "sign")
_WIDE = 110


def written(anatomy: Anatomy) -> str:
    """The anatomy as a fresh file, with what is at its default left out; read again, it is equal.

    >>> from fingertight.anatomy.model import Anatomy
    >>> print(written(Anatomy.model_validate({"format": 1, "machine": {"name": "Vice"}, "part": [{"id": "jaw"}]})))
    format = 1
    <BLANKLINE>
    [machine]
    name = "Vice"
    <BLANKLINE>
    [[part]]
    id = "jaw"
    <BLANKLINE>
    """
    said = anatomy.model_dump(by_alias=True, exclude_defaults=True)
    lines = [f"format = {anatomy.format}", "", "[machine]", *pairs(said["machine"])]
    if "engine" in said:
        lines += ["", "[engine]", *pairs(said["engine"])]
    for kind in KINDS:
        for table in said.get(kind, ()):
            lines += ["", *block(kind, table)]
    return "\n".join(lines) + "\n"


def block(kind: str, table: Mapping[str, Any]) -> list[str]:
    """The lines of one of several, a part with its fasteners under it.

    >>> block("part", {"id": "lid", "held_by": [{"thread": "M6"}]})
    ['[[part]]', 'id = "lid"', '', '  [[part.held_by]]', '  thread = "M6"']
    """
    own = {key: value for key, value in table.items() if (kind, key) != ("part", "held_by")}
    lines = [f"[[{kind}]]", *pairs(own)]
    for one in table.get("held_by", ()) if kind == "part" else ():
        lines += ["", "  [[part.held_by]]", *(f"  {line}" for line in pairs(one))]
    return lines


def pairs(table: Mapping[str, Any]) -> Iterator[str]:
    """The lines of a table; a list that is too wide for one gets a line an entry.

    >>> list(pairs({"minutes": 2.0, "tools": ["mallet"]}))
    ['minutes = 2', 'tools = ["mallet"]']
    """
    for key, value in table.items():
        line = f"{key} = {toml(value)}"
        if len(line) > _WIDE and isinstance(value, list | tuple):
            line = f"{key} = [\n" + "".join(f"    {toml(one)},\n" for one in value) + "]"
        yield from line.split("\n")


def toml(value: object) -> str:
    """A value as it stands in a machine file.

    >>> toml([6.0, True, 'a "b"'])
    '[6, true, "a \\\\"b\\\\""]'
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        # A JSON text is a TOML text, but for the one control character that JSON lets stand.
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{key} = {toml(one)}' for key, one in value.items())} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml(one) for one in value)}]"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return repr(value)
