"""What is refused, and that each refusal is a page with a sentence and a way on."""

from pathlib import Path

import pytest
from django.test import Client

from tests.web.tablet import Tablet

EVERY_PAGE = [
    "/",
    "/start/bench-vice",
    "/bench/pump-engine-1",
    "/bench/pump-engine-2/rebuild",
    "/part/pump-engine-1/exhaust",
    "/log/pump-engine-1",
    "/log/pump-engine-1/job.zip",
    "/machine/bench-vice",
    "/machine/new",
    "/machine/bench-vice/anatomy.toml",
    "/machine/bench-vice/labels.pdf",
    "/machine/bench-vice/tightening.pdf",
    "/tighten/pump-engine-1/side-cover/0",
    "/loose/pump-engine-1",
    "/sums",
    "/sums/thread",
]


@pytest.mark.parametrize("path", [*EVERY_PAGE, "/job/new", "/static/0/look.css"])
@pytest.mark.parametrize("method", ["TRACE", "PUT", "DELETE", "PATCH", "OPTIONS"])
def test_no_page_takes_any_other_method(tablet: Tablet, path: str, method: str) -> None:
    answer = tablet.client.generic(method, path)
    assert answer.status_code == 405
    assert "This address does not take that" in answer.content.decode()
    assert answer["Allow"]


@pytest.mark.parametrize("path", [*EVERY_PAGE, "/nothing/here"])
def test_every_answer_keeps_the_browser_to_this_server(tablet: Tablet, path: str) -> None:
    answer = tablet.client.get(path)
    policy = answer["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; ")
    assert "unsafe" not in policy
    assert "http" not in policy
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] == "same-origin"
    if "html" in answer["Content-Type"]:
        page = answer.content.decode()
        assert " style=" not in page
        assert "onclick" not in page
        assert page.count("<script") == page.count('<script type="module" src="/static/')


@pytest.mark.parametrize(
    "path",
    [
        "/nothing",
        "/bench/no-such-bench",
        "/bench/pump-engine-1/no-such-stage",
        "/part/pump-engine-1/no-such-part",
        "/log/no-such-bench",
        "/machine/no-such-machine",
        "/start/no-such-machine",
        "/static/0123456789ab/look.css",
    ],
)
def test_an_address_that_names_nothing_says_so_and_leads_on(tablet: Tablet, path: str) -> None:
    page = tablet.opens(path)
    assert tablet.answer.status_code == 404
    assert "There is nothing at this address" in page.text
    assert page.links["Go to the front page"] == "/"


def test_a_form_from_elsewhere_is_refused_and_nothing_is_written(workshop: Path) -> None:
    stranger = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    answer = stranger.post("/bench/pump-engine-1/strip", {"kind": "off", "part": "plug-lead", "bag": "1"})
    assert answer.status_code == 403
    assert "This page is too old to be sent" in answer.content.decode()
    assert stranger.get("/log/pump-engine-1/log.jsonl").content == b""


def test_another_name_for_this_machine_is_refused(workshop: Path) -> None:
    answer = Client(SERVER_NAME="evil.example").get("/")
    assert answer.status_code == 400
    assert "This address is not one of the workshop's" in answer.content.decode().replace("&#x27;", "'")


def test_a_file_of_fifty_megabytes_is_refused_before_it_is_read(tablet: Tablet) -> None:
    answer = tablet.client.post("/machine/new", b"x", content_type="text/plain", headers={"content-length": "50000000"})
    assert answer.status_code == 413
    assert "A file may be 10 MB at most" in answer.content.decode()


def test_a_program_is_refused_in_one_shape_of_json(tablet: Tablet) -> None:
    program = {"Accept": "application/json"}
    tablet.opens("/bench/pump-engine-1")
    fields = tablet.form("Off — bag 1").fields
    refusals = [
        tablet.client.get("/nothing", headers=program),
        tablet.client.generic("TRACE", "/", headers=program),
        tablet.client.post("/bench/pump-engine-1/strip", {**fields, "part": "wing"}, headers=program),
    ]
    assert [answer.status_code for answer in refusals] == [404, 405, 422]
    for answer in refusals:
        assert set(answer.json()) == {"ok", "status", "text", "mend"}
        assert answer.json()["ok"] is False


def test_a_programs_press_is_answered_with_its_number_and_what_is_not_right(tablet: Tablet) -> None:
    tablet.opens("/bench/pump-engine-1")
    fields = {**tablet.form("Off — bag 1").fields, "part": "exhaust"}
    said = tablet.client.post("/bench/pump-engine-1/strip", fields, headers={"Accept": "application/json"}).json()
    assert (said["id"], said["seq"], said["finished"]) == (fields["id"], 1, False)
    assert {flag["kind"] for flag in said["flags"]} >= {"out-of-turn"}


def test_a_fault_of_our_own_is_said_to_be_ours(tablet: Tablet, monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(*_: object, **__: object) -> None:
        raise RuntimeError("planted")

    monkeypatch.setattr("fingertight.web.pages.workshop.front.the_workshop", breaks)
    tablet.client.raise_request_exception = False
    page = tablet.opens("/")
    assert tablet.answer.status_code == 500
    assert "Something here is broken, and it is not your doing" in page.text
    assert "planted" not in page.text


def test_a_press_that_could_not_be_kept_says_so_and_keeps_what_was_typed(tablet: Tablet, workshop: Path) -> None:
    from fingertight.store.writer import writer_of

    tablet.opens("/bench/pump-engine-2/rebuild")
    writer_of(workshop).stop()
    page = tablet.presses("It is set", value="0.75")
    assert tablet.answer.status_code == 503
    assert "Nothing is kept any more" in page.text or "closing" in page.text
    assert tablet.form("It is set").fields["value"] == "0.75"
