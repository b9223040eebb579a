"""One edit on the text of a machine file: only the lines it is about change, whatever stands around them.

Where a table, a key or a value stands is asked of the syntax tree; tomlkit changes a list or { } within its brackets,
so that remarks between its entries stay.
"""

from collections.abc import Callable
from typing import Any

import tomlkit

from fingertight.anatomy.change.edits import (
    AddTable,
    AppendTo,
    Edit,
    RemoveEntry,
    RemoveKey,
    RemoveTable,
    SetKey,
    at,
    on_table,
)
from fingertight.anatomy.change.fresh import block, pairs, toml
from fingertight.anatomy.mistakes import Path
from fingertight.anatomy.positions import Positions, Span

_HEAD = "x = "


def edited(text: str, edit: Edit, path: Path) -> str | None:
    """The text with one edit done on the table at this path, or None where it is written in a way not known here.

    >>> edited('[[part]]\\nid = "lid"\\n\\n# the rest\\n', SetKey("part", "lid", "minutes", 2.0), ("part", 0))
    '[[part]]\\nid = "lid"\\nminutes = 2\\n\\n# the rest\\n'
    """
    spans, raw = Positions(text).spans, text.encode("utf-8")
    if isinstance(edit, AddTable):
        return _added(raw, spans, edit)
    if isinstance(edit, RemoveTable):
        return _cut(raw, spans, path)
    here = (*path, edit.key)
    if here in spans and (*here, 0) not in spans:
        return _pair(raw, spans[here], edit)
    if path in spans and (*here, 0) in spans:
        if isinstance(edit, RemoveEntry):
            return _cut(raw, spans, (*here, edit.at))
        return _listed(raw, spans, edit, here) if isinstance(edit, AppendTo) else None
    if path in spans and isinstance(edit, AppendTo) and here[0] == "part" and here[2:] == ("held_by",):
        return _listed(raw, spans, edit, here)
    if path in spans and isinstance(edit, SetKey | AppendTo):
        value = edit.value if isinstance(edit, SetKey) else [edit.value]
        return _new_key(raw, spans[path], {edit.key: value})
    outer = next((path[:size] for size in range(1, len(path)) if _is_pair(spans, path[:size])), None)
    if outer is None:
        return None
    return _in_braces(raw, spans[outer], edit, path[len(outer) :])


def _in_braces(raw: bytes, span: Span, edit: SetKey | RemoveKey | AppendTo | RemoveEntry, rest: Path) -> str:
    """An edit of a table written in { }, where no remark can stand: it is written anew, and what is around it stays."""
    whole = _value(raw, span)
    table = at(whole, rest).unwrap()
    on_table(table, edit)
    if not rest:
        return _put(raw, span.value, span.end, toml(table))

    def change(value: Any) -> None:
        at(value, rest[:-1])[rest[-1]] = tomlkit.parse(_HEAD + toml(table))["x"]

    return _within(raw, span, change)


def _is_pair(spans: dict[Path, Span], path: Path) -> bool:
    return path in spans and isinstance(path[-1], str) and (*path, 0) not in spans


def _pair(raw: bytes, span: Span, edit: SetKey | RemoveKey | AppendTo | RemoveEntry) -> str | None:
    """An edit of a key that stands there as `key = value`."""
    if isinstance(edit, SetKey):
        return _put(raw, span.value, span.end, toml(edit.value))
    last = isinstance(edit, RemoveEntry) and len(_value(raw, span)) == 1
    if isinstance(edit, RemoveKey) or last:
        return _put(raw, _line_start(raw, span.start), _next_line(raw, span.end), "")
    holder = {edit.key: None}

    def change(value: Any) -> None:
        holder[edit.key] = value
        on_table(holder, edit)

    return _within(raw, span, change)


def _value(raw: bytes, span: Span) -> Any:
    return tomlkit.parse(_HEAD + raw[span.value : span.end].decode("utf-8"))["x"]


def _within(raw: bytes, span: Span, change: Callable[[Any], None]) -> str:
    """The text with the value of one pair changed by tomlkit, on that value alone."""
    document = tomlkit.parse(_HEAD + raw[span.value : span.end].decode("utf-8"))
    change(document["x"])
    return _put(raw, span.value, span.end, tomlkit.dumps(document)[len(_HEAD) :].rstrip("\r\n"))


