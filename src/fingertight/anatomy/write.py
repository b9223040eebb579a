"""An anatomy becomes text again: a file is changed with its comments and order kept, or written fresh from the model.

A change is checked: the new text says what the old one said with the edits, nothing else, or it is refused.
"""

import tomllib
from collections.abc import Iterable
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from fingertight.anatomy.change.edits import (
    AddTable,
    AppendTo,
    CannotEdit,
    Edit,
    RemoveEntry,
    RemoveKey,
    RemoveTable,
    SetKey,
    Value,
    do,
    loaded,
    path_of,
)
from fingertight.anatomy.change.fresh import written
from fingertight.anatomy.change.on_text import edited

__all__ = [
    "AddTable", "AppendTo", "CannotEdit", "Edit", "RemoveEntry", "RemoveKey", "RemoveTable", "SetKey", "Value",
    "rewritten", "written",
]  # fmt: skip


def rewritten(text: str, edits: Iterable[Edit]) -> str:
    """The text of a machine file with these edits done, one after the other; comments and order stay the author's.

    >>> rewritten('[[part]] # the lid\\nid = "lid"\\n', [SetKey("part", "lid", "minutes", 6)])
    '[[part]] # the lid\\nid = "lid"\\nminutes = 6\\n'

    Raises CannotEdit when the text is not TOML, has no such table or key, or cannot be changed without loss.
    """
    plain = changed = text.removeprefix("\ufeff")
    wanted = loaded(plain)
    for edit in edits:
        path = path_of(wanted, edit)
        do(wanted, edit)
        try:
            changed = _changed(changed, edit, path, wanted)
        except TOMLKitError as error:
            raise CannotEdit(f"The file cannot be changed so: {error}.") from None
    if _says(changed) != wanted:
        raise CannotEdit("The file is written in a way that this change would spoil; change it by hand.")
    return text[: len(text) - len(plain)] + changed


def _changed(text: str, edit: Edit, path: tuple[str | int, ...], wanted: dict[str, Any]) -> str:
    """By its lines; where the file is written in an unusual way, by the whole of it."""
    changed = edited(text, edit, path)
    if changed is not None and _says(changed) == wanted:
        return changed
    document = tomlkit.parse(text)
    do(document, edit)
    return tomlkit.dumps(document)


def _says(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except ValueError:
        return None
