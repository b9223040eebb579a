"""The ledger: a whole log replayed, and one entry more on top of a long log."""

import json
from collections.abc import Iterator
from time import process_time
from typing import Any

from jobs import lines, pump_engine
from rows import Row, best_seconds

from fingertight.ledger import Ledger, corrected_time, replay

LONG = 5_000
MORE = 60
ROUNDS = 9


def rows() -> Iterator[Row]:
    """The rows of this family."""
    yield whole_log()
    yield one_more()


def whole_log() -> Row:
    """From the lines to the ledger, parsing included; beside it parsing alone."""
    log, plan = lines(LONG), pump_engine()
    replayed, parsed = best_seconds(
        lambda: replay(plan, [json.loads(line) for line in log]),
        lambda: [json.loads(line) for line in log],
        rounds=ROUNDS,
    )
    what = f"replay of {LONG:,} entries of pump engines, their lines parsed too"
    return Row(what, "`json.loads` of the same lines", replayed / parsed, "at most", 5.0)


def one_more() -> Row:
    """The first entries of a strip: each heard on top of thousands, and each heard by an empty job."""
    plan = pump_engine()
    whole_class = len(_one_class())
    classes = LONG // whole_class
    long_log = [json.loads(line) for line in lines(classes * whole_class)]
    next_ones = _in_time([json.loads(line) for line in lines(MORE, first_class=classes)])
    on_top, on_empty = float("inf"), float("inf")
    for _ in range(ROUNDS):
        on_top = min(on_top, _heard(replay(plan, long_log), next_ones))
        on_empty = min(on_empty, *(_heard(Ledger(plan), next_ones) for _ in range(5)))
    what = f"one entry more on top of {len(long_log):,}"
    return Row(what, "the same entry on an empty job", on_top / on_empty, "at most", 2.0)


def _one_class() -> list[str]:
    first = lines(1)[0]
    seen = [first]
    for line in lines(LONG)[1:]:
        if json.loads(line)["id"].endswith("/1"):
            return seen
        seen.append(line)
    return seen


def _in_time(said: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those that sort last when they are heard; what is taken back, and what comes late, is a replay from its place."""
    taken_back = {each["entry"] for each in said if each["kind"] == "undo"}
    kept = [each for each in said if each["kind"] != "undo" and each["id"] not in taken_back]
    return sorted(kept, key=lambda each: corrected_time(each["at"], each.get("skew_s", 0.0)))


def _heard(ledger: Ledger, said: list[dict[str, Any]]) -> float:
    start = process_time()
    for each in said:
        ledger.hear(each)
    return process_time() - start
