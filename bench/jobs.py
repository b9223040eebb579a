"""The pump engine's honest log as often as is asked for: one class after the other strips it and builds it back."""

import json
import tomllib
from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from fingertight.anatomy.model import Anatomy
from fingertight.ledger import Plan

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
ANEW = timedelta(days=364)
# The job goes on after the first class.
ONCE = {"finish"}


@cache
def pump_engine() -> Plan:
    """The machine of these jobs."""
    return Plan(Anatomy.model_validate(tomllib.loads((EXAMPLES / "pump-engine.toml").read_text("utf-8"))))


def lines(count: int, first_class: int = 0) -> list[str]:
    """So many lines of log, from class number `first_class` on."""
    said = _classes(first_class)
    return [next(said) for _ in range(count)]


def _classes(number: int) -> Iterator[str]:
    log = [json.loads(line) for line in (EXAMPLES / "logs" / "pump-engine.jsonl").read_text("utf-8").splitlines()]
    while True:
        for entry in log:
            if entry["kind"] not in ONCE:
                yield json.dumps(_of_class(entry, number), ensure_ascii=False)
        number += 1


def _of_class(entry: dict[str, Any], number: int) -> dict[str, Any]:
    at = (datetime.fromisoformat(entry["at"]) + number * ANEW).isoformat()
    named = {key: f"{entry[key]}/{number}" for key in ("id", "entry") if key in entry}
    return {**entry, **named, "at": at}
