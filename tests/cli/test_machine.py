"""What `check`, `order` and `moves` print, as whole screens."""

import json

import pytest

from tests.cli.conftest import HAND_PUMP, Typing

RING = (
    "These parts block each other, so none of them can ever come off: "
    "Piston, which waits for Rod, which waits for Piston."
)
RINGED = HAND_PUMP.replace('id = "rod"', 'id = "rod"\nbehind = ["piston"]').replace('["base"]]', '["body"]]')


def test_check_says_of_each_good_file_that_it_has_no_mistakes(fingertight: Typing, hand_pump: str) -> None:
    screen = fingertight("check", hand_pump, "examples/bench-vice.toml")
    assert screen == (0, f"{hand_pump}: no mistakes\nexamples/bench-vice.toml: no mistakes\n", "")


def test_check_lists_all_mistakes_at_once_rings_of_blockers_too(fingertight: Typing) -> None:
    broken = RINGED.replace('behind = ["cover"]', 'behnd = ["cover"]', 1).replace("minutes = 8", 'minutes = "8"')
    assert fingertight("check", "-", sent=broken) == (
        1,
        "-: 3 mistakes\n"
        "  line 22, part 'valve': There is no key “behnd” in a part.\n"
        "    Write behind.\n"
        f"  line 27, part 'piston': {RING}\n"
        "    Take one of them out of the “behind” or “ways” of the part before it in this list.\n"
        "  line 40, part 'base': “minutes” is the text “8”; a number is wanted.\n"
        "    Write minutes = 8.\n",
        "",
    )


def test_check_tells_programs_file_line_and_mend(fingertight: Typing) -> None:
    screen = fingertight("check", "-", "--json", sent=HAND_PUMP.replace("stays", "stay"))
    assert screen.status == 1
    assert json.loads(screen.out) == {
        "ok": False,
        "mistakes": [
            {
                "file": "-",
                "line": 9,
                "column": 1,
                "where": "part 'body'",
                "code": "unknown-key",
                "text": "There is no key “stay” in a part.",
                "mend": "Write stays.",
            }
        ],
    }


def test_a_part_behind_one_that_stays_is_a_mistake_of_the_file(fingertight: Typing) -> None:
    screen = fingertight("check", "-", "--json", sent=HAND_PUMP.replace('behind = ["cover"]', 'behind = ["body"]', 1))
    mistake = json.loads(screen.out)["mistakes"][0]
    assert (screen.status, mistake["code"], mistake["line"]) == (1, "never-off", 22)
    assert mistake["text"] == "Valve can never come off: Body is in its way, and Body stays."


def test_a_part_in_its_own_way_is_one_mistake_not_two(fingertight: Typing) -> None:
    screen = fingertight("check", "-", "--json", sent=HAND_PUMP.replace('behind = ["cover"]', 'behind = ["valve"]', 1))
    assert [mistake["code"] for mistake in json.loads(screen.out)["mistakes"]] == ["own-way"]


def test_a_whole_strip_is_listed_with_what_each_step_asks_for(fingertight: Typing, hand_pump: str) -> None:
    # By hand: 3 + 1 + 2 + 2 + 8 minutes, one spanner and the drift taken up once (0.25 each), turned once (1).
    assert fingertight("order", hand_pump) == (
        0,
        "Hand pump: a whole strip, 17.5 min\n"
        "\n"
        "   1  base    Base       8 min\n"
        "   2  cover   Cover      3 min  10 mm\n"
        "   3  valve   Valve      1 min\n"
        "   4  rod     Rod        2 min  drift\n"
        "      turn the machine: on its side\n"
        "   5  piston  Piston     2 min\n"
        "\n"
        "16 min of work, 2 changes of spanner, 1 turn of the machine.\n"
        "No order costs less.\n",
        "",
    )


def test_the_way_to_a_part_takes_the_cheaper_of_two_ways(fingertight: Typing, hand_pump: str) -> None:
    # By hand: cover 3, rod 2, piston 2, two tools, one turn; by way of the base it would be 6 minutes more.
    answer = json.loads(fingertight("order", hand_pump, "--to", "piston", "--json").out)
    assert (sorted(answer["order"][:2]), answer["order"][2]) == (["cover", "rod"], "piston")
    assert answer["cost_min"] == 8.5
    assert answer["bound_min"] <= 8.5


