"""Keys and values that do not fit: each is said with its place and how to mend it."""

import pytest

from tests.anatomy.hand_pump import mistakes_with

# The passage as it is right, as it is wrong; place, code, text and mend.
CASES = [
    (
        "count = 2\n",
        "count = 2\nminuts = 3\n",
        "55:1 part 'spring' unknown-key",
        "There is no key “minuts” in a part.",
        "Write minutes.",
    ),
    (
        'id = "rod"\nbehind',
        'id = "rod"\nbehnd',
        "45:1 part 'rod' unknown-key",
        "There is no key “behnd” in a part.",
        "Write behind.",
    ),
    (
        '[[instrument]]\nid = "caliper"',
        '[[instruments]]\nid = "caliper"',
        "7:1 file unknown-key",
        "There is no key “instruments” in the file.",
        "Write instrument.",
    ),
    (
        '{ name = "gasket", single',
        '{ nam = "gasket", single',
        "24:11 part 'cover' unknown-key",
        "There is no key “nam” in a small thing.",
        "Write name.",
    ),
    (
        '{ name = "gasket", single',
        "{ single",
        "24:9 part 'cover' missing-key",
        "Small thing 1 has no “name”.",
        "Write name = … into it.",
    ),
    (
        'name = "Hand pump"\n',
        "",
        "3:1 machine missing-key",
        "The machine has no “name”.",
        "Write name = … into it.",
    ),
    (
        "format = 1  ",
        "   ",
        "1:1 file missing-key",
        "The file has no “format”.",
        "Write format = 1 in the first line.",
    ),
    (
        "format = 1 ",
        "format = 2 ",
        "1:1 file wrong-value",
        "The format is the number 2; this program reads format 1.",
        "Write format = 1.",
    ),
    (
        '[[instrument]]\nid = "caliper"\nresolution = 0.02',
        '[[instrument]]\nid = "caliper"',
        "7:1 instrument 'caliper' missing-key",
        "The instrument has no “resolution”.",
        "Write resolution = … into it.",
    ),
    (
        "minutes = 6",
        'minutes = "6"',
        "23:1 part 'cover' wrong-type",
        "“minutes” is the text “6”; a number is wanted.",
        "Write minutes = 6.",
    ),
    (
        "count = 2",
        "count = 2.0",
        "54:1 part 'spring' wrong-type",
        "“count” is the number 2.0; a whole number is wanted.",
        "Write count = 2.",
    ),
    (
        "stays = true",
        'stays = "yes"',
        "18:1 part 'barrel' wrong-type",
        "“stays” is the text “yes”; true or false is wanted.",
        "Write stays = true.",
    ),
    (
        'fit_after = ["piston"]',
        'fit_after = "piston"',
        "50:1 part 'valve' wrong-type",
        "“fit_after” is the text “piston”; a list in [ ] is wanted.",
        'Write fit_after = ["piston"].',
    ),
    (
        'name = "Hand pump"',
        "name = 3",
        "4:1 machine wrong-type",
        "“name” is the number 3; a text in quotes is wanted.",
        'Write name = "3".',
    ),
    (
        "[machine]",
        "[[machine]]",
        "3:1 machine wrong-type",
        "“machine” is a list; one table is wanted.",
        "Write [machine] once.",
    ),
    (
        'fit_after = ["piston"]',
        'fit_after = ["piston"]\nheld_by = { thread = "M5" }',
        "51:1 part 'valve' wrong-type",
        "“held_by” is a table; a list in [ ] is wanted.",
        "Write [[part.held_by]] above its keys, or held_by = [{ … }].",
    ),
    (
        "minutes = 6",
        "minutes = nan",
        "23:1 part 'cover' wrong-value",
        "“minutes” is nan; that is no size.",
        "Write a number, or take the line out.",
    ),
    (
        "minutes = 6",
        "minutes = -1",
        "23:1 part 'cover' wrong-value",
        "“minutes” is the number -1; it must be 0 or more.",
        "Write 0 or more.",
    ),
    (
        "count = 2",
        "count = 0",
        "54:1 part 'spring' wrong-value",
        "“count” is the number 0; it must be 1 or more.",
        "Write 1 or more.",
    ),
    (
        "count = 2",
        "count = 20000",
        "54:1 part 'spring' wrong-value",
        "“count” is the number 20000; 10000 is the most.",
        "Write 10000 or less.",
    ),
    (
        'stage = "rebuild"',
        'stage = "rebiuld"',
        "83:1 sign 'spring-seated' wrong-value",
        "“stage” is the text “rebiuld”.",
        'Write "rebuild".',
    ),
    (
        "new = [40.0, 40.05]",
        "new = [40.0]",
        "61:1 check 'bore' wrong-value",
        "“new” has too few numbers.",
        "Write two numbers, for example [68.0, 68.02].",
    ),
    (
        "new = [40.0, 40.05]",
        "new = [40.0, 40.02, 40.05]",
        "61:1 check 'bore' wrong-value",
        "“new” has too many numbers.",
        "Write two numbers, for example [68.0, 68.02].",
    ),
    (
        'name = "Hand pump"',
        'name = ""',
        "4:1 machine wrong-value",
        "“name” is empty.",
        "Write it, or take the line out.",
    ),
    (
        "[40, 0],",
        '[40, "0"],',
        "32:22 part 'cover' wrong-type",
        "Entry 2 of position 2 of “at” in fastener set 1 is the text “0”; a number is wanted.",
        "Write 0.",
    ),
    (
        "minutes = 6",
        "minutes = 2026-07-01",
        "23:1 part 'cover' wrong-type",
        "“minutes” is a date or a time; a number is wanted.",
        "Write a number.",
    ),
    (
        "minutes = 6",
        "minutes = inf",
        "23:1 part 'cover' wrong-value",
        "“minutes” is inf; that is no size.",
        "Write a number, or take the line out.",
    ),
    (
        "[[sign]]",
        "[sign]",
        "81:1 sign 'spring-seated' single-brackets",
        "[sign] is one of several and wants two brackets.",
        "Write [[sign]].",
    ),
    (
        "[[part.held_by]]",
        "[part.held_by]",
        "27:3 part 'cover' single-brackets",
        "[part.held_by] is one of several and wants two brackets.",
        "Write [[part.held_by]].",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[1] for case in CASES])
def test_what_does_not_fit_is_said_with_its_place_and_its_mend(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    assert mistakes_with(right, wrong) == [(place, text, mend)]
