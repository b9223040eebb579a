"""A mistake that has a mechanical mend is mended in the text, where it stands; all else stays as it is written."""

import re
from collections.abc import Callable, Iterable
from typing import Any

from fingertight.anatomy.change.edits import CannotEdit, RemoveEntry, RemoveKey, SetKey, at
from fingertight.anatomy.change.on_text import edited, within
from fingertight.anatomy.mistakes import Mend, Path
from fingertight.anatomy.positions import Positions

_KEY = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'[^']*'|[A-Za-z0-9_-]+")
_BY_HAND = "This cannot be mended by itself as the file is written; mend what stands before it first, or do it by hand."


def mended(text: str, mends: Iterable[Mend]) -> str:
    """The text with these mends done. Their paths are those of the text as it is given.

    >>> mended('[[part]]\\nid = "lid"\\nbehnd = []  # none\\n', [Mend(("part", 0, "behnd"), "key", "behind")])
    '[[part]]\\nid = "lid"\\nbehind = []  # none\\n'

    Raises CannotEdit where the text is written in a way in which that cannot be done.
    """
    for mend in mends:
        changed = _DONE[mend.what](text, mend)
        if changed is None:
            raise CannotEdit(_BY_HAND)
        text = changed
    return text


def _put(text: str, mend: Mend) -> str | None:
    *outer, key = mend.path
    value = list(mend.value) if isinstance(mend.value, tuple) else mend.value
    if isinstance(key, str):
        return edited(text, SetKey(str(mend.path[0]), None, key, value), tuple(outer))

    def change(holder: Any) -> None:
        holder[key] = value

    return _in_list(text, tuple(outer), change)


def _out(text: str, mend: Mend) -> str | None:
    *outer, key = mend.path
    if isinstance(key, str):
        return edited(text, RemoveKey(str(mend.path[0]), None, key), tuple(outer))

    if isinstance(outer[-1], str):
        gone = RemoveEntry(str(mend.path[0]), None, outer[-1], int(key))
        return edited(text, gone, tuple(outer[:-1]))

    def change(holder: Any) -> None:
        del holder[key]

    return _in_list(text, tuple(outer), change)


def _key(text: str, mend: Mend) -> str | None:
    """A key gets its right name: before = and in headers, or within { }."""
    *outer, old = mend.path
    spans, raw = Positions(text).spans, text.encode("utf-8")
    places = [
        (span.start, span.value)
        for path, span in spans.items()
        if path[: len(mend.path)] == mend.path and raw[span.start : span.start + 1] == b"["
    ]
    number = sum(isinstance(step, str) for step in outer)
    if not places and mend.path in spans:
        places, number = [(spans[mend.path].start, spans[mend.path].value)], 0
    if not places:

        def change(holder: Any) -> None:
            if old not in holder or mend.value in holder:
                raise CannotEdit(_BY_HAND)
            holder[mend.value] = holder.pop(str(old))

        return _in_list(text, tuple(outer), change)
    for start, end in sorted(places, reverse=True):
        header = raw[start:end].decode("utf-8")
        keys = list(_KEY.finditer(header))
        if len(keys) <= number or keys[number][0].strip("\"'") != old:
            return None
        renamed = header[: keys[number].start()] + str(mend.value) + header[keys[number].end() :]
        raw = raw[:start] + renamed.encode("utf-8") + raw[end:]
    return raw.decode("utf-8")


def _brackets(text: str, mend: Mend) -> str | None:
    lines = text.split("\n")
    row = int(mend.value)
    if row >= len(lines):
        return None
    lines[row], done = re.subn(r"^(\s*)\[\s*([^\[\]]+?)\s*\]", r"\1[[\2]]", lines[row])
    return "\n".join(lines) if done else None


def _in_list(text: str, path: Path, change: Callable[[Any], None]) -> str | None:
    """The text with a list or { } at this path, within one value, changed."""
    spans = Positions(text).spans
    outer = next((path[:size] for size in range(1, len(path) + 1) if isinstance(path[size - 1], str)
                  and path[:size] in spans and (*path[:size], 0) not in spans), None)  # fmt: skip
    if outer is None or text.encode("utf-8")[spans[outer].start :].startswith(b"["):
        return None
    rest = path[len(outer) :]
    return within(text, spans[outer], lambda value: change(at(value, rest)))


_DONE: dict[str, Callable[[str, Mend], str | None]] = {"put": _put, "out": _out, "key": _key, "brackets": _brackets}
