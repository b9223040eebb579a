"""The film of a recording is chosen, played and jumped about in: its chapters come from the same log."""

import io
from typing import Any

import av
from playwright.sync_api import Page, expect

LENGTH_S = 240


def film() -> bytes:
    """Four minutes of a grey picture, a frame every two seconds: a WebM of some kilobytes."""
    made = io.BytesIO()
    with av.open(made, "w", format="webm") as container:
        stream: Any = container.add_stream("libvpx", rate=1)
        stream.width = stream.height = 16
        for second in range(0, LENGTH_S + 1, 2):
            frame = av.VideoFrame(16, 16, "yuv420p")
            frame.pts = second
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
    return made.getvalue()


def test_the_browser_lists_a_chapter_for_each_part_and_a_press_jumps_there(page: Page) -> None:
    page.goto("/record")
    page.fill("#name", "Filmed pump")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.fill("#second", "1:30")
    page.get_by_role("button", name="Make the mark").click()
    for name in ("Guard", "Fan", "Exhaust"):
        page.fill("#name", name)
        page.wait_for_timeout(1100)  # hands take a moment: each part comes off at a second of its own
        page.get_by_role("button", name="It is off", exact=True).click()
        expect(page.locator("#name")).to_have_value("")
    page.get_by_role("link", name="Its chapters").click()
    page.set_input_files("#file", {"name": "film.webm", "mimeType": "video/webm", "buffer": film()})
    video = page.locator("#film")
    expect(video).to_have_js_property("readyState", 4)
    cues = video.evaluate(
        "(film) => { film.textTracks[0].mode = 'hidden'; return new Promise((done) => { const look = () => "
        "film.textTracks[0].cues?.length ? done(Array.from(film.textTracks[0].cues, (one) => "
        "[one.startTime, one.endTime, one.text])) : setTimeout(look, 50); look(); }); }"
    )
    assert [text for _, _, text in cues] == ["Guard off", "Fan off", "Exhaust off"]
    assert cues[0][0] == 0
    assert all(90 < ends < 110 for _, ends, _ in cues)
    assert [ends for _, ends, _ in cues[:-1]] == [starts for starts, _, _ in cues[1:]]
    page.locator(".chapters button").nth(2).click()
    expect(video).to_have_js_property("seeking", False)
    assert abs(video.evaluate("(film) => film.currentTime") - cues[2][0]) < 0.01
