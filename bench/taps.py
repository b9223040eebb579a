"""A served tap: a press on the bench page, kept for good and answered, beside the bare insert it cannot do without."""

import os
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from shutil import which
from statistics import median

from floor import inserts_per_second
from rows import Row
from served import Served
from tablets import Tablet, Tapped, tapped

HERE = Path(__file__).resolve().parent
CLIENTS, MANY = 30, 300
SECONDS, WORST_OVER_S = 6.0, 20.0
SLOW_SHARE = 0.5
NOTHING_SIGNED_IN = "full middleware; there is no signing in yet"


def rows() -> Iterator[Row]:
    """The rows of this family."""
    with tempfile.TemporaryDirectory(prefix="fingertight-bench-") as folder:
        yield from _on_this_disk(Path(folder))
        yield _on_a_slow_disk(Path(folder))


def _on_this_disk(folder: Path) -> Iterator[Row]:
    floors = [inserts_per_second(folder)]
    with Served(folder / "workshop") as served:
        benches = served.benches(MANY // 2)
        runs: dict[str, Tapped] = {}
        for answer, seconds in (
            ("told where to look", WORST_OVER_S),
            ("its flags", SECONDS),
            ("the bench drawn anew", SECONDS),
        ):
            runs[answer] = tapped([Tablet(served, bench, answer) for bench in benches[:CLIENTS]], seconds)
            floors.append(inserts_per_second(folder))
        crowd = tapped(
            [Tablet(served, benches[one % len(benches)], "told where to look") for one in range(MANY)], SECONDS
        )
    floor = median(floors)
    beside = "bare SQLite FULL insert"
    for answer, goal in (("told where to look", 0.40), ("its flags", 0.25), ("the bench drawn anew", None)):
        run = runs[answer]
        what = f"served taps, {CLIENTS} clients, answered with {answer}"
        note = f"{NOTHING_SIGNED_IN}; p50 {run.p50_ms:.1f} ms, p99 {run.p99_ms:.0f} ms, {run.failed} failed"
        yield Row(what, beside, run.per_second / floor, "at least", goal, note=note)
    longest = runs["told where to look"]
    what = f"worst tap of a {WORST_OVER_S:.0f} s run, {CLIENTS} clients"
    yield Row(what, "–", longest.worst_ms, "at most", 100.0, unit="ms", note=f"{longest.answered:,} taps")
    note = f"{crowd.answered:,} answered, {crowd.per_second / floor:.2f} × the bare rate, worst {crowd.worst_ms:.0f} ms"
    yield Row(f"failed taps with {MANY} clients", "–", crowd.failed, "at most", 0, unit="taps", note=note)


def _on_a_slow_disk(folder: Path) -> Row:
    what, beside = f"served taps, {CLIENTS} clients, each sync 4 ms longer", "bare insert, each sync 4 ms longer"
    shim = _slow_disk(folder)
    if shim is None:
        return Row(what, beside, None, "at least", 5.0, note="it needs a C compiler on Linux")
    slow = {**os.environ, "LD_PRELOAD": str(shim)}
    floor, usual = inserts_per_second(folder, slow), inserts_per_second(folder)
    if floor > SLOW_SHARE * usual:
        return Row(what, beside, None, "at least", 5.0, note="the syncs of this SQLite could not be slowed down")
    with Served(folder / "slow", slow) as served:
        run = tapped([Tablet(served, bench, "told where to look") for bench in served.benches(CLIENTS)], SECONDS)
    note = f"p50 {run.p50_ms:.0f} ms, p99 {run.p99_ms:.0f} ms, {run.failed} failed"
    return Row(what, beside, run.per_second / floor, "at least", 5.0, note=note)


def _slow_disk(folder: Path) -> Path | None:
    """The library that slows each sync down, made anew; None where it cannot be made."""
    compiler, made = which("cc") or which("gcc"), folder / "slow_disk.so"
    if compiler is None:
        return None
    command = [compiler, "-O2", "-shared", "-fPIC", "-o", str(made), str(HERE / "slow_disk.c"), "-ldl"]
    return made if subprocess.run(command, check=False, capture_output=True).returncode == 0 else None
