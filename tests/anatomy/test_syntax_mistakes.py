"""Lines that are not TOML, as sentences a mechanic understands."""

import pytest

from tests.anatomy.hand_pump import mistakes_with

# The passage as it is right, as it is wrong; place, code, text and mend.
CASES = [
    (
        'name = "Hand pump"',
        'name = "Hand pump',
        "4:18 file syntax",
        "A text is not closed.",
        'End it with the quote it began with; inside, write \\" for a quote.',
    ),
    (
        'name = "Hand pump"',
        "name = Hand pump",
        "4:8 file syntax",
        "What stands here is no value.",
        "Write texts in quotes, numbers with a point, true or false, lists in [ ].",
    ),
    (
        "minutes = 6",
        "minutes 6",
        "23:9 file syntax",
        "A key stands here without = and a value.",
        "Write key = value.",
    ),
    (
        "minutes = 6",
        "minutes = 6,5",
        "23:12 file syntax",
        "There is more on this line than one value.",
        "Write numbers with a point and without a unit, texts in quotes, one key = value a line.",
    ),
    (
        "minutes = 6",
        "minutes = 6 min",
        "23:13 file syntax",
        "There is more on this line than one value.",
        "Write numbers with a point and without a unit, texts in quotes, one key = value a line.",
    ),
    (
        "count = 2",
        "count = 2\ncount = 3",
        "55:10 file same-key",
        "“count” stands twice.",
        "Take one of the two out.",
    ),
    (
        "[machine]",
        "[machine",
        "3:9 file syntax",
        "A header is not closed.",
        "Write [machine] or [[part]], alone on its line.",
    ),
    (
        "[machine]",
        "machine:",
        "3:8 file syntax",
        "A key stands here without = and a value.",
        "Write key = value.",
    ),
    (
        'after = ["rod"]\n',
        'after = ["rod"\n',
        "78:1 file syntax",
        "A list is not closed before this place.",
        "Close it with ], with a comma between entries.",
    ),
    (
        'after = ["rod"]\n',
        'after = ["rod" "valve"]\n',
        "77:16 file syntax",
        "A list is not closed before this place.",
        "Close it with ], with a comma between entries.",
    ),
    (
        'name = "Hand pump"',
        'name = "C:\\pumps"',
        "4:13 file syntax",
        "A text has a \\ that begins nothing.",
        "Write \\\\ for \\, or put the text in single quotes.",
    ),
    (
        "[machine]",
        "[machine]\n[machine]",
        "4:9 file same-key",
        "“machine” stands twice.",
        "Write what belongs to it under one header.",
    ),
    (
        'after = ["rod"]',
        'after = [["rod"]',
        "78:1 file syntax",
        "A list is not closed before this place.",
        "Close it with ], with a comma between entries.",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[1] for case in CASES])
def test_a_line_that_is_not_toml_is_said_in_plain_words(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    assert mistakes_with(right, wrong) == [(place, text, mend)]
