"""What a tablet loads at its first look, in bytes and requests; and that nothing is fetched from elsewhere."""

import gzip
import re

from tests.web.tablet import Tablet

MOST_BYTES, MOST_REQUESTS = 60_000, 8


def _assets(tablet: Tablet, page: str) -> dict[str, bytes]:
    """Every file the page names, and every module those name, as they are sent to a browser that unpacks."""
    found: dict[str, bytes] = {}
    waiting = re.findall(r'(?:href|src)="(/static/[^"]+)"', page)
    while waiting:
        path = waiting.pop()
        if path not in found:
            answer = tablet.client.get(path, headers={"accept-encoding": "gzip"})
            assert answer.status_code == 200
            found[path] = answer.content
            text = gzip.decompress(answer.content).decode() if answer.get("Content-Encoding") == "gzip" else ""
            folder = path.rsplit("/", 1)[0]
            waiting += [f"{folder}/{name}" for name in re.findall(r'from "\./([^"]+)"', text)]
    return found


def test_the_first_load_of_a_busy_bench_is_small(tablet: Tablet) -> None:
    answer = tablet.client.get("/bench/pump-engine-2/strip")
    assets = _assets(tablet, answer.content.decode())
    total = len(gzip.compress(answer.content)) + sum(map(len, assets.values()))
    assert 1 + len(assets) <= MOST_REQUESTS
    assert total <= MOST_BYTES, total


def test_the_page_itself_is_sent_packed(tablet: Tablet) -> None:
    packed = tablet.client.get("/bench/pump-engine-2/strip", headers={"accept-encoding": "gzip"})
    assert packed["Content-Encoding"] == "gzip"
    assert len(packed.content) < 30_000


def test_nothing_on_any_page_comes_from_elsewhere(tablet: Tablet) -> None:
    for path in ("/", "/bench/pump-engine-2/rebuild", "/part/pump-engine-1/exhaust", "/machine/bench-vice"):
        page = tablet.client.get(path).content.decode()
        assert not re.findall(r'(?:href|src|action)="(?:https?:)?//', page)


def test_assets_are_kept_for_a_year_under_an_address_that_changes_with_them(tablet: Tablet) -> None:
    page = tablet.client.get("/").content.decode()
    style = re.findall(r'href="(/static/[0-9a-f]{12}/look\.css)"', page)[0]
    answer = tablet.client.get(style)
    assert answer["Cache-Control"] == "public, max-age=31536000, immutable"
    assert answer["Vary"] == "Accept-Encoding"
    assert answer.content.startswith(b"/* The look")


def test_a_page_that_looks_again_is_told_that_nothing_changed(tablet: Tablet) -> None:
    page = tablet.client.get("/bench/pump-engine-1/strip", headers={"x-fragment": "live"})
    seen = {"x-fragment": "live", "if-none-match": page["ETag"]}
    assert tablet.client.get("/bench/pump-engine-1/strip", headers=seen).status_code == 304
    tablet.opens("/bench/pump-engine-1/strip")
    tablet.presses("Off — bag 1")
    again = tablet.client.get("/bench/pump-engine-1/strip", headers=seen)
    assert again.status_code == 200
    assert again.content.decode().startswith("<header")
    assert "came off into bag 1" in again.content.decode()
