"""Films on the workshop's machine: listed, sent, played in pieces; nothing else of the folder is ever served."""

import io
from collections import namedtuple
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from fingertight.store.films import folder
from fingertight.store.films.folder import films
from fingertight.web.jobs.films import films_changed, films_folder
from tests.web.tablet import Tablet

MP4 = b"\x00\x00\x00\x18ftypisom\x00\x00\x02\x00isomiso2" + bytes(range(256)) * 40


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workshop's folder of this test's own."""
    monkeypatch.setattr(settings, "HOME", tmp_path)
    films_changed()
    return tmp_path


def sends(tablet: Tablet, name: str, content: bytes = MP4, **fields: str) -> Any:
    """The form of the page, with a film."""
    tablet.opens("/films")
    form = tablet.form("Send this film")
    return tablet.sends(form, {"film": SimpleUploadedFile(name, content), **fields})


def names() -> list[str]:
    """The films there are; nothing half stands beside them."""
    assert not films_folder().exists() or [path for path in films_folder().iterdir() if path.name.startswith(".")] == []
    return [film.name for film in films(films_folder())]


def test_a_film_is_sent_listed_and_played_in_pieces(tablet: Tablet) -> None:
    page = sends(tablet, "Pump engine (2).MP4")
    assert "1 film on this machine" in page.text
    assert "Films are in no backup" in page.text
    assert names() == ["Pump engine 2.mp4"]
    answer: Any = tablet.client.get("/films/Pump engine 2.mp4", headers={"range": "bytes=4-11"})
    assert (answer.status_code, b"".join(answer.streaming_content)) == (206, b"ftypisom")
    whole: Any = tablet.client.get("/films/Pump engine 2.mp4", headers={"accept-encoding": "gzip"})
    assert whole.get("Content-Encoding") is None
    assert b"".join(whole.streaming_content) == MP4


def test_a_film_copied_into_the_folder_by_hand_is_there_at_once(tablet: Tablet, home: Path) -> None:
    (home / "films").mkdir()
    (home / "films" / "Winde – Teil 1.webm").write_bytes(b"\x1a\x45\xdf\xa3 film")
    assert "Winde – Teil 1.webm" in tablet.opens("/films").text
    assert tablet.client.get("/films/Winde – Teil 1.webm")["Content-Type"] == "video/webm"


def test_the_same_name_twice_gets_a_number_and_nothing_is_written_over(tablet: Tablet) -> None:
    for content in (MP4, MP4 + b"second"):
        sends(tablet, "film.mp4", content)
    assert names() == ["film-2.mp4", "film.mp4"]
    assert (films_folder() / "film.mp4").read_bytes() == MP4


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("notes.txt", MP4, "“notes.txt” has not the name of a film"),
        ("archive.mp4", b"PK\x03\x04" + bytes(100), "does not begin like one"),
        ("film.mp4", b"", "empty"),
    ],
)
def test_what_is_no_film_is_refused_with_a_sentence(tablet: Tablet, name: str, content: bytes, sentence: str) -> None:
    page = sends(tablet, name, content)
    assert tablet.answer.status_code == 422
    assert "Not kept." in page.text
    assert sentence in page.text
    assert names() == []


def test_a_form_without_a_film_says_so(tablet: Tablet) -> None:
    tablet.opens("/films")
    assert "No film was chosen." in tablet.presses("Send this film").text


def test_half_an_upload_is_never_taken_for_a_film(workshop: object) -> None:
    line = (
        b'--line\r\nContent-Disposition: form-data; name="film"; filename="film.mp4"\r\nContent-Type: video/mp4\r\n\r\n'
    )
    body, kind = line + MP4 * 400, "multipart/form-data; boundary=line"
    answer = Client(SERVER_NAME="localhost").generic("POST", "/films", body, content_type=kind)
    assert answer.status_code == 422
    assert "The film was cut off on its way. Nothing is kept; send it again." in answer.content.decode()
    assert names() == []


def test_a_full_disk_is_said_before_anything_is_read(tablet: Tablet, monkeypatch: pytest.MonkeyPatch) -> None:
    usage = namedtuple("usage", "total used free")
    monkeypatch.setattr(folder.shutil, "disk_usage", lambda where: usage(10, 10, folder.RESERVE_BYTES + 1000))
    page = sends(tablet, "film.mp4")
    assert "The disk has room for 0.0 GB more, and this film has 0.0 GB." in page.text
    assert names() == []


def test_a_disk_that_takes_no_more_half_way_is_said_and_leaves_nothing(
    tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(draft: object, piece: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("fingertight.store.films.draft.Draft.write", full)
    page = sends(tablet, "film.mp4")
    assert "The folder films cannot be written (no space left on device). Nothing is kept." in page.text
    assert names() == []


def test_a_film_that_is_too_large_is_refused_unread(tablet: Tablet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(settings, "LARGEST_FILM_BYTES", 5_000)
    page = sends(tablet, "film.mp4")
    assert tablet.answer.status_code == 413
    assert "A film may have 0 GB at most" in page.text
    assert names() == []


def test_a_film_sent_from_another_site_is_refused_and_not_kept(workshop: object) -> None:
    client = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    answer = client.post("/films", {"film": io.BytesIO(MP4)})
    assert answer.status_code == 403
    assert names() == []


@pytest.mark.parametrize(
    "name",
    ["../secret-key", "..%2Fsecret-key", "%2e%2e%2fsecret-key", "..\\secret-key", ".hidden.mp4", "link.mp4",
     "empty.mp4", "notes.txt", "folder.mp4", "film.mp4%00.txt", "film.mp4/../film.mp4", "~", "con:film.mp4",
     "a" * 400 + ".mp4"],
)  # fmt: skip
def test_a_name_that_leads_elsewhere_is_nothing(tablet: Tablet, home: Path, name: str) -> None:
    (home / "secret-key").write_text("secret")
    (home / "films" / "folder.mp4").mkdir(parents=True)
    (home / "films" / "link.mp4").symlink_to(home / "secret-key")
    for other in ("film.mp4", ".hidden.mp4", "notes.txt"):
        (home / "films" / other).write_bytes(MP4)
    (home / "films" / "empty.mp4").touch()
    assert tablet.client.get(f"/films/{name}").status_code == 404
    assert names_listed(tablet) == ["film.mp4"]


def names_listed(tablet: Tablet) -> list[str]:
    """What the page lists."""
    return [name for name, where in tablet.opens("/films").links.items() if where.startswith("/films/")]
