"""The small cast of these tests: one workshop with two benches, and how an entry is written there."""

import json
import sqlite3
from collections.abc import Iterable
from pathlib import Path

from fingertight.store.log.promise import Kept, Sent

WORKSHOP = 1
NEXT_DOOR = 2
BENCH_1 = "job-at-bench-1"
BENCH_2 = "job-at-bench-2"
NINE = "2026-03-05T09:00:00+01:00"
ANATOMY = 'format = 1\n[machine]\nname = "Bench fan"\n[[part]]\nid = "fan"\n'


def entry(entry_id: str, part: str = "fan", **more: object) -> Sent:
    """An entry as a tablet sends it."""
    said = {"id": entry_id, "kind": "off", "at": NINE, "by": "Bench 1", "part": part, "bag": "3", **more}
    return Sent(entry_id, json.dumps(said, ensure_ascii=False))


def entries(count: int, start: int = 1) -> list[Sent]:
    """So many entries, e1, e2, …"""
    return [entry(f"e{number}") for number in range(start, start + count)]


def as_sent(kept: Iterable[Kept]) -> list[Sent]:
    """What was handed in, as it was kept."""
    return [Sent(one.id, one.body) for one in kept]


def outside(database: Path, *statements: str) -> None:
    """Somebody opens the database with another program, as it comes, and does these things to it."""
    connection = sqlite3.connect(database, isolation_level=None)
    try:
        for statement in statements:
            connection.execute(statement)
    finally:
        connection.close()


def tampered(database: Path, statement: str) -> None:
    """Somebody takes the refusals away first, then changes what was kept."""
    outside(database, "DROP TRIGGER entry_no_update", "DROP TRIGGER entry_no_delete", statement)
