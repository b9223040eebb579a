"""What is laid out before anybody begins: each spanner, tool, spare and caution of what comes off, and no other."""

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.cards.order.layout import FIRST, LayoutCard, layout_card, layout_of
from fingertight.cards.order.whole import NoOrderCard
from fingertight.order import tools_of
from tests.web.honest import machine

NAMES = ("bench-vice", "hand-winch", "pump-engine")


def laid_out(name: str, *to: str) -> LayoutCard:
    """The list of an example machine."""
    card = layout_of(machine(name), to)
    assert isinstance(card, LayoutCard)
    return card


@pytest.mark.parametrize("name", NAMES)
def test_whatever_a_part_asks_for_in_the_hand_is_on_the_list_once(name: str) -> None:
    anatomy, card = machine(name), laid_out(name)
    wanted = {tool for part in anatomy.parts if not part.stays for tool in tools_of(part)}
    named = [thing.name for thing in (*card.spanners, *card.tools)]
    assert set(named) == wanted
    assert len({thing.name for thing in card.spanners}) == len(card.spanners)


@pytest.mark.parametrize("name", NAMES)
def test_the_safety_lines_begin_with_whose_word_comes_first_and_leave_no_caution_out(name: str) -> None:
    card = laid_out(name)
    assert card.first == FIRST
    cautions = {part.title: part.cautions for part in machine(name).parts if not part.stays and part.cautions}
    assert {one.name: one.what_for for one in card.cautions} == {
        title: ". ".join(texts) for title, texts in cautions.items()
    }


def test_spanners_stand_by_size_with_how_many_they_turn() -> None:
    sizes = [thing.name for thing in laid_out("pump-engine").spanners if thing.name.endswith(" mm")]
    assert sizes == sorted(sizes, key=lambda name: float(name.split()[0]))
    [thirteen] = laid_out("bench-vice", "nut").spanners
    assert (thirteen.name, thirteen.what_for) == ("13 mm", "1 at Nut of the screw")


def test_what_is_used_once_is_to_be_ready_as_often_as_it_is_needed() -> None:
    renewed = [thing.name for thing in laid_out("pump-engine").renewed]
    assert "1 × Exhaust gasket, metal" in renewed
    assert "3 × Carburettor gasket set" in renewed, "two at the carburettor, one at the insulator"
    assert laid_out("bench-vice", "dust-plate").renewed == ()


def test_a_torque_wrench_must_reach_from_the_least_to_the_most() -> None:
    torques = [
        fasteners.torque for part in machine("pump-engine").parts for fasteners in part.held_by if fasteners.torque
    ]
    assert laid_out("pump-engine").torques == f"{min(torques):g} to {max(torques):g} N·m"
    assert laid_out("bench-vice", "dust-plate").torques == ""


def test_the_way_to_a_part_asks_for_less_than_everything() -> None:
    way, whole = laid_out("pump-engine", "follower"), laid_out("pump-engine")
    assert way.about == "the way to Cam follower and back"
    for part_of, all_of in zip(way.lists(), whole.lists(), strict=True):
        if part_of[0] not in {"Bags", "Torque wrench", "Spanners, sockets and keys", "Tools", "Instruments"}:
            assert {thing.name for thing in part_of[1]} <= {thing.name for thing in all_of[1]} or part_of[0].startswith(
                "To renew"
            )
    assert len(way.spanners) < len(whole.spanners)


def test_two_pairs_of_hands_and_how_it_lies_are_said() -> None:
    anatomy = Anatomy.model_validate(
        {
            "format": 1,
            "machine": {"name": "Press", "rests": ["upright", "on its back"]},
            "part": [
                {"id": "ram", "people": 2, "rests": "on its back"},
                {"id": "lid", "places": ["left", "right"], "rests": "any"},
            ],
        }
    )
    card = layout_card(anatomy, ["lid", "ram"])
    assert (card.two_people, card.lies, card.bags) == (("Ram",), ("on its back",), "3 bags with their labels")


def test_where_there_is_no_order_there_is_no_list() -> None:
    ring = {
        "format": 1,
        "machine": {"name": "Knot"},
        "part": [{"id": "a", "behind": ["b"]}, {"id": "b", "behind": ["a"]}],
    }
    anatomy = Anatomy.model_validate(ring)
    assert isinstance(layout_of(anatomy), NoOrderCard)
    assert isinstance(layout_of(anatomy, ["a"]), NoOrderCard)
