"""Threads, heads, positions, orders and passes that no bolt can have."""

import pytest

from tests.anatomy.hand_pump import mistakes_with

# The passage as it is right, as it is wrong; place, code, text and mend.
CASES = [
    (
        'thread = "M6"',
        'thread = "M6x0.8"',
        "28:3 part 'cover' no-such-thread",
        "There is no thread “M6x0.8” in the tables.",
        "Write M6 or M6x0.75.",
    ),
    (
        'thread = "M6"',
        'thread = "M6x28"',
        "28:3 part 'cover' no-such-thread",
        "There is no thread “M6x28” in the tables.",
        'Write thread = "M6" and length = 28.',
    ),
    (
        'head = "hex"',
        'head = "hex flnage"',
        "30:3 part 'cover' no-such-head",
        "There is no head “hex flnage” here.",
        'Write hex flange or flange nut, or name the driver: spanner = "10 mm".',
    ),
    (
        'thread = "M6"',
        'thread = "M9"',
        "30:3 part 'cover' no-spanner",
        "No table here has a spanner for M9 under the head “hex”.",
        'Name the driver: spanner = "10 mm".',
    ),
    (
        'thread = "M6"',
        'thread = "M6"\n  kind = "clip"',
        "27:3 part 'cover' thread-and-kind",
        "Fastener set 1 has both a thread and a kind.",
        "Keep one of the two.",
    ),
    (
        '  thread = "M6"\n',
        "",
        "27:3 part 'cover' thread-and-kind",
        "Fastener set 1 has neither a thread nor a kind.",
        'Write thread = "M6", or kind = "circlip" for what has no thread.',
    ),
    (
        "length = 28",
        "length = 28\n  grip = 6\n  depth = 18.5",
        "29:3 part 'cover' too-long",
        "The bolts of fastener set 1 (M6x28) bottom 3.5 mm before they clamp 6 mm.",
        "Write the length they have, at most 24.5, or how deep the hole is.",
    ),
    (
        "length = 28",
        "length = 28\n  grip = 24",
        "29:3 part 'cover' too-short",
        "The bolts of fastener set 1 (M6x28) reach 4 mm into the hole; they hold from 28.8 mm of length on.",
        "Write the length they have, or what they clamp.",
    ),
    (
        "[40, 40], [0, 40]]",
        "[40, 40]]",
        "32:3 part 'cover' count-positions",
        "Fastener set 1 counts 4, but “at” has 3 positions.",
        "Write 4 positions, or count = 3.",
    ),
    (
        "  order = [1, 3, 2, 4]\n",
        "",
        "34:3 part 'cover' order-positions",
        "The pattern is given, but no order is.",
        "Write order = [1, 2, 3, 4], as they are tightened.",
    ),
    (
        "order = [1, 3, 2, 4]",
        "order = [1, 3, 3, 5]",
        "35:3 part 'cover' order-positions",
        "The order of fastener set 1 must name each position from 1 to 4 once.",
        "Add 2, 4. Write only once 3. Take out 5.",
    ),
    (
        'pattern = "given"',
        'pattern = "across"',
        "35:3 part 'cover' order-positions",
        "An order stands here, but the pattern is not given.",
        'Write pattern = "given", or take the order out.',
    ),
    (
        '  pattern = "given"\n',
        "",
        "34:3 part 'cover' order-positions",
        "An order stands here, but the pattern is not given.",
        'Write pattern = "given", or take the order out.',
    ),
    (
        "[40, 40], [0, 40]]",
        "[40, 40], [0, 0]]",
        "32:36 part 'cover' same-position",
        "Positions 1 and 4 of fastener set 1 are the same.",
        "Write where this one is.",
    ),
    (
        "passes = [0.5, 1.0]",
        "passes = [5, 10]",
        "36:13 part 'cover' pass-share",
        "A pass of 5 is more than the whole torque; passes are shares of it.",
        "Write passes = [0.5, 1].",
    ),
    (
        "passes = [0.5, 1.0]",
        "passes = [50, 100]",
        "36:13 part 'cover' pass-share",
        "A pass of 50 is more than the whole torque; passes are shares of it.",
        "Write passes = [0.5, 1].",
    ),
    (
        "passes = [0.5, 1.0]",
        "passes = [1.0, 0.5]",
        "36:18 part 'cover' pass-share",
        "A pass of 0.5 comes after one of 1.",
        "Write the passes from small to large.",
    ),
    (
        "passes = [0.5, 1.0]",
        "passes = [0.5, 0.9]",
        "36:18 part 'cover' pass-share",
        "The last pass is 0.9 of the torque: the whole is never reached.",
        "Add 1.0 as the last pass.",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[1] for case in CASES])
def test_a_fastener_set_that_no_machine_has_is_said_to_be_wrong(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    assert mistakes_with(right, wrong) == [(place, text, mend)]
