"""A lesson as hands make it: signed-in tablets tap at their own pace, and a wall looks again every two seconds."""

import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from classroom import BENCHES, Seat, Visitor, seats
from floor import inserts
from rows import Row
from served import Served
from tablets import Tablet, paced

CLASS, SCHOOL = 30, 300
OVER_S, TURNS = 10.0, 3
PACE_S = {CLASS: 2.0, SCHOOL: 10.0}
"""Each tablet of so many taps once in so many seconds. Hands loosen a screw between two taps: a class of 30 is asked
for far more than it does, ten classes at once for what they do in a hurry."""
WALL_LOOKS_S, HANDS_UP = 2.0, 12
WALL_GOAL_S = 2.0


def rows() -> Iterator[Row]:
    """The rows of this family."""
    with tempfile.TemporaryDirectory(prefix="fingertight-bench-") as at, Served(Path(at) / "workshop") as served:
        found = seats(served, SCHOOL)
        for many in PACE_S:
            yield from _paced(served, found[:many], Path(at))
        yield _wall(served, found)


def _paced(served: Served, at: list[Seat], folder: Path) -> Iterator[Row]:
    """Taps at their pace and bare inserts in turns: the middle of the turns."""
    p50, p99, notes, failed, every_s = [], [], [], 0, PACE_S[len(at)]
    for _ in range(TURNS):
        floor = inserts(folder)
        run = paced([Tablet(served, seat, "the bench drawn anew") for seat in at], OVER_S, every_s)
        p50.append(run.p50_ms / floor.p50_ms)
        p99.append(run.p99_ms / floor.p99_ms)
        notes.append(run)
        failed += run.failed
    usual = sorted(notes, key=lambda run: run.p99_ms)[TURNS // 2]
    what = f"{len(at)} signed-in tablets, a tap every {every_s:g} s each, the bench drawn anew"
    beside = "a bare SQLite FULL insert"
    said = f"{usual.p50_ms:.0f} ms, {failed} failed"
    yield Row(f"{what}: half are answered within", f"{beside}, half of them", median(p50), "at most", None, note=said)
    said = f"{usual.p99_ms:.0f} ms, worst {usual.worst_ms:.0f} ms"
    yield Row(
        f"{what}: 99 of 100 are answered within",
        f"{beside}, 99 of 100 of them",
        median(p99),
        "at most",
        None,
        note=said,
    )


def _wall(served: Served, found: list[Seat]) -> Row:
    """From the answer to a raised hand until a wall that looks every two seconds shows it, while a class taps."""
    tapping = [Tablet(served, seat, "a redirect") for seat in found[:CLASS]]
    asking = found[CLASS : CLASS + HANDS_UP]
    over_s = HANDS_UP * (WALL_LOOKS_S + 1.0)
    crowd = threading.Thread(target=paced, args=(tapping, over_s, PACE_S[CLASS]))
    crowd.start()
    delays = [_until_shown(served, seat, number + 1) for number, seat in enumerate(asking)]
    crowd.join()
    note = f"half within {median(delays):.1f} s; {CLASS} tablets tap, the wall shows {BENCHES} benches"
    what = f"worst delay of the wall for {HANDS_UP} raised hands, looking every {WALL_LOOKS_S:g} s"
    return Row(what, "–", max(delays), "at most", WALL_GOAL_S + 1.0, unit="s", note=note)


def _until_shown(served: Served, seat: Seat, bench: int) -> float:
    """One hand is raised at a moment that has nothing to do with when the wall looks."""
    tablet = Visitor(served)
    tablet.cookies = dict(pair.split("=", 1) for pair in seat.cookies.split("; "))
    tablet.token = seat.token
    wall, seen, raised_at = "/wall?class=class-2", "", 0.0
    looks = time.perf_counter()
    raise_at = looks + WALL_LOOKS_S * (0.1 + 0.8 * (bench * 0.618 % 1))
    while True:
        if not raised_at and time.perf_counter() >= raise_at:
            tablet.post(seat.place, kind="help", state="asked")
            raised_at = time.perf_counter()
        if time.perf_counter() >= looks:
            answer = served.get(wall, **{"X-Fragment": "live", "If-None-Match": seen})
            seen = answer.getheader("ETag") or seen
            if raised_at and answer.status == 200 and f"<b>Bench {bench}</b></a><span>asks for help" in served.body:
                return time.perf_counter() - raised_at
            looks += WALL_LOOKS_S
        time.sleep(0.005)
