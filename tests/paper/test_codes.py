"""The short code of a bag: made, printed, read out, mistyped."""

import re
import string

import pytest
import segno

from fingertight.cards.labels import (
    CHARACTERS,
    CodeEnding,
    bag_code,
    check_character,
    machine_letters,
    read_code,
    spaced,
)
from fingertight.paper.codes import outline, traced
from fingertight.paper.sheets import CannotPrint

DIGITS = string.digits
LETTERS = string.ascii_uppercase
PUBLISHED = [
    # The example of the standard itself, ISO/IEC 7064:2003, MOD 11,10.
    (DIGITS, "0794", "5"),
    # MOD 27,26: test values of the cdigit library (LiosK/cdigit, MIT or Apache-2.0), an independent implementation.
    (LETTERS, "JEJLMGJ", "S"),
    (LETTERS, "MUFEMSTCATLIT", "B"),
    (LETTERS, "OWNYDSZNWIBFVBRWRA", "U"),
    # MOD 37,36: the example of the GRid standard, A1-2425G-ABC1234002-M.
    (DIGITS + LETTERS, "A12425GABC1234002", "M"),
    # MOD 37,36: ISAN numbers as python-stdnum has them, 0000-0001-8947-0000-8-0000-0000-D and 1881-66C7-3420-6541-Y.
    (DIGITS + LETTERS, "0000000189470000", "8"),
    (DIGITS + LETTERS, "000000018947000000000000", "D"),
    (DIGITS + LETTERS, "188166C734206541", "Y"),
]


@pytest.mark.parametrize(("characters", "text", "check"), PUBLISHED)
def test_the_check_character_is_the_published_one(characters: str, text: str, check: str) -> None:
    assert check_character(text, characters) == check


def test_every_single_wrong_character_of_a_code_is_noticed() -> None:
    for code in [bag_code("Bench vice", bag) for bag in range(1, 121)]:
        for place, right in enumerate(code):
            for wrong in set(CHARACTERS) - {right}:
                typed = code[:place] + wrong + code[place + 1 :]
                meant_one = (right, wrong) == ("1", "L") and 4 <= place < len(code) - 1
                assert (read_code(typed).ending is CodeEnding.RIGHT) == meant_one, typed


def test_nearly_every_pair_of_swapped_neighbours_is_noticed() -> None:
    codes = [bag_code("Bench vice", bag) for bag in range(1, 100)]
    swapped = [
        code[:place] + code[place + 1] + code[place] + code[place + 2 :]
        for code in codes
        for place in range(len(code) - 1)
        if code[place] != code[place + 1]
    ]
    missed = [typed for typed in swapped if read_code(typed).ending is CodeEnding.RIGHT]
    assert len(missed) <= len(swapped) * 0.01


def test_a_code_is_at_most_ten_characters_and_none_looks_like_another() -> None:
    longest = bag_code("A machine with a long name", 99_999)
    assert len(longest) == 10
    assert not set("OQIZSGB") & set(CHARACTERS)
    assert spaced(bag_code("Bench vice", 14)) == "HKVT 14 6"


@pytest.mark.parametrize("typed", ["HKVT146", "hkvt 14 6", "HKVT-I4-G", "hkvt l4 6", " H K V T 1 4 6 "])
def test_a_code_is_read_however_it_was_typed(typed: str) -> None:
    read = read_code(typed)
    assert (read.ending, read.machine, read.bag, read.says) == (CodeEnding.RIGHT, "HKVT", "14", "Bag 14.")


def test_what_is_no_code_gets_a_sentence_with_an_example() -> None:
    for typed in ("", "14", "HKVT", "HKVT0146", "ÄKVT146", "x" * 1000):
        read = read_code(typed)
        assert read.ending is CodeEnding.NOT_A_CODE
        assert read.says == (
            f"“{typed[:40]}” is not a bag's code. "
            "A code is four letters, the bag's number and a check character, for example HKVT 14 6."
        )
        assert (read.machine, read.bag) == ("", "")


def test_the_same_machine_has_the_same_letters_and_another_bench_has_others() -> None:
    assert machine_letters("Bench vice") == machine_letters("Bench vice")
    letters = [machine_letters("Bench vice", bench) for bench in ("", "bench 1", "bench 2")]
    assert len(set(letters)) == 3


def test_there_is_no_bag_nought_and_none_past_99999() -> None:
    for bag in (0, -1, 100_000):
        with pytest.raises(ValueError, match="numbered from 1 to 99999"):
            bag_code("Bench vice", bag)


def test_what_does_not_fit_the_printed_code_is_refused_in_a_sentence() -> None:
    for code in ("ABCDEFGHIJK", "abc", "ß", ""):
        with pytest.raises(CannotPrint, match="does not fit a label's QR code"):
            outline(code)


def test_the_outline_of_a_code_encloses_exactly_its_dark_squares() -> None:
    for bag in range(1, 40):
        code = bag_code("Bench vice", bag)
        matrix = segno.make(code, version=1, error="h", micro=False, boost_error=False).matrix
        assert _filled(outline(code)) == {
            (x, y) for y, row in enumerate(matrix) for x, square in enumerate(row) if square
        }


def test_squares_that_touch_at_a_corner_only_are_enclosed_too() -> None:
    assert _filled(traced([[True, False, True], [False, True, False], [True, True, False]])) == {
        (0, 0), (2, 0), (1, 1), (0, 2), (1, 2),
    }  # fmt: skip


def _filled(path: str) -> set[tuple[int, int]]:
    """The squares an even-odd fill of this path makes dark: those with an odd number of upright edges on their left."""
    upright: list[tuple[int, int]] = []
    for loop in path.removeprefix("M").removesuffix("Z").split("ZM"):
        first, *steps = re.split("(?=[HV])", loop)
        start_x, start_y = (int(number) for number in first.split())
        x, y = start_x, start_y
        for step in [*steps, f"H{start_x}", f"V{start_y}"]:
            if step[0] == "H":
                x = int(step[1:])
            else:
                upright += [(x, line) for line in range(min(y, int(step[1:])), max(y, int(step[1:])))]
                y = int(step[1:])
    return {(x, y) for x in range(21) for y in range(21) if sum(at <= x and line == y for at, line in upright) % 2}
