"""A process that taps without end, four tablets at once, and says each id on its standard output once it is kept.

Run by `test_kill.py`, which kills it: `python tapping.py DATABASE WORKSHOP JOB ROUND`.
"""

import json
import os
import sys
import threading
from pathlib import Path

from fingertight.store.log.promise import Ended, Sent
from fingertight.store.writer import Writer


def tap(writer: Writer, workshop: int, job: str, tablet: str) -> None:
    """Tap for ever."""
    number = 0
    while True:
        entry_id = f"{tablet}-{number}"
        body = json.dumps({"id": entry_id, "kind": "off", "part": "fan", "bag": "3"})
        (receipt,) = writer.append(workshop, job, [Sent(entry_id, body)], "2026-03-05T09:00:00+01:00")
        if receipt.ended is not Ended.NEW:
            os.write(2, f"{receipt}\n".encode())
            os._exit(1)
        os.write(1, f"{entry_id}\n".encode())
        number += 1


if __name__ == "__main__":
    database, workshop, job, round_ = sys.argv[1:]
    writer = Writer(Path(database))
    for tablet in range(4):
        threading.Thread(target=tap, args=(writer, int(workshop), job, f"{round_}-{tablet}")).start()
