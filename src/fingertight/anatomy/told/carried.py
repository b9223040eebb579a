"""What changed from one text of a machine to the next is carried into a third, which somebody changed meanwhile."""

from collections.abc import Iterator, Mapping
from typing import Any

from fingertight.anatomy.model import Anatomy, Part
from fingertight.anatomy.write import AddTable, Edit, RemoveKey, SetKey


def carried(before: Anatomy, after: Anatomy, now: Anatomy) -> tuple[Edit, ...]:
    """Which edits of the file as it is `now` say what is new in `after` and was not in `before`?

    Key by key of each part: what did not change from `before` to `after` stays as it is now, with whatever somebody
    wrote there. A part that is new is added; one that is there no more is left, for others may name it.

    >>> read = Anatomy.model_validate
    >>> lid = {"format": 1, "machine": {"name": "Pump"}, "part": [{"id": "lid"}, {"id": "cap", "behind": ["lid"]}]}
    >>> free = lid | {"part": [{"id": "lid"}, {"id": "cap"}]}
    >>> mine = lid | {"part": [{"id": "lid"}, {"id": "cap", "behind": ["lid"], "care": "In oil."}]}
    >>> carried(read(lid), read(free), read(mine))
    (RemoveKey(kind='part', id='cap', key='behind', inside=()),)
    """
    return tuple(_edits(before, after, now))


def _edits(before: Anatomy, after: Anatomy, now: Anatomy) -> Iterator[Edit]:
    for part in after.parts:
        said, is_now = _said(part), now.part_by_id.get(part.id)
        old = before.part_by_id.get(part.id)
        if is_now is None:
            if old is None:  # else somebody took it out
                yield AddTable("part", said)
            continue
        was, mine = _said(old) if old else {}, _said(is_now)
        for key in dict.fromkeys((*said, *was)):
            new = said.get(key)
            if key == "id" or new == was.get(key) or new == mine.get(key):
                continue
            yield SetKey("part", part.id, key, new) if new is not None else RemoveKey("part", part.id, key)


def _said(part: Part) -> Mapping[str, Any]:
    """What the file says of a part, without what is at its default."""
    return part.model_dump(mode="json", by_alias=True, exclude_defaults=True)
