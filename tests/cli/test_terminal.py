"""Files that cannot be read: one sentence each, exit status 2, nothing printed in part."""

from pathlib import Path

import pytest

from tests.cli.conftest import Typing

READERS = (("check",), ("order",), ("moves",))


@pytest.mark.parametrize("command", READERS)
def test_a_file_that_is_not_there_is_named(fingertight: Typing, command: tuple[str, ...], root: Path) -> None:
    screen = fingertight(*command, "nowhere.toml")
    assert screen == (
        2,
        "",
        f"fingertight: nowhere.toml: there is no such file. Check the name and the folder ({root}).\n",
    )


def test_a_folder_is_no_file(fingertight: Typing) -> None:
    assert fingertight("check", "examples") == (2, "", "fingertight: examples: this is a folder. Name a file in it.\n")


def test_a_name_no_file_can_have_is_a_sentence_too(fingertight: Typing) -> None:
    screen = fingertight("check", "a\0b")
    assert (screen.status, screen.out) == (2, "")
    assert screen.err.endswith("this file cannot be read (embedded null byte). Copy it again.\n")


def test_a_utf_16_file_is_said_to_be_one(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "saved-by-an-editor.toml"
    file.write_bytes("format = 1\n".encode("utf-16"))
    assert fingertight("check", str(file)) == (
        2,
        "",
        f"fingertight: {file}: this is UTF-16. Save it as UTF-8 text and try again.\n",
    )


def test_a_utf_16_file_without_its_mark_is_seen_by_its_zeros(fingertight: Typing) -> None:
    screen = fingertight("check", "-", sent="format = 1\n".encode("utf-16-le"))
    assert (
        screen.err
        == "fingertight: standard input: this is UTF-16 or not text at all. Save it as UTF-8 text and try again.\n"
    )


def test_text_in_an_old_encoding_is_named_with_its_line(fingertight: Typing) -> None:
    screen = fingertight("check", "-", sent="format = 1\n# Kühlrippe\n".encode("latin-1"))
    expected = "fingertight: standard input, line 2: this is not UTF-8 text. Save the file as UTF-8 and try again.\n"
    assert screen == (2, "", expected)


def test_a_file_of_50_mb_is_refused_without_reading_it_all(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "film.toml"
    with file.open("wb") as large:
        large.truncate(50_000_000)
    expected = f"fingertight: {file}: this file has 50 MB or more, so it is not what was meant. Name another file.\n"
    assert fingertight("check", str(file)) == (2, "", expected)


def test_one_file_that_cannot_be_read_holds_back_the_whole_answer(fingertight: Typing) -> None:
    screen = fingertight("check", "examples/bench-vice.toml", "nowhere.toml")
    assert (screen.status, screen.out) == (2, "")


def test_a_byte_order_mark_does_no_harm(fingertight: Typing, root: Path) -> None:
    vice = (root / "examples" / "bench-vice.toml").read_bytes()
    assert fingertight("check", "-", sent=b"\xef\xbb\xbf" + vice) == (0, "-: no mistakes\n", "")
