"""Files that are no machine files are refused in a sentence, and quickly."""

import time

import pytest

from fingertight.anatomy import read
from tests.anatomy.hand_pump import HAND_PUMP

HEAD = 'format = 1\n[machine]\nname = "Vice"\n'


def only(text: str | bytes, name: str = "") -> tuple[int, int, str, str, str]:
    """The one mistake of a file."""
    (mistake,) = read(text, name=name).mistakes
    return mistake.line, mistake.column, mistake.code, mistake.text, mistake.mend


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_utf_16_file_is_said_to_be_one(encoding: str) -> None:
    assert only(HAND_PUMP.encode(encoding), "pump.toml") == (
        1,
        1,
        "not-utf8",
        "“pump.toml” is UTF-16 text or no text at all.",
        "Save it again as UTF-8.",
    )


def test_a_latin_1_file_is_told_where_its_first_odd_letter_stands() -> None:
    text = 'format = 1\n[machine]\nname = "Größe"\n'
    said = "The file is not UTF-8: line 3 has a byte that is no letter."
    assert only(text.encode("latin-1")) == (3, 11, "not-utf8", said, "Save it again as UTF-8.")


def test_half_a_letter_in_a_text_is_refused() -> None:
    assert only("format = 1 # \ud83d")[2:4] == ("not-utf8", "The file has half a letter in it (a lone surrogate).")


def test_a_byte_order_mark_and_line_ends_of_windows_do_no_harm() -> None:
    plain = read(HAND_PUMP).anatomy
    assert read(b"\xef\xbb\xbf" + HAND_PUMP.replace("\n", "\r\n").encode()).anatomy == plain
    assert read("\ufeff" + HAND_PUMP).anatomy == plain


@pytest.mark.parametrize("text", ["\r", "a = 1\r", 'a = "\r'])
def test_a_lone_carriage_return_is_no_line_end(text: str) -> None:
    assert [one.code for one in read(text).mistakes] == ["syntax"]


def test_a_file_of_fifty_megabytes_is_not_even_parsed() -> None:
    start = time.process_time()
    assert only(b"#" * 50_000_000, "disk.img") == (
        1,
        1,
        "too-big",
        "“disk.img” is larger than 2 MB; no machine file is.",
        "Is it the right file?",
    )
    assert time.process_time() - start < 1


BOMBS = {
    "brackets in brackets": "a = " + "[" * 900_000,
    "braces in braces": "{a = " * 300_000,
    "a key with half a million dots": "a" + ".a" * 500_000 + " = 1",
    "a header with dots": "[" + "a." * 500_000 + "a]",
    "quoted dots": "a" + '."a"' * 300_000 + " = 1",
    "an array of half a million": "a = [" + "1," * 500_000 + "]",
    "two hundred thousand parts": "[[part]]\n" * 200_000,
    "one number of a million digits": "a = " + "1" * 1_000_000,
}


@pytest.mark.parametrize("bomb", BOMBS.values(), ids=BOMBS)
def test_a_toml_bomb_is_refused_in_a_sentence_within_a_second(bomb: str) -> None:
    start = time.process_time()
    mistake = only(bomb)
    assert time.process_time() - start < 1
    assert mistake[2] in {"too-deep", "too-big"}
    assert mistake[3].endswith(".")


def test_what_is_too_deep_or_too_much_is_said_with_its_place() -> None:
    refused = "Is it the right file? Take this out."
    deep = "Here brackets are nested more than 12 deep; no machine needs that."
    assert only(HEAD + "a = " + "[" * 13) == (4, 17, "too-deep", deep, refused)
    dots = "Here a key is dotted more than 12 deep; no machine needs that."
    assert only(HEAD + "a" + ".b" * 13 + " = 1") == (4, 26, "too-deep", dots, refused)
    digits = "Here stands a number of more than 400 digits."
    assert only(HEAD + "a = " + "7" * 400) == (4, 5, "too-big", digits, refused)
    much = "The file says more than 100,000 things; no machine file does."
    assert only("a = [" + "1," * 100_000 + "]")[2:4] == ("too-big", much)


def test_dots_and_brackets_inside_a_text_or_a_remark_are_no_bomb() -> None:
    text = f'{HEAD}about = "{"[.{" * 99}" # {"[.{" * 99}\n[[part]]\nid = "jaw"\nfit = """\n{"[." * 99}"""\n'
    assert read(text).mistakes == ()


LARGE = {
    "empty parts": "[[part]]\n" * 30_000,
    "parts with one bracket too few": "[part]\n" * 20_000,
    "keys that do not exist": "".join(f"a{number} = 1\n" for number in range(40_000)),
    "numbers for parts": "part = [" + "1," * 90_000 + "]",
    "parts behind what is not there": HEAD
    + "".join(f'[[part]]\nid = "p{number}"\nbehind = ["q{number}"]\n' for number in range(5_000)),
    "a quote that is never closed": '"\\"' * 400_000,
    "signs without sense": "= =\n" * 20_000,
    "a very long text": 'a = "' + "x" * 1_900_000 + '"',
    "a hexadecimal number without end": "a = 0x" + "f" * 500_000,
}


@pytest.mark.parametrize("text", LARGE.values(), ids=LARGE)
def test_a_large_file_full_of_nonsense_is_answered_within_three_seconds(text: str) -> None:
    # Processor time, so that a busy machine does not fail it; most take under one second.
    start = time.process_time()
    mistakes = read(text).mistakes
    assert time.process_time() - start < 3
    assert 0 < len(mistakes) <= 1001


def test_a_machine_of_eighty_parts_is_read_while_one_blinks() -> None:
    part = """
[[part]]
id = "p{0}"
name = "Part number {0}"
behind = ["p{1}"]
minutes = 3
cautions = ["Mind your fingers"]

  [[part.held_by]]
  thread = "M6"
  head = "hex"
  length = 20
  at = [[0, 0], [40, 0], [40, 40], [0, 40]]
  torque = 10
  passes = [0.5, 1.0]
"""
    text = HEAD + '[[part]]\nid = "p0"\n' + "".join(part.format(number, number - 1) for number in range(1, 80))
    assert read(text).mistakes == ()
    best = min(_seconds(text) for _ in range(5))
    assert best < 0.1


def _seconds(text: str) -> float:
    start = time.process_time()
    read(text)
    return time.process_time() - start
