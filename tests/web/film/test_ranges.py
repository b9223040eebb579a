"""A piece of a file as HTTP asks for it (RFC 9110), from the disk, a little at a time."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.http import StreamingHttpResponse
from django.test import RequestFactory
from hypothesis import given
from hypothesis import strategies as st

from fingertight.web.pages.film.ranges import MOST_AT_ONCE_BYTES, MOST_LONG, NotThere, asked_piece, sent_file

SIZE = 3 * MOST_AT_ONCE_BYTES + 17
CHANGED_NS = 1_772_697_600_123_456_789
DAY = "Thu, 05 Mar 2026 08:00:00 GMT"


@pytest.fixture(scope="module")
def film(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A file of some megabytes in which no two places are alike."""
    path = tmp_path_factory.mktemp("films") / "film.mp4"
    path.write_bytes(b"".join(number.to_bytes(4, "big") for number in range(SIZE // 4 + 1))[:SIZE])
    os.utime(path, ns=(CHANGED_NS, CHANGED_NS))
    return path


def asks(film: Path, method: str = "GET", **headers: str) -> Any:
    """The answer to one request for it."""
    request = getattr(RequestFactory(), method.lower())("/films/film.mp4", headers=headers)
    return sent_file(request, film, "video/mp4", SIZE, CHANGED_NS)


def body(answer: Any) -> bytes:
    """All that was sent."""
    return b"".join(answer) if isinstance(answer, StreamingHttpResponse) else answer.content


def test_without_a_range_the_whole_is_sent_with_its_length_and_tag(film: Path) -> None:
    answer = asks(film)
    assert answer.status_code == 200
    assert (answer["Content-Length"], answer["Accept-Ranges"], answer["Content-Type"]) == (
        str(SIZE),
        "bytes",
        "video/mp4",
    )
    assert answer["Last-Modified"] == DAY
    assert body(answer) == film.read_bytes()


def test_a_piece_is_sent_with_its_place(film: Path) -> None:
    answer = asks(film, range="bytes=1000-1999")
    assert (answer.status_code, answer["Content-Range"]) == (206, f"bytes 1000-1999/{SIZE}")
    assert answer["Content-Length"] == "1000"
    assert body(answer) == film.read_bytes()[1000:2000]


def test_the_end_is_asked_for_by_how_much_of_it(film: Path) -> None:
    answer = asks(film, range="bytes=-5")
    assert answer["Content-Range"] == f"bytes {SIZE - 5}-{SIZE - 1}/{SIZE}"
    assert body(answer) == film.read_bytes()[-5:]


def test_all_from_here_on_is_answered_with_so_much_as_holds_no_thread_up(film: Path) -> None:
    answer = asks(film, range="bytes=100-")
    assert answer["Content-Range"] == f"bytes 100-{100 + MOST_AT_ONCE_BYTES - 1}/{SIZE}"
    assert len(body(answer)) == int(answer["Content-Length"]) == MOST_AT_ONCE_BYTES


def test_a_piece_asked_for_with_its_end_is_sent_whole_for_ipads_refuse_a_shorter_one(film: Path) -> None:
    answer = asks(film, range=f"bytes=0-{SIZE - 1}")
    assert (answer.status_code, answer["Content-Range"]) == (206, f"bytes 0-{SIZE - 1}/{SIZE}")
    assert body(answer) == film.read_bytes()


def test_pieces_asked_for_in_turn_make_the_whole(film: Path) -> None:
    got = b""
    while len(got) < SIZE:
        got += body(asks(film, range=f"bytes={len(got)}-"))
    assert got == film.read_bytes()


def test_a_piece_behind_the_end_is_refused_with_the_length(film: Path) -> None:
    answer = asks(film, range=f"bytes={SIZE}-")
    assert (answer.status_code, answer["Content-Range"]) == (416, f"bytes */{SIZE}")
    assert body(answer) == b""


@pytest.mark.parametrize(
    "header", ["bytes=0-1,5-6", "bytes=9-3", "bytes=-", "bytes=a-b", "lines=1-2", "bytes 0-1", "bytes=--1", "bytes=²-3"]
)
def test_several_pieces_and_what_cannot_be_read_are_answered_with_the_whole(film: Path, header: str) -> None:
    assert asks(film, range=header).status_code == 200


@pytest.mark.parametrize(
    ("held", "status"),
    [
        (f'"{SIZE:x}-{CHANGED_NS:x}"', 206),
        (f'W/"{SIZE:x}-{CHANGED_NS:x}"', 200),
        ('"another"', 200),
        (DAY, 206),
        ("Thu, 05 Mar 2026 08:00:01 GMT", 200),
        ("yesterday", 200),
    ],
)
def test_a_piece_is_sent_only_of_what_the_browser_has_already(film: Path, held: str, status: int) -> None:
    assert asks(film, range="bytes=0-9", **{"if-range": held}).status_code == status


def test_what_the_browser_has_whole_is_not_sent_again(film: Path) -> None:
    tag = asks(film)["ETag"]
    assert asks(film, **{"if-none-match": f'"other", {tag}'}).status_code == 304
    assert asks(film, **{"if-none-match": '"other"'}).status_code == 200


def test_head_says_the_same_and_sends_nothing(film: Path) -> None:
    answer = asks(film, "HEAD", range="bytes=0-9")
    assert (answer.status_code, answer["Content-Length"], body(answer)) == (206, "10", b"")


def test_a_few_fetch_whole_films_at_once_and_pieces_are_sent_all_the_same(film: Path) -> None:
    fetching = [asks(film) for _ in range(MOST_LONG)]
    refused = asks(film)
    assert (refused.status_code, refused["Retry-After"]) == (429, "60")
    assert b"Others fetch films now." in body(refused)
    assert asks(film, range=f"bytes=0-{SIZE - 1}").status_code == 429
    assert asks(film, range="bytes=5-").status_code == 206
    assert body(fetching.pop()) == film.read_bytes()
    assert len(body(asks(film))) == SIZE
    fetching.pop().close()  # whoever fetched it is gone
    assert len(body(asks(film))) == SIZE
    for one in fetching:
        one.close()


@given(st.text(alphabet="bytes=-, 0123456789", max_size=20), st.integers(1, 200))
def test_whatever_is_asked_a_piece_lies_in_the_file(header: str, size: int) -> None:
    try:
        piece = asked_piece(header, size)
    except NotThere:
        return
    assert piece is None or 0 <= piece.first < piece.after <= size
