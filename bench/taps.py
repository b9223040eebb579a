"""A served tap: a press on the bench page, kept for good and answered, beside the bare insert it cannot do without."""

import os
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from shutil import which
from statistics import median

from classroom import seats
from floor import inserts_per_second
from rows import Row
from served import Served
from tablets import Tablet, tapped

HERE = Path(__file__).resolve().parent
CLIENTS, MANY = 30, 300
SLICES, SLICE_S, WORST_OVER_S = 5, 4.0, 20.0
GOALS = {"a redirect": 0.40, "its flags": 0.25, "the bench drawn anew": None}
SLOW_SHARE = 0.5
SIGNED_IN = "full middleware, signed in"


def rows() -> Iterator[Row]:
    """The rows of this family."""
    with tempfile.TemporaryDirectory(prefix="fingertight-bench-") as folder:
        yield from _on_this_disk(Path(folder))
        yield _on_a_slow_disk(Path(folder))


def _on_this_disk(folder: Path) -> Iterator[Row]:
    with Served(folder / "workshop") as served:
        found = seats(served, MANY)
        for number, (answer, goal) in enumerate(GOALS.items()):
            at = found[number * CLIENTS : (number + 1) * CLIENTS]
            yield _beside_the_floor([Tablet(served, seat, answer) for seat in at], answer, goal, folder)
        usual = next(iter(GOALS))
        longest = tapped([Tablet(served, seat, usual) for seat in found[:CLIENTS]], WORST_OVER_S)
        crowd = tapped([Tablet(served, seat, usual) for seat in found], SLICE_S)
    note = f"{longest.answered:,} taps, p99 {longest.p99_ms:.0f} ms"
    what = f"worst tap of a {WORST_OVER_S:.0f} s run, {CLIENTS} clients"
    yield Row(what, "–", longest.worst_ms, "at most", 100.0, unit="ms", note=note)
    note = f"{crowd.answered:,} answered, the worst after {crowd.worst_ms:.0f} ms"
    yield Row(f"failed taps with {MANY} clients", "–", crowd.failed, "at most", 0, unit="taps", note=note)


def _beside_the_floor(tablets: list[Tablet], answer: str, goal: float | None, folder: Path) -> Row:
    """Taps and bare inserts in short turns, so that what else the machine does is spread over both."""
    ratios, failed = [], 0
    for _ in range(SLICES):
        floor = inserts_per_second(folder)
        run = tapped(tablets, SLICE_S)
        failed += run.failed
        ratios.append(run.per_second / floor)
    what = f"served taps, {CLIENTS} clients, answered with {answer}"
    note = f"{SIGNED_IN}; {min(ratios):.2f} to {max(ratios):.2f} in {SLICES} turns, {failed} failed"
    return Row(what, "bare SQLite FULL insert", median(ratios), "at least", goal, note=note)


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
        run = tapped([Tablet(served, seat, "a redirect") for seat in seats(served, CLIENTS)], SLICE_S)
    note = f"p50 {run.p50_ms:.0f} ms, p99 {run.p99_ms:.0f} ms, {run.failed} failed"
    return Row(what, beside, run.per_second / floor, "at least", 5.0, note=note)


def _slow_disk(folder: Path) -> Path | None:
    """The library that slows each sync down, made anew; None where it cannot be made."""
    compiler, made = which("cc") or which("gcc"), folder / "slow_disk.so"
    if compiler is None:
        return None
    command = [compiler, "-O2", "-shared", "-fPIC", "-o", str(made), str(HERE / "slow_disk.c"), "-ldl"]
    return made if subprocess.run(command, check=False, capture_output=True).returncode == 0 else None
