"""Mistakes that have a mechanical mend are mended in the text, one press each; nothing else of the file changes."""

import difflib

import pytest

from fingertight.anatomy.change.edits import CannotEdit
from fingertight.anatomy.change.mend import mended
from fingertight.anatomy.mistakes import Mend, Mistake
from fingertight.anatomy.read import read
from fingertight.cards.check import all_mistakes
from tests.conftest import ROOT

MISTAKES = sorted((ROOT / "examples" / "mistakes").glob("*.toml"))
HEAD = 'format = 1\n[machine]\nname = "Box"  # of oak\n'
LID = '[[part]]\nid = "lid"\n'
MOST_MENDED = 40
"""Of a file with a thousand mistakes the first are mended: each is a whole reading of it."""


def one_mistake(text: str) -> Mistake:
    """The only mistake of a text."""
    (found,) = all_mistakes(read(text))
    return found


def changed(text: str, way: int = 0) -> list[str]:
    """The lines that mending the only mistake takes out and puts in; afterwards there is none."""
    after = mended(text, one_mistake(text).mends[way])
    assert all_mistakes(read(after)) == ()
    return [line for line in difflib.ndiff(text.splitlines(), after.splitlines()) if line[0] in "-+"]


def test_a_misspelt_key_gets_its_name_and_its_remark_stays() -> None:
    assert changed(HEAD + LID + 'crae = "dry"  # always\n') == ['- crae = "dry"  # always', '+ care = "dry"  # always']


def test_a_misspelt_key_within_braces_and_in_headers_too() -> None:
    assert changed(HEAD + LID + 'with = [{ nmae = "dowel", count = 2 }]  # two\n')[1].endswith("# two")
    text = HEAD + LID + '  [[part.heldby]]\n  thread = "M6"\n\n  [[part.heldby]]\n  thread = "M5"\n'
    (first, *_) = all_mistakes(read(text))
    assert mended(text, first.mends[0]) == text.replace("heldby", "held_by")


def test_a_misspelt_table_is_renamed_with_what_lies_below_it() -> None:
    text = HEAD + LID + '[[chekc]]\nid = "depth"\npart = "lid"\nmax = 3\n'
    assert changed(text) == ["- [[chekc]]", "+ [[check]]"]


def test_one_bracket_becomes_two() -> None:
    assert changed(HEAD + '[part]  # the lid\nid = "lid"\n') == ["- [part]  # the lid", "+ [[part]]  # the lid"]


def test_an_unknown_part_becomes_the_one_that_is_meant() -> None:
    text = HEAD + LID + '[[part]]\nid = "box"\nbehind = [\n  "lidd",  # first\n]\n'
    after = mended(text, one_mistake(text).mends[0])
    assert after == text.replace("lidd", "lid")


def test_a_reversed_range_is_turned_round() -> None:
    text = HEAD + LID + '[[setting]]\nid = "gap"\nrange = [0.6, 0.3]  # mm\n'
    assert changed(text) == ["- range = [0.6, 0.3]  # mm", "+ range = [0.3, 0.6]  # mm"]


def test_a_bolt_written_with_its_length_becomes_thread_and_length() -> None:
    text = HEAD + LID + '[[part.held_by]]\nthread = "M6x28"  # four\ncount = 4\n'
    assert changed(text) == ['- thread = "M6x28"  # four', '+ thread = "M6"  # four', "+ length = 28"]


def test_a_count_that_does_not_fit_the_drawing_has_two_ways() -> None:
    text = HEAD + LID + '[[part.held_by]]\nthread = "M6"\ncount = 3\nat = [[0, 0], [9, 0]]\n'
    assert changed(text, 0) == ["- count = 3", "+ count = 2"]
    assert changed(text, 1) == ["- at = [[0, 0], [9, 0]]"]


def test_a_ring_is_undone_by_either_of_the_two() -> None:
    text = HEAD + '[[part]]\nid = "lid"\nbehind = ["pin"]\n[[part]]\nid = "pin"\nbehind = ["lid"]\n'
    assert len(one_mistake(text).mends) == 2
    assert changed(text, 0) == ['- behind = ["pin"]']
    assert changed(text, 1) == ['- behind = ["lid"]']


@pytest.mark.parametrize("path", MISTAKES, ids=[path.stem for path in MISTAKES])
def test_every_mend_of_every_example_takes_its_mistake_away_or_says_that_it_cannot(path: object) -> None:
    raw = path.read_bytes()  # type: ignore[attr-defined]
    text = raw.decode("utf-8", "replace")
    reading = read(raw)
    single = any(one.code == "single-brackets" for one in reading.mistakes)
    for one in all_mistakes(reading)[:MOST_MENDED]:
        for way in one.mends if not single or one.code == "single-brackets" else ():
            after = all_mistakes(read(mended(text, way)))
            assert (one.code, one.text, one.where) not in {(left.code, left.text, left.where) for left in after}


def test_most_of_the_example_mistakes_have_a_mend() -> None:
    codes = {one.code for path in MISTAKES for one in all_mistakes(read(path.read_bytes())) if one.mends}
    assert codes >= {
        "single-brackets", "unknown-key", "unknown-part", "range-reversed", "wrong-value", "wrong-type", "said-twice",
        "own-way", "count-positions", "count-places", "answer-not-listed", "pass-share", "never-bare", "ring",
    }  # fmt: skip


def test_a_mend_whose_place_is_not_there_says_so() -> None:
    for mend in (
        Mend(("part", 3, "behnd"), "key", "behind"),
        Mend(("part", 0, "behind", 0), "out"),
        Mend(("part", 0, "with", 0, "count"), "put", 2),
        Mend((), "brackets", 99),
    ):
        with pytest.raises(CannotEdit):
            mended(HEAD + LID, [mend])
