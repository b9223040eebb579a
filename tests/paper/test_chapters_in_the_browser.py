"""The chapters as Chromium's own video element lists them, on a film made for this test, and where it jumps to."""

import io
import json
from typing import Any

import av
import pytest
from playwright.sync_api import Browser, Route

from fingertight.cards.film.chapters import ChaptersCard, chapters_card
from fingertight.ledger import Ledger, Plan, read_entry
from fingertight.lesson.film.clock import Clock, read_mark
from fingertight.paper.film.written import webvtt
from tests.ledger.bench import plan_of
from tests.lesson.film.narrated import ROOT, machine

ADDRESS = "http://film.invalid"
LENGTH_S = 1200
PAGE = """<!doctype html><title>Film</title>
<video id="film" preload="auto" muted><track kind="chapters" src="/chapters.vtt" default></video>"""
LISTED = """() => new Promise((done, failed) => {
  const film = document.getElementById("film"), element = film.querySelector("track");
  element.track.mode = "hidden";
  const list = () => done({
    kind: film.textTracks[0].kind,
    cues: Array.from(film.textTracks[0].cues,
      cue => [cue.startTime, cue.endTime, cue.getCueAsHTML().textContent, cue.text]),
  });
  element.addEventListener("error", () => failed(new Error("the chapters cannot be read")));
  element.readyState === 2 ? list() : element.addEventListener("load", list);
})"""
LOADED = """async () => {
  const film = document.getElementById("film"), bytes = await (await fetch("/film.webm")).blob();
  const there = new Promise(done => film.addEventListener("loadeddata", done));
  film.src = URL.createObjectURL(bytes);  // what is asked for in pieces cannot be answered here
  await there;
  return film.duration;
}"""
JUMPED = """second => new Promise(done => {
  const film = document.getElementById("film"), track = film.textTracks[0];
  const look = () => {
    if (film.seeking || !track.activeCues.length) { setTimeout(look, 50); return; }
    done([film.currentTime, Array.from(track.activeCues, cue => cue.getCueAsHTML().textContent)]);
  };
  film.currentTime = second;
  setTimeout(look, 50);  // cues become active a moment after the picture is there
})"""


@pytest.fixture(scope="module")
def film() -> bytes:
    """Twenty minutes of a grey picture, a frame every ten seconds: a WebM of some kilobytes."""
    made = io.BytesIO()
    with av.open(made, "w", format="webm") as container:
        stream: Any = container.add_stream("libvpx", rate=1)
        stream.width = stream.height = 16
        for second in range(0, LENGTH_S + 1, 10):
            frame = av.VideoFrame(16, 16, "yuv420p")
            frame.pts = second
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
    return made.getvalue()


def opened(browser: Browser, film: bytes, chapters: str) -> Any:
    """A page with the film and its chapters; nothing is asked of any network."""
    answers = {
        "/": ("text/html", PAGE.encode()),
        "/film.webm": ("video/webm", film),
        "/chapters.vtt": ("text/vtt", chapters.encode()),
    }

    def answer(route: Route) -> None:
        kind, body = answers.get(route.request.url.removeprefix(ADDRESS), ("text/plain", b""))
        route.fulfill(status=200, content_type=kind, body=body)

    page = browser.new_page()
    page.route("**/*", answer)
    page.goto(f"{ADDRESS}/")
    return page


def vice_chapters() -> ChaptersCard:
    plan = Plan(machine("bench-vice"))
    lines = (ROOT / "examples" / "logs" / "bench-vice.jsonl").read_text("utf-8").splitlines()
    ledger = Ledger(plan, [read_entry(json.loads(line), plan) for line in lines])
    return chapters_card(ledger, Clock.of(read_mark("0:42.5=slide", ledger)), LENGTH_S)


def test_the_browser_lists_the_chapters_of_a_log_and_jumps_to_each(browser: Browser, film: bytes) -> None:
    card = vice_chapters()
    assert len(card.chapters) >= 6
    page = opened(browser, film, webvtt(card))
    listed = page.evaluate(LISTED)
    assert listed["kind"] == "chapters"
    assert [(starts, ends, title) for starts, ends, title, _ in listed["cues"]] == [
        (one.starts_s, one.ends_s, one.title) for one in card.chapters
    ]
    assert page.evaluate(LOADED) >= LENGTH_S
    for one in card.chapters:
        at_s, titles = page.evaluate(JUMPED, one.starts_s)
        assert at_s == pytest.approx(one.starts_s, abs=0.001)
        assert titles[-1] == one.title  # at the very edge Chromium still counts the one that ends there
        assert page.evaluate(JUMPED, one.starts_s + 0.1)[1] == [one.title]
        assert page.evaluate(JUMPED, one.ends_s - 0.1)[1] == [one.title]
    page.close()


def test_a_name_with_marks_in_it_reaches_the_browser_whole(browser: Browser, film: bytes) -> None:
    parts = """
[[part]]
id = "lid"
name = 'Lid <b>& "seal"</b> --> ½ Größe'
"""
    plan = plan_of(parts)
    ledger = Ledger(plan)
    ledger.hear({"id": "1", "kind": "off", "at": "2026-03-05T09:00:00Z", "by": "t", "part": "lid"})
    page = opened(browser, film, webvtt(chapters_card(ledger, Clock.of(read_mark("0:09.876=lid", ledger)))))
    ((starts, ends, title, raw),) = page.evaluate(LISTED)["cues"]
    assert (starts, ends, title) == (0, 9.876, 'Lid <b>& "seal"</b> --> ½ Größe off')
    assert raw.startswith("Lid &lt;b&gt;&amp;")
    page.close()
