"""What a table of the file says under a key. What is not of the type asked for is left out: the shapes speak of it."""

from typing import Any

from fingertight.anatomy.mistakes import Path

Table = dict[str, Any]
MOST_SHOWN = 80


def tables(said: Table, kind: str, around: Path = ()) -> list[tuple[Path, Table]]:
    """The tables of one kind with their paths.

    >>> tables({"part": [{"id": "a"}, 3]}, "part")
    [(('part', 0), {'id': 'a'})]
    """
    found = said.get(kind)
    listed = found if isinstance(found, list) else []
    return [((*around, kind, index), table) for index, table in enumerate(listed) if isinstance(table, dict)]


def texts(table: Table, key: str) -> list[tuple[int, str]]:
    """The texts of a list, each with its index.

    >>> texts({"behind": ["fan", 3, "guard"]}, "behind")
    [(0, 'fan'), (2, 'guard')]
    """
    found = table.get(key)
    listed = found if isinstance(found, list) else []
    return [(index, one) for index, one in enumerate(listed) if isinstance(one, str)]


def text(table: Table, key: str) -> str | None:
    """The text under a key, or None where there is none, or an empty one.

    >>> text({"id": "fan", "name": 3}, "id"), text({"id": "fan", "name": 3}, "name")
    ('fan', None)
    """
    found = table.get(key)
    return found if isinstance(found, str) and found else None


def number(value: object) -> float | None:
    """The value as a number, or None where it is none or no size.

    >>> number(3), number(True), number(float("nan"))
    (3.0, None, None)
    """
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e300:
        return None
    return float(value)


def numbers(table: Table, key: str) -> list[float]:
    """The numbers of a list, or nothing when one of its entries is none.

    >>> numbers({"new": [68, 68.015]}, "new"), numbers({"new": [68, "x"]}, "new")
    ([68.0, 68.015], [])
    """
    found = table.get(key)
    listed = [number(value) for value in found] if isinstance(found, list) else []
    return [] if None in listed else [one for one in listed if one is not None]


def whole(table: Table, key: str) -> int | None:
    """The count under a key, or None where there is none.

    >>> whole({"count": 6}, "count"), whole({"count": 2.5}, "count")
    (6, None)
    """
    found = table.get(key)
    return found if isinstance(found, int) and not isinstance(found, bool) and 0 < found <= 10_000 else None


def ids(said: Table, kind: str) -> list[str]:
    """The ids of all tables of a kind, as they stand.

    >>> ids({"part": [{"id": "fan"}, {"name": "x"}]}, "part")
    ['fan']
    """
    return [name for _, table in tables(said, kind) if (name := text(table, "id"))]


def by_id(said: Table, kind: str) -> dict[str, Table]:
    """The tables of a kind under their ids.

    >>> by_id({"check": [{"id": "bore", "max": 3}]}, "check")["bore"]["max"]
    3
    """
    return {name: table for _, table in tables(said, kind) if (name := text(table, "id"))}


def short(name: str) -> str:
    """A name as a sentence quotes it, cut where it is far too long.

    >>> short("fan")
    'fan'
    """
    return name if len(name) <= MOST_SHOWN else name[: MOST_SHOWN - 1] + "…"
