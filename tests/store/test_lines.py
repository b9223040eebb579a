"""A log as a file: what people and editors do to it, and what a full disk or a pulled plug leaves."""

import errno
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from fingertight.store.log.lines import LARGEST_BYTES, LinesLog, read_lines
from fingertight.store.log.promise import NotKept, Refused
from tests.store.cast import NINE, as_sent, entries, entry

THREE = "".join(f"{one.body}\n" for one in entries(3))


def _sentences(raw: bytes) -> tuple[str, ...]:
    with pytest.raises(Refused) as refused:
        read_lines(raw, "fan.jsonl")
    return refused.value.sentences


@pytest.mark.parametrize(
    "raw",
    [
        THREE.encode(),
        THREE.rstrip("\n").encode(),
        THREE.replace("\n", "\r\n").encode(),
        THREE.replace("\n", "\n\n  \n").encode(),
        THREE.encode("utf-8-sig"),
    ],
    ids=["plain", "no last line end", "Windows line ends", "blank lines", "UTF-8 mark"],
)
def test_what_editors_do_to_a_file_is_read_past(raw: bytes) -> None:
    assert list(read_lines(raw, "fan.jsonl")) == entries(3)


@pytest.mark.parametrize("cut", [1, 5, 60, len(entries(1)[0].body) - 1])
def test_half_a_last_line_is_refused_and_the_line_is_named(cut: int) -> None:
    raw = THREE.encode() + entry("e4").body.encode()[:cut]
    assert _sentences(raw) == (
        "fan.jsonl, line 4: The line ends in the middle of an entry. "
        "Delete it if nobody was told it was kept; else write its end.",
    )


def test_a_last_line_cut_within_a_letter_is_half_a_line_too() -> None:
    raw = entry("e1", note="Öl").body.encode()
    assert "ends in the middle" in _sentences(raw[: raw.index(b"\xc3") + 1])[0]


def test_nothing_is_written_behind_half_a_line(tmp_path: Path) -> None:
    path = tmp_path / "fan.jsonl"
    path.write_text(THREE + '{"id": "e4", "ki', "utf-8")
    before = path.read_bytes()
    with pytest.raises(Refused, match="line 4"):
        LinesLog(path).append(entries(1, start=5), NINE)
    assert path.read_bytes() == before


def test_a_whole_last_line_without_its_end_is_not_glued_to_the_next(tmp_path: Path) -> None:
    path = tmp_path / "fan.jsonl"
    path.write_text(THREE.rstrip("\n"), "utf-8")
    LinesLog(path).append(entries(1, start=4), NINE)
    assert as_sent(LinesLog(path).after()) == entries(4)


def test_every_line_that_is_no_entry_is_named_at_once() -> None:
    raw = (
        b'{"id": "e1"}\nnot this\n{"kind": "off"}\n{"id": "e4", "v": Infinity}\n{"id": "\xff"}\n' + b"[" * 3000 + b"\n"
    )
    said = _sentences(raw)
    assert [sentence.split(":")[0] for sentence in said] == [f"fan.jsonl, line {line}" for line in (2, 3, 4, 5, 6)]
    for want, sentence in zip(("not JSON", "no id", "Infinity", "UTF-8", "too deep"), said, strict=True):
        assert want in sentence
    assert "character 1 " in said[0]


def test_a_thousand_wrong_lines_do_not_make_a_thousand_sentences() -> None:
    said = _sentences(b"wrong\n" * 1000)
    assert len(said) == 21
    assert said[-1] == "fan.jsonl: 980 more lines are not entries."


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_a_file_in_utf_16_is_refused_with_its_mend(encoding: str) -> None:
    said = "fan.jsonl is not UTF-8 text (perhaps UTF-16). Save the file as UTF-8 and try again."
    assert _sentences(THREE.encode(encoding)) == (said,)


def test_a_file_of_50_mb_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "fan.jsonl"
    with path.open("wb") as file:
        file.truncate(LARGEST_BYTES)
    with pytest.raises(Refused, match=r"fan\.jsonl has 50 MB; the log of a job is under 50 MB"):
        LinesLog(path).after()
    with pytest.raises(Refused, match="has 50 MB"):
        read_lines(path.read_bytes(), "fan.jsonl")


def test_a_folder_in_place_of_the_file_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be read"):
        LinesLog(tmp_path).after()
    with pytest.raises(NotKept, match="cannot be written"):
        LinesLog(tmp_path).append(entries(1), NINE)


def test_a_full_disk_leaves_the_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "fan.jsonl"
    path.write_text(THREE, "utf-8")
    room = iter([7])

    def write_a_little(descriptor: int, raw: bytes) -> int:
        for left in room:
            return os.pwrite(descriptor, raw[:left], path.stat().st_size)
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as full:
        full.setattr("fingertight.store.log.lines.os.write", write_a_little)
        with pytest.raises(NotKept, match="Nothing was kept: No space left on device"):
            LinesLog(path).append(entries(2, start=4), NINE)
    assert path.read_text("utf-8") == THREE
    LinesLog(path).append(entries(2, start=4), NINE)
    assert as_sent(LinesLog(path).after()) == entries(5)


def test_several_at_once_on_one_file_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "fan.jsonl"
    with ThreadPoolExecutor(8) as threads:
        list(threads.map(lambda one: LinesLog(path).append([one], NINE), entries(80)))
    assert sorted(as_sent(LinesLog(path).after())) == sorted(entries(80))
