"""A file, or one piece of it, as HTTP asks for it: Range, If-Range, 206, 304 and 416, read from the disk as it is sent.

Source: RFC 9110, 13.1.5 (If-Range), 14.1.2 (byte ranges), 14.2 (Range), 14.4 (Content-Range), 15.3.7 (206), 15.5.17.
"""

import re
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import ClassVar, Final, NamedTuple

from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.http import http_date, parse_http_date_safe

PIECE_BYTES: Final = 64 * 1024
MOST_AT_ONCE_BYTES: Final = 2 * 1024 * 1024
"""A browser asks for "all from here on" and then takes its time; answered with so much it asks again, and meanwhile
holds none of the server's threads. RFC 9110, 15.3.7: a client inspects which part it was sent. A piece that is asked
for with its end is sent whole: iPads refuse a shorter one."""
MOST_LONG: Final = 16
"""So many may fetch a whole film or a long piece at once; each holds a thread as long as it takes, and the benches need
theirs (`serve` has 32)."""
_RANGE = re.compile(r"\s*bytes\s*=\s*(\d{0,18})\s*-\s*(\d{0,18})\s*", re.IGNORECASE | re.ASCII)


class Piece(NamedTuple):
    """A piece of a file: its first byte, and the one after its last; whether it was asked for without an end."""

    first: int
    after: int
    is_open: bool = False


class TooMany(Exception):
    """So many fetch long pieces that the benches would wait."""


class NotThere(Exception):
    """The file has no such piece."""


def asked_piece(header: str, size: int) -> Piece | None:
    """Which piece of a file of so many bytes is asked for? None: the whole.

    >>> asked_piece("bytes=0-99", 1000), asked_piece("bytes=-10", 1000)
    (Piece(first=0, after=100, is_open=False), Piece(first=990, after=1000, is_open=False))
    >>> asked_piece("bytes=900-", 1000)
    Piece(first=900, after=1000, is_open=True)

    Several pieces at once, another unit, and what cannot be read are answered with the whole, as the standard allows.
    Raises NotThere where the piece begins after the end.
    """
    found = _RANGE.fullmatch(header)
    if not found or not (found[1] or found[2]):
        return None
    if not found[1]:
        first, last = max(size - int(found[2]), 0), size - 1
        if not int(found[2]):
            raise NotThere
    else:
        first, last = int(found[1]), min(int(found[2]), size - 1) if found[2] else size - 1
        if found[2] and int(found[2]) < first:
            return None
    if first >= size:
        raise NotThere
    return Piece(first, last + 1, not found[2])


def sent_file(request: HttpRequest, path: Path, kind: str, size: int, changed_ns: int) -> HttpResponseBase:
    """The answer to a request for this file. changed_ns: when it was last written [ns since 1970]."""
    tag, day = f'"{size:x}-{changed_ns:x}"', http_date(changed_ns // 1_000_000_000)
    # Packing would change the bytes that pieces are counted in, and a film is packed already.
    request.META.pop("HTTP_ACCEPT_ENCODING", None)
    response: HttpResponseBase
    if _is_known(request, tag):
        response = HttpResponse(status=304)
    else:
        try:
            asked = request.headers.get("Range", "") if _is_same(request, tag, changed_ns) else ""
            response = _answer(request, path, size, asked_piece(asked, size))
        except NotThere:
            response = HttpResponse(status=416, content_type="text/plain; charset=utf-8")
            response["Content-Range"] = f"bytes */{size}"
        except TooMany:
            response = HttpResponse(
                "Others fetch films now. Try again in a minute.", status=429, content_type="text/plain"
            )
            response["Retry-After"] = "60"
    if response.status_code in {200, 206}:
        response["Content-Type"] = kind
    response["Accept-Ranges"] = "bytes"
    response["ETag"], response["Last-Modified"] = tag, day
    response["Cache-Control"] = "private, no-cache"
    return response


def _answer(request: HttpRequest, path: Path, size: int, piece: Piece | None) -> HttpResponseBase:
    status, first, after = 200, 0, size
    if piece is not None:
        status, first, after = 206, piece.first, piece.after
        if piece.is_open:
            after = min(after, first + MOST_AT_ONCE_BYTES)
    response: HttpResponseBase
    if request.method == "HEAD":
        response = HttpResponse(status=status)
    elif after - first <= MOST_AT_ONCE_BYTES:
        response = StreamingHttpResponse(_read(path, first, after), status=status)
    else:
        response = StreamingHttpResponse(_Long(_read(path, first, after)), status=status)
    response["Content-Length"] = str(after - first)
    if piece is not None:
        response["Content-Range"] = f"bytes {first}-{after - 1}/{size}"
    return response


def _read(path: Path, first: int, after: int) -> Iterator[bytes]:
    """The bytes of a piece, a little at a time: a film is never whole in memory."""
    with path.open("rb") as file:
        file.seek(first)
        left = after - first
        while left > 0 and (read := file.read(min(PIECE_BYTES, left))):
            left -= len(read)
            yield read


class _Long:
    """A long piece being fetched; counted until it is sent, or whoever fetches it is gone."""

    _fetched: ClassVar = threading.BoundedSemaphore(MOST_LONG)

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._is_counted = self._fetched.acquire(blocking=False)
        self._pieces = pieces
        if not self._is_counted:
            raise TooMany

    def __iter__(self) -> Iterator[bytes]:
        return self

    def __next__(self) -> bytes:
        try:
            return next(self._pieces)
        except BaseException:
            self.close()
            raise

    def close(self) -> None:
        """It is counted no more."""
        if self._is_counted:
            self._is_counted = False
            self._fetched.release()

    def __del__(self) -> None:
        self.close()


def _is_known(request: HttpRequest, tag: str) -> bool:
    """Whether the browser has exactly this already."""
    known = request.headers.get("If-None-Match", "")
    return known.strip() == "*" or tag in [one.strip().removeprefix("W/") for one in known.split(",")]


def _is_same(request: HttpRequest, tag: str, changed_ns: int) -> bool:
    """Whether a piece still fits what the browser has: else the whole is sent."""
    held = request.headers.get("If-Range", "").strip()
    if not held:
        return True
    if held.startswith(('"', "W/")):
        return held == tag
    return parse_http_date_safe(held) == changed_ns // 1_000_000_000
