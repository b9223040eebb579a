"""What earlier benches got wrong: gathered by move, told to the next, the most common first."""

from fingertight.ledger.asked.warned import WENT_WRONG, mishaps, warnings
from fingertight.ledger.kinds import FLAG_KINDS
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from tests.web.honest import machine

PLAN = Plan(machine("bench-vice"))
AT = "2026-03-05T09:00:00+01:00"


def done(*said: dict[str, object]) -> Ledger:
    ledger = Ledger(PLAN)
    for number, each in enumerate(said):
        ledger.hear({"id": f"e{number}", "at": AT, "by": "s-07", "as": "student", **each})
    return ledger


def test_every_kind_that_is_said_is_a_kind_of_flag() -> None:
    assert set(WENT_WRONG) <= set(FLAG_KINDS)


def test_a_part_that_came_off_before_its_turn_is_remembered_as_that_move() -> None:
    found = mishaps(done({"kind": "off", "part": "nut", "bag": "10"}))
    assert ("off", "nut", "out-of-turn") in found


def test_what_was_mended_went_wrong_all_the_same_and_what_was_undone_did_not() -> None:
    forced = {"kind": "off", "part": "nut", "bag": "10"}
    assert mishaps(done(forced, {"kind": "on", "part": "nut"}))
    assert not mishaps(done(forced, {"kind": "undo", "entry": "e0"}))


def test_the_mishap_of_most_benches_is_said_first_and_counted() -> None:
    rod, bolts = ("on", "rod", "wrong-way"), ("on", "rod", "loose")
    said = warnings([{rod, bolts}, {rod}, {rod}, set()])[("on", "rod")]
    assert said[0].startswith("3 of 4 other benches fitted it another way round")
    assert said[1] == "1 of 4 other benches left out a pass of its bolts."
    assert warnings([{rod}])[("on", "rod")][0].startswith("The one other bench fitted it")
    assert warnings([set(), set()]) == {}
