"""A bench is told where others went wrong, on the card of that move, before it happens; nobody is named."""

import pytest

from tests.web.honest import start
from tests.web.tablet import Tablet

SAID = "2 of 2 other benches moved it before its turn."


def test_a_move_that_others_made_too_early_says_so_on_its_card(tablet: Tablet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fingertight.web.jobs.warned.FRESH_S", 0.0)
    for _ in range(2):
        slug = start(tablet, "bench-vice").rsplit("/", 1)[1]
        tablet.opens(f"/part/{slug}/nut")
        tablet.presses("It came off all the same")
    ready = start(tablet, "bench-vice", off=["tommy-bar", "body", "slide"])
    assert SAID in tablet.opens(f"{ready}/strip").text
    assert SAID not in tablet.opens(f"{ready}/rebuild").text


def test_others_are_looked_at_once_a_minute_and_not_at_every_tap(
    tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = start(tablet, "bench-vice")
    tablet.opens(f"{bench}/strip")
    monkeypatch.setattr(
        "fingertight.web.jobs.warned.jobs_beside", lambda job: pytest.fail("asked again within the minute")
    )
    tablet.opens(f"{bench}/strip")
