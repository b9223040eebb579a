"""A file with many mistakes is told all of them, and none that only follows from another."""

from pathlib import Path

from fingertight.anatomy import CODES, Mistake, read
from tests.anatomy.hand_pump import HAND_PUMP, with_this

HERE = Path(__file__).parent

SPOILT = """\
format = 1
[machine]
nam = "Vice"

[[part]]
id = "base"
stays = "yes"
colour = "red"

[part]
id = "jaw"
behind = ["screw", "jaw", "bass"]
minutes = "4"
with = [{ name = "key", count = 0 }]

  [part.held_by]
  thread = "M8x30"
  count = 2
  at = [[0, 0]]

[[part]]
id = "screw"
ways = [["base"], 3]
"""


def codes(text: str) -> list[tuple[int, str]]:
    return [(one.line, one.code) for one in read(text).mistakes]


def test_a_file_without_mistakes_is_an_anatomy() -> None:
    reading = read(HAND_PUMP, name="hand-pump.toml")
    assert reading.mistakes == ()
    assert reading.anatomy is not None
    assert [part.id for part in reading.anatomy.parts] == ["barrel", "cover", "piston", "rod", "valve", "spring"]
    cover = reading.anatomy.part_by_id["cover"]
    assert (cover.minutes, cover.title, cover.bag_holds) == (6.0, "Cover", {"M6x28": 4, "gasket": 1})
    assert reading.anatomy.part_by_id["rod"].minutes is None


def test_all_mistakes_of_a_file_are_said_at_once_in_the_order_of_its_lines() -> None:
    assert codes(SPOILT) == [
        (3, "unknown-key"),
        (7, "wrong-type"),
        (8, "unknown-key"),
        (10, "single-brackets"),
        (12, "own-way"),
        (12, "unknown-part"),
        (13, "wrong-type"),
        (14, "wrong-value"),
        (16, "single-brackets"),
        (17, "no-such-thread"),
        (19, "count-positions"),
        (23, "wrong-type"),
    ]


def test_a_misspelt_list_of_parts_is_one_mistake_and_not_one_for_every_part_it_hides() -> None:
    assert codes(HAND_PUMP.replace("[[part]]", "[[parts]]").replace("[[part.", "[[parts.")) == [(16, "unknown-key")]


def test_a_part_list_with_only_wrong_parts_is_not_said_to_be_empty() -> None:
    assert codes('format = 1\nmachine = { name = "Vice" }\npart = [3, 4]') == [(3, "wrong-type"), (3, "wrong-type")]


def test_an_id_that_is_written_wrong_everywhere_is_said_once() -> None:
    assert codes(HAND_PUMP.replace('"spring"', '"Spring"')) == [(53, "wrong-value")]


def test_a_list_of_python_names_is_not_the_format() -> None:
    # The model calls its lists parts and checks; the file calls them part and check.
    assert codes('format = 1\nmachine = { name = "Vice" }\nparts = [{ id = "jaw" }]') == [(3, "unknown-key")]


def test_two_mistakes_that_hang_together_are_both_said() -> None:
    assert read(with_this("  count = 4", "  count = 6")).mistakes == (
        Mistake(
            32, 3, "part 'cover'", "count-positions", "Fastener set 1 counts 6, but “at” has 4 positions.",
            "Write 6 positions, or count = 4.",
        ),
        Mistake(
            35, 3, "part 'cover'", "order-positions",
            "The order of fastener set 1 must name each position from 1 to 6 once.", "Add 5, 6.",
        ),
    )  # fmt: skip


def test_both_parts_of_one_id_are_named() -> None:
    same = [one for one in read(with_this('id = "rod"\n', 'id = "valve"\n')).mistakes if one.code == "same-id"]
    assert [(one.line, one.text, one.mend) for one in same] == [
        (48, "The id “valve” stands twice: [[part]] number 4 has it already.", "Give one of the two another id.")
    ]


def test_a_key_like_no_other_is_answered_with_those_there_are() -> None:
    (mistake,) = read(with_this("right =", 'colour = "red", right =')).mistakes
    assert mistake.text == "There is no key “colour” in a question."
    assert mistake.mend == "Take it out; the keys are question, answers, right."


def test_an_empty_file_is_told_what_a_machine_file_needs() -> None:
    assert [one.text for one in read("").mistakes] == [
        "The file has no “format”.",
        "The file has no “machine”.",
        "The file has no “part”.",
    ]


def test_more_than_a_thousand_mistakes_are_not_all_listed() -> None:
    lines = "\n".join(f'[[part]]\nid = "p{number}"\nbehind = ["q{number}"]' for number in range(1500))
    mistakes = read(f'format = 1\n[machine]\nname = "Vice"\n{lines}').mistakes
    assert len(mistakes) == 1001
    assert (mistakes[-1].code, mistakes[-1].text) == ("too-many", "There are more than 1000 mistakes.")


def test_a_room_above_can_place_and_add_a_mistake_of_its_own() -> None:
    reading = read(HAND_PUMP)
    assert reading.located(("part", 2, "behind")) == (40, 1)
    assert reading.mistake(("part", 2, "behind", 0), "ring", "A ring.", "Open it.") == Mistake(
        40, 11, "part 'piston'", "ring", "A ring.", "Open it."
    )


def test_every_code_of_the_table_is_raised_by_a_test() -> None:
    tests = "".join(path.read_text(encoding="utf-8") for path in HERE.glob("test_*.py"))
    assert [code for code in CODES if f' {code}"' not in tests and f'"{code}"' not in tests] == []


def test_every_mistake_is_a_sentence_with_a_mend() -> None:
    for mistake in read(SPOILT).mistakes:
        assert mistake.code in CODES
        assert mistake.text.endswith("."), mistake
        assert mistake.mend.endswith("."), mistake
