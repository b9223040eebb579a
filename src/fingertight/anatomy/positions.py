"""Where in the text each key, table and list entry of a TOML file stands: a path of keys becomes line and column.

The values come from tomllib; only the places are taken from the tree of tree-sitter-toml, and only when asked for.
"""

import tomllib
from functools import cached_property, lru_cache
from typing import NamedTuple

import tree_sitter_toml
from tree_sitter import Language, Node, Parser

from fingertight.anatomy.mistakes import Path

# A row and a column in bytes, both from 0, as tree-sitter counts.
Place = tuple[int, int]


class Span(NamedTuple):
    """From where to where something stands, in bytes. A pair: from its key to the end of its value, which begins at
    `value`. A table: from its header to the end of its last own pair; the pairs begin at `value`."""

    start: int
    end: int
    value: int


_KEYS = {"bare_key", "quoted_key", "dotted_key"}
_PUNCTUATION = {"[", "]", "[[", "]]", ",", "{", "}", "=", ".", "comment", "ERROR"}


@lru_cache(maxsize=1)
def _language() -> Language:
    return Language(tree_sitter_toml.language())


class Positions:
    """Where everything of one text stands; lines and columns count from 1, columns in characters.

    >>> Positions('format = 1\\n[[part]]\\nid = "a"\\nbehind = ["b", "c"]').at(("part", 0, "behind", 1))
    (4, 16)
    """

    def __init__(self, text: str) -> None:
        self._bytes = text.encode("utf-8")
        self._meant: dict[Path, Path] = {}

    def meant(self, path: Path, written: Path) -> None:
        """What is asked for as `path` stands in the text under another key, `written`."""
        self._meant[path] = written

    def at(self, path: Path) -> tuple[int, int]:
        """Line and column of a key or a list entry, or of the nearest table around it that stands in the text."""
        for size in range(len(path), 0, -1):
            prefix = self._meant.get(path[:size])
            if prefix:
                path = prefix + path[size:]
        for size in range(len(path), 0, -1):
            found = self._places.get(path[:size])
            if found:
                return self._in_characters(found)
        return 1, 1

    def _in_characters(self, place: Place) -> tuple[int, int]:
        row, column = place
        before = self._lines[row][:column] if row < len(self._lines) else b""
        return row + 1, len(before.decode("utf-8", "replace")) + 1

    @cached_property
    def headers(self) -> dict[int, Path]:
        """The path each [table] or [[table]] header leads to, under its line counted from 0."""
        return self._tree[1]

    @property
    def spans(self) -> dict[Path, Span]:
        """Where each table with a header and each pair under one stands: the tables' own pairs, none within a value."""
        return self._tree[2]

    @cached_property
    def _lines(self) -> list[bytes]:
        return self._bytes.split(b"\n")

    @property
    def _places(self) -> dict[Path, Place]:
        return self._tree[0]

    @cached_property
    def _tree(self) -> tuple[dict[Path, Place], dict[int, Path], dict[Path, Span]]:
        places: dict[Path, Place] = {}
        headers: dict[int, Path] = {}
        spans: dict[Path, Span] = {}
        last: dict[Path, int] = {}
        for node in Parser(_language()).parse(self._bytes).root_node.children:
            if node.type == "pair":
                path = _pair(node, (), places)
                spans[path] = _span_of_pair(node)
            elif node.type in {"table", "table_array_element"}:
                headers[node.start_point.row] = _table(node, places, last, spans)
        return places, headers, spans


def _place(node: Node) -> Place:
    return node.start_point.row, node.start_point.column


def _span_of_pair(node: Node) -> Span:
    sign = next((index for index, child in enumerate(node.children) if child.type == "="), -1)
    value = node.children[sign + 1] if 0 < sign < len(node.children) - 1 else node
    return Span(node.start_byte, value.end_byte, value.start_byte)


def _table(node: Node, places: dict[Path, Place], last: dict[Path, int], spans: dict[Path, Span]) -> Path:
    """A header with the pairs under it; `last` is the index of the newest table of each list so far."""
    path: Path = ()
    children = node.children
    header = next((child for child in children if child.type in _KEYS), None)
    keys = _keys(header) if header else []
    for number, key in enumerate(keys, 1):
        path += (key,)
        places.setdefault(path, _place(node))
        if node.type == "table_array_element" and number == len(keys):
            last[path] = last.get(path, -1) + 1
        if path in last:
            path += (last[path],)
    places[path] = _place(node)
    end = header_end = next((child.end_byte for child in children if child.type in {"]", "]]"}), node.start_byte)
    for child in children:
        if child.type == "pair":
            inner = _pair(child, path, places)
            spans[inner] = _span_of_pair(child)
            end = spans[inner].end
    spans[path] = Span(node.start_byte, end, header_end)
    return path


def _pair(node: Node, path: Path, places: dict[Path, Place]) -> Path:
    """One `key = value`, the value's own tables and entries included; its path."""
    children = node.children
    for key in _keys(children[0]):
        path += (key,)
        places.setdefault(path, _place(node))
    # A remark after the value belongs to the pair too, so the value is what follows the sign.
    sign = next((index for index, child in enumerate(children) if child.type == "="), -1)
    if 0 < sign < len(children) - 1:
        _value(children[sign + 1], path, places)
    return path


def _value(node: Node, path: Path, places: dict[Path, Place]) -> None:
    if node.type == "array":
        entries = [child for child in node.children if child.type not in _PUNCTUATION]
        for index, entry in enumerate(entries):
            inner = (*path, index)
            places[inner] = _place(entry)
            _value(entry, inner, places)
    elif node.type == "inline_table":
        for child in node.children:
            if child.type == "pair":
                _pair(child, path, places)


def _keys(node: Node) -> list[str]:
    """The keys of a bare, quoted or dotted key, outermost first."""
    if node.type == "dotted_key":
        return [key for child in node.children if child.type in _KEYS for key in _keys(child)]
    text = (node.text or b"").decode("utf-8", "replace")
    if node.type != "quoted_key":
        return [text]
    try:
        return list(tomllib.loads(f"{text} = 0"))
    except tomllib.TOMLDecodeError:
        return [text]
