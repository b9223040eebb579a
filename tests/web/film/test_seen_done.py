"""A move at a bench leads to its place in the film, and back."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.db import connection
from django.test.utils import CaptureQueriesContext

from fingertight.lesson.record.recording import fold, recording_of
from fingertight.store.school.recordings import begin_recording, record
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.jobs.films import films_changed, films_folder
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.marks import new_id
from tests.web.film.test_films import MP4
from tests.web.tablet import Tablet

NINE = datetime(2026, 3, 5, 9, tzinfo=UTC)


@pytest.fixture(autouse=True)
def film(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A film that was copied into the folder by hand."""
    monkeypatch.setattr(settings, "HOME", tmp_path)
    films_changed()
    films_folder().mkdir()
    path = films_folder() / "the film.mp4"
    path.write_bytes(MP4)
    return path


def says(of: RecordedMachine, **said: Any) -> None:
    """An entry of a recording."""
    whole = {"id": new_id(), "at": NINE.isoformat(), "by": "t", **said}
    record(of, whole, lambda entries: fold(recording_of(entries), whole))


@pytest.fixture
def filmed(workshop: object) -> RecordedMachine:
    """A film of the pump engine in which three parts come off, and one goes on."""
    of = begin_recording(the_workshop(), "Pump engine", "pump-engine")
    says(of, kind="film", second=0.0)
    moves = [
        ("plug-lead", "off", 24.0),
        ("air-filter", "off", 60.5),
        ("flywheel", "off", 90.0),
        ("flywheel", "on", 120.0),
    ]
    named = [{"part": part, "name": part, "way": way, "second": second} for part, way, second in moves]
    says(of, kind="seen", moves=named)
    says(of, kind="file", name="the film.mp4")
    films_changed()
    return of


def see_it(tablet: Tablet) -> dict[str, str]:
    """The links of a page that lead to the film."""
    return {name: where for name, where in tablet.page.links.items() if where.startswith("/film/")}


def first_part(tablet: Tablet) -> str:
    """The part of the first move that may be made."""
    return next(form.fields["part"] for form in tablet.page.forms if form.fields.get("kind") == "off")


def test_the_card_of_a_move_leads_to_its_chapter_and_the_film_back_to_the_bench(
    tablet: Tablet, filmed: RecordedMachine
) -> None:
    tablet.opens("/bench/pump-engine-1/strip")
    links = see_it(tablet)
    assert links
    name, where = next(iter(links.items()))
    assert name.startswith("See it done")
    part = where.partition("part=")[2].partition("&")[0]
    page = tablet.opens(where)
    assert tablet.answer.status_code == 200
    assert "media-src 'self'" in tablet.answer["Content-Security-Policy"]
    html = tablet.answer.content.decode()
    assert 'src="/films/the%20film.mp4#t=' in html
    assert page.links["Back to the bench"] == "/bench/pump-engine-1"
    assert part in {"plug-lead", "air-filter", "flywheel"}


def test_a_chapter_plays_from_the_move_before_to_its_own_end_without_javascript(
    tablet: Tablet, filmed: RecordedMachine
) -> None:
    page = tablet.opens("/film/pump-engine?part=air-filter&way=off&bench=pump-engine-1")
    assert "#t=24.000,60.500" in tablet.answer.content.decode()
    assert "0:24 to 1:00 of the film; it stops there by itself." in page.text
    assert [where for name, where in page.links.items() if name.startswith("‹ Before:")] == [
        "/film/pump-engine?part=plug-lead&way=off&bench=pump-engine-1"
    ]
    assert [where for name, where in page.links.items() if name.startswith("Then:")] == [
        "/film/pump-engine?part=flywheel&way=off&bench=pump-engine-1"
    ]


def test_for_the_rebuild_how_it_goes_on_is_shown_else_how_it_came_off_and_that_is_said(
    tablet: Tablet, filmed: RecordedMachine
) -> None:
    page = tablet.opens("/film/pump-engine?part=air-filter&way=on")
    assert "The film does not show how it goes on. This is how it came off." in page.text
    page = tablet.opens("/film/pump-engine?part=flywheel&way=on")
    assert "This is how it came off" not in page.text
    assert "#t=90.000,120.000" in tablet.answer.content.decode()


def test_the_page_of_a_part_offers_what_the_film_shows_of_it(tablet: Tablet, filmed: RecordedMachine) -> None:
    assert list(see_it_of(tablet, "flywheel")) == ["See it come off", "See it go on"]
    assert list(see_it_of(tablet, "air-filter")) == ["See it come off"]
    assert list(see_it_of(tablet, "exhaust")) == []


def see_it_of(tablet: Tablet, part: str) -> dict[str, str]:
    """The links to the film on the page of a part."""
    tablet.opens(f"/part/pump-engine-1/{part}")
    return see_it(tablet)


def test_without_a_film_in_the_folder_nothing_is_offered_and_the_page_says_so(
    tablet: Tablet, filmed: RecordedMachine, film: Path
) -> None:
    film.unlink()
    films_changed()
    tablet.opens("/bench/pump-engine-1/strip")
    assert see_it(tablet) == {}
    page = tablet.opens("/film/pump-engine?part=air-filter&way=off&bench=pump-engine-1")
    assert tablet.answer.status_code == 404
    assert "No film shows this" in page.text
    assert page.links["Back to the bench"] == "/bench/pump-engine-1"


def test_the_way_back_leads_to_no_other_machines_bench(tablet: Tablet, filmed: RecordedMachine) -> None:
    for bench in ("bench-vice-1", "//elsewhere", "nothing"):
        page = tablet.opens(f"/film/pump-engine?part=air-filter&way=off&bench={bench}")
        assert page.links["Back to the machine"] == "/machine/pump-engine"


def test_a_bench_that_looks_again_asks_neither_database_nor_disk_about_films(
    tablet: Tablet, filmed: RecordedMachine, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet.opens("/bench/pump-engine-1/strip")
    assert see_it(tablet)
    with CaptureQueriesContext(connection) as asked:
        tablet.opens("/bench/pump-engine-1/strip")
    assert [one["sql"] for one in asked.captured_queries if "record" in one["sql"]] == []
    monkeypatch.setattr("fingertight.web.jobs.films._looked_for", lambda *asked: pytest.fail("looked for again"))
    tablet.opens("/bench/pump-engine-1/strip")
    assert see_it(tablet)


def test_the_newest_film_that_is_there_is_shown(tablet: Tablet, filmed: RecordedMachine) -> None:
    older = RecordedMachine.objects.get(slug=filmed.slug)
    RecordedMachine.objects.filter(slug=older.slug).update(begun=older.begun - timedelta(days=1))
    newer = begin_recording(the_workshop(), "Pump engine", "pump-engine")
    says(newer, kind="film", second=0.0)
    says(newer, kind="seen", moves=[{"part": "air-filter", "name": "Air filter", "way": "off", "second": 7.0}])
    says(newer, kind="file", name="gone.mp4")
    films_changed()
    assert "#t=24.000" in tablet.client.get("/film/pump-engine?part=air-filter&way=off").content.decode()
    (films_folder() / "gone.mp4").write_bytes(MP4)
    films_changed()
    assert "#t=0.000,7.000" in tablet.client.get("/film/pump-engine?part=air-filter&way=off").content.decode()
