"""Parts that name what is not there, themselves, or a thing twice."""

import pytest

from tests.anatomy.hand_pump import mistakes_with

# The passage as it is right, as it is wrong; place, code, text and mend.
CASES = [
    (
        'fit_after = ["piston"]',
        'fit_after = ["pisten"]',
        "50:14 part 'valve' unknown-part",
        "Entry 1 of “fit_after” names the part “pisten”; there is none.",
        'Write "piston".',
    ),
    (
        '["valve", "spring"]',
        '["valve", "sprocket"]',
        "41:28 part 'piston' unknown-part",
        "Entry 2 of set 2 of “ways” names the part “sprocket”; there is none.",
        'Name one that there is, or add a [[part]] with id = "sprocket".',
    ),
    (
        'part = "barrel"',
        'part = "barrell"',
        "58:1 check 'bore' unknown-part",
        "“part” names the part “barrell”; there is none.",
        'Write "barrel".',
    ),
    (
        'after = ["rod"]',
        'after = ["rod", "Lever"]',
        "77:17 setting 'stroke' unknown-part",
        "Entry 2 of “after” names the part “Lever”; there is none.",
        'Name one that there is, or add a [[part]] with id = "Lever".',
    ),
    (
        'rests = "on its side"',
        'rests = "on the side"',
        "22:1 part 'cover' unknown-rest",
        "The part rests “on the side”; the machine has no such rest.",
        'Write "on its side".',
    ),
    (
        'rests = ["upright", "on its side"]\n',
        "",
        "21:1 part 'cover' unknown-rest",
        "The part rests “on its side”; the machine has no such rest.",
        'Add "on its side" to rests of [machine].',
    ),
    (
        'behind = ["cover"]\nways',
        'behind = ["cover", "cover"]\nways',
        "40:20 part 'piston' said-twice",
        "Entry 2 of “behind” is “cover” again.",
        "Take it out of “behind”.",
    ),
    (
        'answers = ["yes", "no"]',
        'answers = ["yes", "no", "yes"]',
        "25:61 part 'cover' said-twice",
        "Entry 3 of “answers” in question 1 is “yes” again.",
        "Take it out of “answers” in question 1.",
    ),
    (
        '["rod"], [',
        '["rod", "rod"], [',
        "41:17 part 'piston' said-twice",
        "Entry 2 of set 1 of “ways” is “rod” again.",
        "Take it out of set 1 of “ways”.",
    ),
    (
        'id = "rod"\nbehind = ["cover"]',
        'id = "rod"\nbehind = ["cover", "rod"]',
        "45:20 part 'rod' own-way",
        "“rod” stands in its own “behind”.",
        "Take it out of that list.",
    ),
    (
        '[["rod"], ',
        '[["piston"], ',
        "41:10 part 'piston' own-way",
        "“piston” stands in its own “ways”.",
        "Take it out of that list.",
    ),
    (
        'id = "valve"',
        'id = "valve"\ncount = 2',
        "49:1 part 'valve' count-places",
        "The part counts 2 and has 2 places.",
        "Take count out: each place is one piece.",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[1] for case in CASES])
def test_a_part_that_cannot_be_meant_so_is_said_to_be_wrong(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    assert mistakes_with(right, wrong) == [(place, text, mend)]
