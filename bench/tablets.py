"""Many tablets at once, each tapping again as soon as its tap is answered: one thread, plain sockets kept open."""

import heapq
import secrets
import selectors
import socket
import time
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import urlencode

from classroom import Seat
from jobs import pump_engine
from served import Served

from fingertight.cards.bench.bags import bag_numbers
from fingertight.store.ids import uuid7

ANSWERS = {
    "a redirect": "",
    "its flags": "Accept: application/json\r\n",
    "the bench drawn anew": "X-Fragment: live\r\n",
}


@dataclass(frozen=True)
class Tapped:
    """What a run of taps came to."""

    per_second: float
    p50_ms: float
    p99_ms: float
    worst_ms: float
    answered: int
    failed: int


class Tablet:
    """One window on one bench: it takes the engine apart in order of the bags, builds it back, and again."""

    def __init__(self, served: Served, seat: Seat, answer: str) -> None:
        self.sent_at = 0.0
        self._port = served.port
        self._answer = b""
        self._token = seat.token
        self._head = (
            f"POST {seat.place}/strip HTTP/1.1\r\nHost: localhost:{served.port}\r\nCookie: {seat.cookies}\r\n"
            f"Accept-Encoding: gzip\r\nContent-Type: application/x-www-form-urlencoded\r\n{ANSWERS[answer]}"
        )
        self._moves = _moves_without_end()

    def connects(self) -> None:
        """Open the connection that the taps to come share."""
        self.socket = socket.create_connection(("127.0.0.1", self._port))
        self.socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def taps(self) -> None:
        """Send the next move."""
        name = uuid7(time.time_ns() // 1_000_000, secrets.token_bytes(10))
        body = urlencode({"csrfmiddlewaretoken": self._token, "id": name, **next(self._moves)})
        request = f"{self._head}Content-Length: {len(body)}\r\n\r\n{body}".encode()
        self.sent_at = time.perf_counter()
        self.socket.sendall(request)

    def hears(self) -> int | None:
        """The status of the answer, once all of it is here; 0 when the server hung up."""
        more = self.socket.recv(1 << 18)
        if not more:
            return 0
        self._answer += more
        head, found, body = self._answer.partition(b"\r\n\r\n")
        if not found or len(body) < _length(head):
            return None
        self._answer = b""
        return int(head[9:12])


def _length(head: bytes) -> int:
    lines = head.lower().split(b"\r\n")
    return next((int(line[15:]) for line in lines if line.startswith(b"content-length:")), 0)


def _moves_without_end() -> Iterator[dict[str, str]]:
    parts = pump_engine().anatomy.part_by_id
    pieces = sorted(bag_numbers(pump_engine().anatomy).items(), key=lambda piece: int(piece[1]))
    said = [{"part": part, "bag": bag} | ({"place": place} if place else {}) for (part, place), bag in pieces]
    while True:
        for each in said:
            yield {"kind": "off", **each}
        for each in reversed(said):
            answers = {f"answer-{number}": ask.right for number, ask in enumerate(parts[each["part"]].ask)}
            yield {"kind": "on", **each, **answers}


def tapped(tablets: list[Tablet], seconds: float, first_s: float = 1.0) -> Tapped:
    """Let them tap; what was answered in the first second or so is warming up and not counted."""
    took: list[float] = []
    failed = 0
    with selectors.DefaultSelector() as selector:
        for tablet in tablets:
            tablet.connects()
            selector.register(tablet.socket, selectors.EVENT_READ, tablet)
            tablet.taps()
        begin = time.perf_counter() + first_s
        waiting = len(tablets)
        while waiting:
            ready = selector.select(timeout=30)
            if not ready:
                failed += waiting
                break
            for key, _ in ready:
                tablet = key.data
                status = tablet.hears()
                if status is None:
                    continue
                now = time.perf_counter()
                if status not in (200, 303):
                    failed += 1
                elif begin <= now:
                    took.append(now - tablet.sent_at)
                if now < begin + seconds and status:
                    tablet.taps()
                else:
                    waiting -= 1
                    selector.unregister(tablet.socket)
                    tablet.socket.close()
        ended = time.perf_counter()
    return came_to(took, ended - begin, failed)


def paced(tablets: list[Tablet], seconds: float, every_s: float) -> Tapped:
    """Let each tap once in so many seconds, spread evenly, as hands do. A tap is timed from when it was due, so that an
    answer that holds the next one up is not left out."""
    took: list[float] = []
    failed = 0
    begin = time.perf_counter() + 0.5
    due = [(begin + every_s * nth / len(tablets), nth) for nth in range(len(tablets))]
    with selectors.DefaultSelector() as selector:
        for tablet in tablets:
            tablet.connects()
            selector.register(tablet.socket, selectors.EVENT_READ, tablet)
        on_their_way: dict[int, tuple[float, int]] = {}
        while due or on_their_way:
            now = time.perf_counter()
            while due and due[0][0] <= now:
                at, nth = heapq.heappop(due)
                on_their_way[id(tablets[nth])] = (at, nth)
                tablets[nth].taps()
            for key, _ in selector.select(timeout=max(due[0][0] - now, 0.0) if due else 30):
                status = key.data.hears()
                if status is None:
                    continue
                at, nth = on_their_way.pop(id(key.data), (now, -1))
                failed += status not in (200, 303)
                took.append(time.perf_counter() - at)
                if status and at + every_s < begin + seconds:
                    heapq.heappush(due, (at + every_s, nth))
                else:
                    selector.unregister(key.data.socket)
                    key.data.socket.close()
    return came_to(took, time.perf_counter() - begin, failed)


def came_to(took: list[float], seconds: float, failed: int) -> Tapped:
    """What these answers came to, each as long as it took [s]."""
    took = sorted(took) or [float("nan")]
    at = [1000 * took[min(len(took) - 1, int(share * len(took)))] for share in (0.5, 0.99, 1.0)]
    return Tapped(len(took) / seconds, *at, len(took), failed)
