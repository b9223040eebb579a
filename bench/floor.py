"""The floor under a tap: one durable row after the other in a bare SQLite file, no server and no rules.

`python bench/floor.py FOLDER` prints how many a second, so that it can also run with every sync of the disk delayed.
"""

import json
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

TABLE = """
CREATE TABLE entry (
    workshop INTEGER NOT NULL, job TEXT NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, body TEXT NOT NULL,
    PRIMARY KEY (workshop, job, seq), UNIQUE (workshop, id)
) STRICT
"""
BENCHES = 30
SECONDS = 2.0


def inserts_per_second(folder: Path, environment: dict[str, str] | None = None) -> float:
    """Bare inserts a second in this folder: WAL, synchronous FULL, one BEGIN IMMEDIATE … COMMIT each."""
    command = [sys.executable, __file__, str(folder)]
    said = subprocess.run(command, env=environment, check=True, capture_output=True, text=True).stdout
    return float(said)


def measured(folder: Path) -> float:
    """The rate, in this process."""
    file = folder / f"floor-{time.time_ns()}.sqlite3"
    connection = sqlite3.connect(file, isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL"):
        connection.execute(f"PRAGMA {pragma}")
    connection.execute(TABLE)
    body = json.dumps({"id": "0" * 36, "kind": "off", "at": "2026-03-05T09:00:00+01:00", "part": "exhaust", "bag": "7"})
    rows = 0
    start = time.perf_counter()
    while time.perf_counter() - start < SECONDS:
        connection.execute("BEGIN IMMEDIATE")
        row = (1, f"job-{rows % BENCHES}", rows // BENCHES + 1, f"{rows:036x}", body)
        connection.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?)", row)
        connection.execute("COMMIT")
        rows += 1
    rate = rows / (time.perf_counter() - start)
    connection.close()
    for left in folder.glob(f"{file.name}*"):
        left.unlink()
    return rate


if __name__ == "__main__":
    print(measured(Path(sys.argv[1])))
