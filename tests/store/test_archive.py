"""One job as one zip: the same back, the same bytes each time, and a sentence for every zip that is not one."""

import io
import json
import random
import zipfile
from collections.abc import Callable
from typing import Any

import pytest

from fingertight.store.archive import JobArchive, read_archive, write_archive
from fingertight.store.log.chain import head_of
from fingertight.store.log.promise import Kept, Refused
from tests.store.cast import ANATOMY, NINE, entries

LOG = tuple(Kept(seq, one.id, one.body, NINE) for seq, one in enumerate(entries(5), start=1))
FAN = JobArchive(
    id="0190f1a2-0000-7000-8000-000000000001",
    title="Bench fan no. 7",
    bench="Bench 3 · Öl",
    started=NINE,
    machine="bench-fan",
    machine_name="Bench fan",
    anatomy=ANATOMY.replace("\n", "\r\n") + "# exactly as written \u2028 µm\t",
    log=LOG,
)


def _files(raw: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _zipped(files: dict[str, bytes], packed: int = zipfile.ZIP_DEFLATED) -> bytes:
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", packed) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return raw.getvalue()


def _refusal(raw: bytes) -> str:
    with pytest.raises(Refused) as refused:
        read_archive(raw, "fan.zip")
    return str(refused.value)


def test_a_job_comes_back_as_it_went_out() -> None:
    assert read_archive(write_archive(FAN)) == FAN
    assert read_archive(write_archive(FAN._replace(log=()))) == FAN._replace(log=())
    assert read_archive(write_archive(FAN)).head == head_of(entries(5))


def test_the_same_job_gives_the_same_bytes() -> None:
    assert write_archive(FAN) == write_archive(read_archive(write_archive(FAN)))


def test_anybody_can_open_the_zip_and_read_it() -> None:
    files = _files(write_archive(FAN))
    assert files["anatomy.toml"].decode() == FAN.anatomy
    assert files["log.jsonl"].decode() == "".join(f"{one.body}\n" for one in entries(5))
    assert json.loads(files["job.json"])["title"] == "Bench fan no. 7"


@pytest.mark.parametrize("packed", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_a_zip_packed_anew_by_another_program_is_read(packed: int) -> None:
    assert read_archive(_zipped(_files(write_archive(FAN)), packed)) == FAN


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (b"", "is not a whole zip"),
        (b"Dear workshop", "is not a whole zip"),
        (write_archive(FAN)[:-30], "is not a whole zip"),
        (_zipped({}), "has no anatomy.toml and no log.jsonl and no job.json"),
        (bytes(50_000_000), "fan.zip has 50 MB; a job's zip is under 50 MB"),
        (_zipped(_files(write_archive(FAN)), zipfile.ZIP_BZIP2), "packed in an unusual way"),
    ],
    ids=["nothing", "a letter", "half a zip", "an empty zip", "50 MB", "bzip2"],
)
def test_what_is_not_a_jobs_zip_is_refused(raw: bytes, sentence: str) -> None:
    assert sentence in _refusal(raw)


@pytest.mark.parametrize("name", ["anatomy.toml", "log.jsonl", "job.json"])
def test_a_missing_file_is_named(name: str) -> None:
    files = _files(write_archive(FAN))
    del files[name]
    assert _refusal(_zipped(files)).startswith(f"fan.zip has no {name}.")


@pytest.mark.parametrize(
    "name", ["../anatomy.toml", "/etc/passwd", "C:\\job.json", "photos/", "notes.txt", "LOG.JSONL"]
)
def test_a_file_that_is_no_part_of_a_job_is_refused(name: str) -> None:
    files = {**_files(write_archive(FAN)), name: b"x"}
    assert "which is no part of a job" in _refusal(_zipped(files))


