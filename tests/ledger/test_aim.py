"""Only some parts are wanted: that is in the log, is taken back by another entry, and flags nothing."""

import pytest

from fingertight.cards.order.aim import aim_card
from fingertight.cards.order.whole import no_way
from fingertight.ledger.entry import NotAnEntry
from fingertight.order.whole import NoWay, way_to
from tests.ledger.bench import Bench, plan_of

ENGINE = """
[[part]]
id = "case"
stays = true
[[part]]
id = "guard"
[[part]]
id = "fan"
behind = ["guard"]
[[part]]
id = "tank"
[[part]]
id = "pump"
ways = [["fan"], ["tank", "guard"]]
"""


def test_it_says_how_far_the_way_is_and_whatever_else_comes_off_is_as_lawful_as_before() -> None:
    bench = Bench(ENGINE)
    assert aim_card(bench.ledger.state) is None
    bench.say("aim", parts=["pump"], way=["guard", "fan", "pump"])
    bench.off("tank", "9")
    bench.off("guard", "1")
    card = aim_card(bench.ledger.state)
    assert card is not None
    assert (card.wanted, card.way, card.arrived) == ("Pump", ("fan", "pump"), False)
    assert card.sentence == "Off for it: 1 of 3 parts. Next: Fan."
    bench.off("fan", "2")
    bench.off("pump", "3")
    card = aim_card(bench.ledger.state)
    assert card is not None
    assert (card.way, card.arrived) == ((), True)
    assert bench.ever_wrong() == []


def test_an_aim_is_undone_or_taken_back_by_an_empty_one() -> None:
    bench = Bench(ENGINE)
    first = bench.say("aim", parts=["pump"], way=["guard", "fan", "pump"])
    bench.say("undo", entry=first)
    assert aim_card(bench.ledger.state) is None
    bench.say("aim", parts=["pump"], way=["guard", "fan", "pump"])
    bench.say("aim", parts=[], way=[])
    assert aim_card(bench.ledger.state) is None


@pytest.mark.parametrize("said", [{"parts": ["lid"], "way": []}, {"parts": "pump", "way": []}, {"parts": ["pump"]}])
def test_what_is_no_list_of_parts_is_no_aim(said: dict[str, object]) -> None:
    with pytest.raises(NotAnEntry):
        Bench(ENGINE).say("aim", **said)


def test_a_way_that_was_proposed_is_taken_where_it_leads_there_and_another_else() -> None:
    anatomy = plan_of(ENGINE).anatomy
    longer = ("tank", "guard", "pump")
    assert way_to(anatomy, ["pump"], longer) == longer
    for wrong in (("pump",), ("guard", "fan"), ("tank", "tank", "guard", "pump")):
        assert way_to(anatomy, ["pump"], wrong) == way_to(anatomy, ["pump"])
    assert len(way_to(anatomy, ["pump"])) == 3
    assert {"tank", "pump"} <= set(way_to(anatomy, ["pump", "tank"]))
    with pytest.raises(NoWay) as none:
        way_to(anatomy, ["case"])
    assert no_way(anatomy, none.value) == "Case never comes off: it stays, and other parts are fixed to it."


def test_a_log_whose_way_misses_what_is_wanted_is_shown_all_the_same() -> None:
    bench = Bench(ENGINE)
    bench.say("aim", parts=["pump"], way=[])
    card = aim_card(bench.ledger.state)
    assert card is not None
    assert card.sentence == "Off for it: 0 of 1 part. Next: Pump."
    bench.say("absent", part="pump")
    card = aim_card(bench.ledger.state)
    assert card is not None
    assert card.arrived