def test_what_a_change_and_a_turn_cost_can_be_said_with_a_comma(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(fingertight("order", hand_pump, "--json", "--change-min", "0,5", "--turn-min", "10").out)
    assert answer["cost_min"] == 16 + 2 * 0.5 + 10


def test_a_rebuild_costs_what_fitting_costs(fingertight: Typing) -> None:
    slow = HAND_PUMP.replace("minutes = 8", "minutes = 8\nminutes_on = 20")
    answer = json.loads(fingertight("order", "-", "--rebuild", "--json", sent=slow).out)
    # The machine starts upright again, lies on its side for the piston, and may have to come up for what follows.
    assert answer["cost_min"] >= 16 + 12 + 2 * 0.25 + 1
    assert sorted(answer["order"]) == ["base", "cover", "piston", "rod", "valve"]


def test_a_ring_of_blockers_is_the_answer_no(fingertight: Typing) -> None:
    assert fingertight("order", "-", sent=RINGED) == (1, f"{RING}\n", "")
    screen = fingertight("order", "-", "--json", sent=RINGED)
    assert (screen.status, json.loads(screen.out)) == (1, {"order": None, "because": RING, "ring": ["piston", "rod"]})


def test_what_the_ring_does_not_hold_can_still_be_reached(fingertight: Typing) -> None:
    screen = fingertight("order", "-", "--to", "cover", "--json", sent=RINGED)
    assert (screen.status, json.loads(screen.out)["order"]) == (0, ["cover"])


def test_a_part_that_stays_cannot_be_the_goal(fingertight: Typing, hand_pump: str) -> None:
    expected = "Body never comes off: it stays, and other parts are fixed to it.\n"
    assert fingertight("order", hand_pump, "--to", "body") == (1, expected, "")


@pytest.mark.parametrize("arguments", [("order", "--to", "pistn"), ("moves", "--off", "cover,pistn")])
def test_an_unknown_part_is_answered_with_the_nearest(
    fingertight: Typing, hand_pump: str, arguments: tuple[str, ...]
) -> None:
    command, *options = arguments
    expected = "fingertight: Hand pump has no part “pistn”. Did you mean “piston”?\n"
    assert fingertight(command, hand_pump, *options) == (2, "", expected)


@pytest.mark.parametrize(
    ("option", "said"),
    [
        ("abc", "--turn-min: “abc” is not a number; write digits with one decimal mark, for example 68.02."),
        ("-1", "--turn-min: less than nothing makes no sense; write a number, for example 0.25."),
        ("1e9", "--turn-min: “1e9” is not a number; write digits with one decimal mark, for example 68.02."),
    ],
)
def test_a_cost_that_is_no_cost_is_refused(fingertight: Typing, hand_pump: str, option: str, said: str) -> None:
    assert fingertight("order", hand_pump, f"--turn-min={option}") == (2, "", f"fingertight: {said}\n")


def test_stripping_to_a_part_and_building_back_exclude_each_other(fingertight: Typing, hand_pump: str) -> None:
    expected = "fingertight: --to, --first, --within and --rebuild ask for different orders: give one of them.\n"
    assert fingertight("order", hand_pump, "--to", "rod", "--rebuild") == (2, "", expected)


def test_a_file_with_mistakes_is_no_machine_to_work_with(fingertight: Typing) -> None:
    assert fingertight("moves", "-", sent=HAND_PUMP.replace("stays", "stay")) == (
        2,
        "",
        "fingertight: standard input has 1 mistake, mend what it says first:\n"
        "  line 9, part 'body': There is no key “stay” in a part.\n"
        "    Write stays.\n",
    )


def test_moves_puts_every_part_where_it_belongs(fingertight: Typing, hand_pump: str) -> None:
    assert fingertight("moves", hand_pump, "--off", "valve,cover") == (
        0,
        "Hand pump\n"
        "\n"
        "May come off now\n"
        "  rod     Rod\n"
        "  base    Base\n"
        "\n"
        "May not come off yet\n"
        "  body    Body: it stays\n"
        "  piston  Piston: first take off Rod, or Base\n"
        "\n"
        "May go on now\n"
        "  valve   Valve\n"
        "\n"
        "May not go on yet\n"
        "  cover   Cover: first fit Valve\n",
        "",
    )


def test_moves_tells_programs_only_what_is_still_missing(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(fingertight("moves", hand_pump, "--off", "cover,valve,rod,piston", "--json").out)
    assert answer == {
        "may_come_off": ["base"],
        "may_go_on": ["valve", "piston"],
        "in_the_way": {"body": {"behind": [], "ways": []}},
        "not_yet": {"cover": {"after": ["valve", "piston"]}, "rod": {"after": ["piston"]}},
    }


def test_nothing_off_is_where_every_strip_begins(fingertight: Typing, hand_pump: str) -> None:
    answer = json.loads(fingertight("moves", hand_pump, "--json").out)
    assert answer["may_come_off"] == ["cover", "rod", "base"]
    assert answer["in_the_way"]["piston"] == {"behind": ["cover"], "ways": [["rod"], ["base"]]}


def test_a_part_off_out_of_turn_says_what_must_come_off_before_it_goes_back(
    fingertight: Typing, hand_pump: str
) -> None:
    answer = json.loads(fingertight("moves", hand_pump, "--off", "valve", "--json").out)
    assert answer["not_yet"] == {"valve": {"after": [], "in_the_way": {"behind": ["cover"], "ways": []}}}
    assert "valve   Valve: first take off Cover\n" in fingertight("moves", hand_pump, "--off", "valve").out


def test_a_part_that_stays_cannot_be_off(fingertight: Typing, hand_pump: str) -> None:
    expected = "fingertight: --off: Body (body) stays, it is never off. Leave it out.\n"
    assert fingertight("moves", hand_pump, "--off", "body") == (2, "", expected)