def test_a_file_that_stands_twice_is_refused() -> None:
    raw = io.BytesIO(write_archive(FAN))
    with zipfile.ZipFile(raw, "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("job.json", b"{}")
    assert "has a file twice" in _refusal(raw.getvalue())


def _changed(name: str, change: Callable[[bytes], bytes]) -> bytes:
    files = _files(write_archive(FAN))
    return _zipped({**files, name: change(files[name])})


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (_changed("anatomy.toml", lambda text: text + b" "), "anatomy.toml is not the text this job was exported with"),
        (_changed("anatomy.toml", lambda text: text.decode().encode("utf-16")), "fan.zip, anatomy.toml is not UTF-8"),
        (_changed("log.jsonl", lambda text: text.decode().encode("utf-16")), "fan.zip, log.jsonl is not UTF-8"),
        (_changed("job.json", lambda text: text.decode().encode("utf-16")), "fan.zip, job.json is not UTF-8"),
        (_changed("log.jsonl", lambda text: text[:-20]), "fan.zip, log.jsonl, line 5: The line ends in the middle"),
        (_changed("log.jsonl", lambda text: text.replace(b"e3", b"e9")), "its hash chain ends elsewhere"),
        (_changed("log.jsonl", lambda text: text + entries(1)[0].body.encode()), "its hash chain ends elsewhere"),
        (_changed("log.jsonl", lambda text: text[text.index(b"\n") + 1 :]), "its hash chain ends elsewhere"),
        (_changed("log.jsonl", lambda _: b""), "its hash chain ends elsewhere"),
    ],
)
def test_what_was_changed_inside_the_zip_is_seen(raw: bytes, sentence: str) -> None:
    assert sentence in _refusal(raw)


def test_an_entry_that_stands_twice_in_the_log_is_refused_even_with_a_fitting_chain() -> None:
    twice = FAN._replace(log=(*LOG, LOG[0]._replace(seq=6)))
    assert "has an entry twice" in _refusal(write_archive(twice))


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"format": 2}, "format"),
        ({"id": "two\nlines"}, "id"),
        ({"id": ""}, "id"),
        ({"title": 7}, "title"),
        ({"title": "long" * 100}, "title"),
        ({"started": "2026-03-05T09:00:00"}, "started"),
        ({"arrived": [NINE, "yesterday", NINE, NINE, NINE]}, "arrived.1"),
        ({"arrived": [NINE]}, "not an arrival time for each"),
        ({"machine": {"slug": "../fan", "name": "Fan", "sha256": "0" * 64}}, "machine.slug"),
        ({"machine": {"slug": "fan", "name": "Fan", "sha256": "short"}}, "machine.sha256"),
        ({"chain": {"entries": "5", "head": "0" * 64}}, "chain.entries"),
        ({"photos": []}, "photos"),
    ],
)
def test_a_job_file_that_says_something_else_is_refused_and_the_place_is_named(
    change: dict[str, Any], where: str
) -> None:
    raw = _changed("job.json", lambda text: json.dumps({**json.loads(text), **change}).encode())
    assert where in _refusal(raw)


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b"[" * 100_000, b"7", b'{"format": NaN}'])
def test_a_job_file_that_is_no_json_object_is_refused(raw: bytes) -> None:
    assert _refusal(_changed("job.json", lambda _: raw)).startswith("fan.zip, job.json")


def test_a_bomb_is_refused_before_it_is_unpacked() -> None:
    raw = _changed("log.jsonl", lambda _: bytes(60_000_000))
    assert len(raw) < 100_000
    assert "fan.zip unpacks to 50 MB or more" in _refusal(raw)


def test_a_bomb_that_lies_about_its_size_is_not_unpacked_either() -> None:
    true_size, lie = (60_000_000).to_bytes(4, "little"), (600).to_bytes(4, "little")
    raw = _changed("log.jsonl", lambda _: bytes(60_000_000))
    assert raw.count(true_size) >= 2
    assert "is not a whole zip" in _refusal(raw.replace(true_size, lie))


def test_a_locked_zip_is_refused() -> None:
    raw = bytearray(write_archive(FAN))
    for mark, flags in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = -1
        while (at := raw.find(mark, at + 1)) >= 0:
            raw[at + flags] |= 1
    assert "is locked" in _refusal(bytes(raw))


@pytest.mark.parametrize("packed", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_a_damaged_zip_is_refused_or_unharmed_and_nothing_else(packed: int) -> None:
    whole = _zipped(_files(write_archive(FAN)), packed)
    chance = random.Random(7)
    refused = 0
    for _ in range(600):
        raw = bytearray(whole)
        for _ in range(chance.choice((1, 1, 2, 8))):
            raw[chance.randrange(len(raw))] = chance.randrange(256)
        try:
            assert read_archive(bytes(raw)) == FAN
        except Refused:
            refused += 1
    assert 300 < refused < 600
