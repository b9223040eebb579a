"""A long film under the server itself: a jump is answered with its piece, and nobody who fetches holds a bench up."""

import http.client
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from fingertight.web.pages.film.ranges import MOST_AT_ONCE_BYTES
from tests.journeys.served import Served

SIZE, PLACE = 500_000_000, 400_000_000
STALLED, PATIENCE_S, MOST_GROWTH_MB = 40, 10.0, 150

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="reads a size where Linux has it")


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workshop with a film of half a gigabyte, nearly all of it a hole in the file."""
    home: Path = tmp_path_factory.mktemp("long")
    (home / "films").mkdir()
    with (home / "films" / "long.mp4").open("wb") as film:
        film.write(b"\x00\x00\x00\x18ftypisom")
        film.seek(PLACE)
        film.write(b"HERE")
        film.truncate(SIZE)
    with Served(home) as server:
        yield server


class Asking:
    """Requests to the server, all closed in the end."""

    def __init__(self, served: Served) -> None:
        self.served = served
        self.open: list[http.client.HTTPConnection | http.client.HTTPResponse] = []

    def __call__(self, path: str, **headers: str) -> http.client.HTTPResponse:
        """One request; its answer is not read."""
        connection = http.client.HTTPConnection("localhost", self.served.port, timeout=PATIENCE_S)
        connection.request("GET", path, headers=headers)
        answer = connection.getresponse()
        self.open += [answer, connection]
        return answer


@pytest.fixture
def asks(served: Served) -> Iterator[Asking]:
    """Requests of one test."""
    asking = Asking(served)
    yield asking
    for one in asking.open:
        one.close()


def size_mb(served: Served) -> float:
    """The size in memory of the largest process that serves."""
    assert served._process is not None
    group, sizes = served._process.pid, []
    for process in Path("/proc").glob("[0-9]*"):
        try:
            stat = (process / "stat").read_text().rpartition(")")[2].split()
            pages = int((process / "statm").read_text().split()[1])
        except (OSError, ValueError):
            continue
        if int(stat[2]) == group:
            sizes.append(pages * 4096 / 1e6)
    return max(sizes)


def test_a_jump_into_half_a_gigabyte_is_answered_with_its_piece_and_no_memory_is_held(asks: Asking) -> None:
    assert asks("/bench/pump-engine-1/strip").status == 200
    before = size_mb(asks.served)
    answer = asks("/films/long.mp4", Range=f"bytes={PLACE}-{PLACE + 3}")
    assert (answer.status, answer.read()) == (206, b"HERE")
    for number in range(20):
        answer = asks("/films/long.mp4", Range=f"bytes={number * 20_000_000}-")
        assert len(answer.read()) == MOST_AT_ONCE_BYTES
    assert size_mb(asks.served) - before < MOST_GROWTH_MB


def test_many_who_fetch_and_take_nothing_hold_no_bench_up(asks: Asking) -> None:
    fetching = [asks("/films/long.mp4") for _ in range(STALLED)]
    assert {answer.status for answer in fetching} == {200, 429}
    began = time.monotonic()
    assert asks("/bench/pump-engine-1/strip").status == 200
    assert time.monotonic() - began < PATIENCE_S / 2
    assert size_mb(asks.served) < SIZE / 1e6 / 2