def within(text: str, span: Span, change: Callable[[Any], None]) -> str:
    """The text with the value of one pair changed in place, on that value alone.

    >>> text = 'at = [1, 2]  # places'
    >>> within(text, Positions(text).spans[("at",)], lambda value: value.append(3))
    'at = [1, 2, 3]  # places'
    """
    return _within(text.encode("utf-8"), span, change)


def _new_key(raw: bytes, table: Span, keys: dict[str, Any]) -> str:
    """A line after the last own line of the table, set in as that one is."""
    indent = _indent(raw, table.end if table.end != table.value else table.start)
    return _insert(raw, _next_line(raw, table.end), [indent + line for line in pairs(keys)])


def _added(raw: bytes, spans: dict[Path, Span], edit: AddTable) -> str | None:
    lines, count = block(edit.kind, edit.keys), _count(spans, (edit.kind,))
    if not count:
        return None if (edit.kind,) in spans else _insert(raw, len(raw), ["", *lines])
    if edit.at is not None and edit.at < count:
        return _insert(raw, _above(raw, spans[(edit.kind, edit.at)].start), [*lines, ""])
    return _insert(raw, _next_line(raw, _end(spans, (edit.kind, count - 1))), ["", *lines])


def _listed(raw: bytes, spans: dict[Path, Span], edit: AppendTo, here: Path) -> str | None:
    """A table is added to a list of tables with headers of their own, below a part."""
    if not isinstance(edit.value, dict) or len(here) != 3:
        return None
    count = _count(spans, here)
    indent = _indent(raw, spans[(*here, 0)].start) if count else "  "
    lines = [indent + line for line in (f"[[{here[0]}.{edit.key}]]", *pairs(edit.value))]
    if edit.at is not None and edit.at < count:
        return _insert(raw, _above(raw, spans[(*here, edit.at)].start), [*lines, ""])
    return _insert(raw, _next_line(raw, _end(spans, here[:2])), ["", *lines])


def _cut(raw: bytes, spans: dict[Path, Span], path: Path) -> str | None:
    """The text without one table that has a header, and all below it; remarks before and after it stay."""
    if path not in spans:
        return None
    start, end = _line_start(raw, spans[path].start), _next_line(raw, _end(spans, path))
    if not raw[:start].strip() or raw[:start].replace(b"\r", b"").endswith(b"\n\n"):
        while end < len(raw) and not raw[end : _next_line(raw, end)].strip():
            end = _next_line(raw, end)
    return _put(raw, start, end, "")


def _end(spans: dict[Path, Span], path: Path) -> int:
    return max(span.end for one, span in spans.items() if one[: len(path)] == path)


def _count(spans: dict[Path, Span], path: Path) -> int:
    return sum(len(one) == len(path) + 1 and one[:-1] == path and isinstance(one[-1], int) for one in spans)


def _line_start(raw: bytes, place: int) -> int:
    return raw.rfind(b"\n", 0, place) + 1


def _next_line(raw: bytes, place: int) -> int:
    found = raw.find(b"\n", place)
    return len(raw) if found < 0 else found + 1


def _above(raw: bytes, place: int) -> int:
    """The start of the line of a header, or of the remarks that stand right above it."""
    start = _line_start(raw, place)
    while start:
        before = _line_start(raw, start - 1)
        if not raw[before:start].lstrip().startswith(b"#"):
            break
        start = before
    return start


def _indent(raw: bytes, place: int) -> str:
    line = raw[_line_start(raw, place) : _next_line(raw, place)].decode("utf-8", "replace")
    return line[: len(line) - len(line.lstrip(" \t"))] if line.strip() and line.strip()[0] not in "])}" else ""


def _insert(raw: bytes, place: int, lines: list[str]) -> str:
    """These lines before a place where a line begins, ended as the lines of the text are."""
    ending = "\r\n" if b"\r\n" in raw else "\n"
    first = ending if place and not raw[:place].endswith(b"\n") else ""
    return _put(raw, place, place, first + "".join(line + ending for line in "\n".join(lines).split("\n")))


def _put(raw: bytes, start: int, end: int, new: str) -> str:
    return (raw[:start] + new.encode("utf-8") + raw[end:]).decode("utf-8")
