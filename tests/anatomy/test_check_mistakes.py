"""Checks and settings that nobody could make."""

import pytest

from fingertight.quantity import UNITS
from tests.anatomy.hand_pump import mistakes_with

# The passage as it is right, as it is wrong; place, code, text and mend.
CASES = [
    (
        'inner = "skirt"',
        'inner = "skirts"',
        "72:25 check 'clearance' unknown-check",
        "“inner” in gap names the check “skirts”; there is none.",
        'Write "skirt".',
    ),
    (
        'instrument = "caliper"\nnew',
        'instrument = "calliper"\nnew',
        "60:1 check 'bore' unknown-instrument",
        "“instrument” names the instrument “calliper”; there is none.",
        'Write "caliper".',
    ),
    (
        'unit = "°C"',
        'unit = "Kelvin"',
        "14:1 instrument 'thermometer' no-such-unit",
        "There is no unit “Kelvin” here.",
        f"Write one of {', '.join(UNITS)}.",
    ),
    (
        'instrument = "caliper"\nnew',
        'instrument = "thermometer"\nnew',
        "60:1 check 'bore' wrong-unit",
        "The check is in mm (length), the instrument in °C (temperature).",
        "Write another unit for one of the two, or name another instrument.",
    ),
    (
        "range = [79.5, 80.5]",
        "range = [80.5, 79.5]",
        "79:1 setting 'stroke' range-reversed",
        "“range” runs from 80.5 down to 79.5.",
        "Write range = [79.5, 80.5].",
    ),
    (
        "new = [40.0, 40.05]",
        "new = [40.05, 40.0]",
        "61:1 check 'bore' range-reversed",
        "“new” runs from 40.05 down to 40.",
        "Write new = [40, 40.05].",
    ),
    (
        "max = 40.2",
        "max = 40.2\nmin = 40.3",
        "63:1 check 'bore' range-reversed",
        "“min” is 40.3 and “max” is 40.2: nothing lies between them.",
        "Write min = 40.2 and max = 40.3.",
    ),
    (
        "max = 40.2",
        "max = 40.02",
        "62:1 check 'bore' new-is-worn",
        "New ones go up to 40.05, and past 40.02 they are worn out.",
        "Look both up again; what gets smaller has a min.",
    ),
    (
        "min = 39.8",
        "min = 39.8\nnew = [39.7, 39.9]",
        "68:1 check 'skirt' new-is-worn",
        "New ones go down to 39.7, and below 39.8 they are worn out.",
        "Look both up again; what gets larger has a max.",
    ),
    (
        "max = 0.3",
        'max = 0.3\nat = ["top"]',
        "74:1 check 'clearance' gap-and-readings",
        "A gap follows from its two checks, and “at” says how it is measured.",
        "Take out at, or the gap.",
    ),
    (
        'inner = "skirt"',
        'inner = "bore"',
        "72:1 check 'clearance' gap-of-gap",
        "The outer and the inner check of the gap are both “bore”.",
        "Name two different checks.",
    ),
    (
        'inner = "skirt"',
        'inner = "clearance"',
        "72:25 check 'clearance' gap-of-gap",
        "“clearance” is a gap itself.",
        "Name a check that is measured.",
    ),
    (
        'bare = ["piston"]',
        'bare = ["barrel"]',
        "59:9 check 'bore' never-bare",
        "“barrel” stays on, so this can never be measured.",
        "Take it out of bare.",
    ),
    (
        "range = [79.5, 80.5]",
        'how = "by eye"',
        "75:1 setting 'stroke' nothing-to-set",
        "The setting has neither a range nor a question.",
        "Write range = [smallest, largest], or question, answers and right.",
    ),
    (
        "range = [79.5, 80.5]",
        'range = [79.5, 80.5]\nquestion = "Free?"\nanswers = ["yes", "no"]\nright = "yes"',
        "75:1 setting 'stroke' nothing-to-set",
        "The setting has both a range and a question.",
        "Keep one of the two.",
    ),
    (
        "range = [79.5, 80.5]",
        'question = "Free?"',
        "79:1 setting 'stroke' question-answers",
        "The question wants two answers or more, and the right one.",
        'Write answers = ["yes", "no"] and right = "yes".',
    ),
    (
        "range = [79.5, 80.5]",
        'question = "Free?"\nanswers = ["yes", "no"]\nright = "Yes"',
        "81:1 setting 'stroke' answer-not-listed",
        "The right answer “Yes” is not among the answers.",
        'Write right = "yes".',
    ),
    (
        'right = "yes"',
        'right = "sure"',
        "25:62 part 'cover' answer-not-listed",
        "The right answer “sure” is not among the answers.",
        "Write one of the answers, or add it to them.",
    ),
    (
        'after = ["rod"]',
        'after = ["rod", "cover"]',
        "78:11 setting 'stroke' after-and-before",
        "“cover” is to be on, and not yet on, when this is set.",
        "Take it out of after or of before.",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[1] for case in CASES])
def test_a_check_or_setting_that_nobody_could_make_is_said_to_be_wrong(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    assert mistakes_with(right, wrong) == [(place, text, mend)]
