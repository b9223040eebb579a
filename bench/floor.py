"""The floor under a tap: one durable row after the other in a bare SQLite file, no server and no rules.

`python bench/floor.py FOLDER` prints how many a second and how long one takes, so that it can also run with every sync
of the disk delayed.
"""

import json
import sqlite3
import subprocess
import sys
import time
from pathlib import Path
from typing import NamedTuple

TABLE = """
CREATE TABLE entry (
    workshop INTEGER NOT NULL, job TEXT NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, body TEXT NOT NULL,
    PRIMARY KEY (workshop, job, seq), UNIQUE (workshop, id)
) STRICT
"""
BENCHES = 30
SECONDS = 2.0


class Inserted(NamedTuple):
    """What bare inserts came to."""

    per_second: float
    p50_ms: float
    p99_ms: float


def inserts_per_second(folder: Path, environment: dict[str, str] | None = None) -> float:
    """Bare inserts a second in this folder: WAL, synchronous FULL, one BEGIN IMMEDIATE … COMMIT each."""
    return inserts(folder, environment).per_second


def inserts(folder: Path, environment: dict[str, str] | None = None) -> Inserted:
    """What bare inserts come to in a process of their own."""
    command = [sys.executable, __file__, str(folder)]
    said = subprocess.run(command, env=environment, check=True, capture_output=True, text=True).stdout
    return Inserted(*map(float, said.split()))


def measured(folder: Path) -> Inserted:
    """The rate and the times, in this process."""
    file = folder / f"floor-{time.time_ns()}.sqlite3"
    connection = sqlite3.connect(file, isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL"):
        connection.execute(f"PRAGMA {pragma}")
    connection.execute(TABLE)
    body = json.dumps({"id": "0" * 36, "kind": "off", "at": "2026-03-05T09:00:00+01:00", "part": "exhaust", "bag": "7"})
    rows, took = 0, []
    start = time.perf_counter()
    while (begun := time.perf_counter()) - start < SECONDS:
        connection.execute("BEGIN IMMEDIATE")
        row = (1, f"job-{rows % BENCHES}", rows // BENCHES + 1, f"{rows:036x}", body)
        connection.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?)", row)
        connection.execute("COMMIT")
        rows += 1
        took.append(time.perf_counter() - begun)
    rate = rows / (time.perf_counter() - start)
    connection.close()
    for left in folder.glob(f"{file.name}*"):
        left.unlink()
    took.sort()
    return Inserted(rate, 1000 * took[len(took) // 2], 1000 * took[int(0.99 * len(took))])


if __name__ == "__main__":
    found = measured(Path(sys.argv[1]))
    print(found.per_second, found.p50_ms, found.p99_ms)
