"""What an order costs, against trying every sequence of tools: minutes, turns and changes as the commands say them."""

import random
from itertools import permutations, product

import pytest

from fingertight.order import Prices, cost_of, spanner_of, tools_of, work_of
from fingertight.order.cost import bound_of
from tests.order.machines import as_anatomy, layered
from tests.order.seeds import for_seeds

TOOLS = ["8 mm", "10 mm", "5 mm key", "puller"]
RESTS = ["upright", "cover up", "on its side"]


def some_part_says(chance: random.Random) -> dict[str, object]:
    """What one part says of its minutes, tools and rest, every kind of saying nothing included."""
    said: dict[str, object] = {"tools": chance.sample(TOOLS, chance.choice([0, 1, 1, 2, 3]))}
    if chance.random() < 0.7:
        said["rests"] = chance.choice([*RESTS, "any"])
    if chance.random() < 0.7:
        said["minutes"] = chance.choice([0, 0.5, 2, 3.25])
    if chance.random() < 0.4:
        said["minutes_on"] = chance.choice([0.75, 4])
    if chance.random() < 0.4:
        said["held_by"] = [{"thread": "M6", "spanner": chance.choice(TOOLS)}, {"kind": "clip"}]
    return said


def _by_trying_everything(
    order: list[str], said: dict[str, dict[str, object]], prices: Prices, *, rebuild: bool = False
) -> float:
    minutes, turns, lies = 0.0, 0, RESTS[0]
    sequences = []
    for part in order:
        usual = said[part].get("minutes", 1)
        minutes += said[part].get("minutes_on", usual) if rebuild else usual  # type: ignore[operator]
        rest = said[part].get("rests", RESTS[0])
        if rest not in ("any", lies):
            turns, lies = turns + 1, rest  # type: ignore[assignment]
        spanners = [each["spanner"] for each in said[part].get("held_by", []) if "spanner" in each]  # type: ignore[attr-defined]
        sequences.append(list(permutations({*said[part]["tools"], *spanners})))  # type: ignore[misc]
    changes = min(_taken_up([tool for each in choice for tool in each]) for choice in product(*sequences))
    return minutes + prices.change_min * changes + prices.turn_min * turns


def _taken_up(tools: list[str]) -> int:
    return sum(tool != before for before, tool in zip(["", *tools], tools, strict=False))


@for_seeds(300)
def test_the_cost_of_an_order_is_the_least_over_every_sequence_of_its_tools(seed: int) -> None:
    chance = random.Random(seed)
    machine = layered(seed, chance.randint(1, 5), window=3)
    said = {part: some_part_says(chance) for part in machine}
    anatomy = as_anatomy(machine, **said, rests=RESTS)
    prices = chance.choice([Prices(), Prices(1.5, 0.25), Prices(0, 0), Prices(0.1, 0.7)])
    order = chance.sample(list(machine), chance.randint(0, len(machine)))
    for rebuild in (False, True):
        works = work_of(anatomy, rebuild=rebuild)
        cost = cost_of(order, works, RESTS[0], prices)
        assert cost == pytest.approx(_by_trying_everything(order, said, prices, rebuild=rebuild), abs=1e-9)
        assert bound_of(order, works, RESTS[0], prices) <= cost + 1e-9


def test_the_first_tool_counts_and_a_part_without_tools_leaves_the_hand_as_it_is() -> None:
    machine = layered(0, 3, window=1)
    anatomy = as_anatomy(machine, p0={"tools": ["8 mm"]}, p2={"tools": ["8 mm"]})
    assert cost_of(["p0", "p1", "p2"], work_of(anatomy), None, Prices()) == 3.25


def test_a_part_that_needs_two_tools_ends_with_the_one_the_next_part_begins_with() -> None:
    machine = layered(0, 3, window=1)
    anatomy = as_anatomy(
        machine, p0={"tools": ["8 mm"]}, p1={"tools": ["10 mm", "8 mm"]}, p2={"tools": ["10 mm", "8 mm"]}
    )
    # 8 | 8, 10 | 10, 8: three are taken up.
    assert cost_of(["p0", "p1", "p2"], work_of(anatomy), None, Prices()) == 3.75


def test_it_is_turned_for_a_part_that_lies_otherwise_and_not_turned_back_at_the_end() -> None:
    machine = layered(0, 4, window=1)
    anatomy = as_anatomy(
        machine,
        p1={"rests": "cover up"},
        p2={"rests": "any"},
        p3={"rests": "cover up"},
        rests=["upright", "cover up"],
    )
    assert cost_of(["p0", "p1", "p2", "p3"], work_of(anatomy), "upright", Prices()) == 5.0
    assert cost_of(["p1", "p0", "p3", "p2"], work_of(anatomy), "upright", Prices()) == 7.0


def test_minutes_count_once_for_a_part_of_several_pieces() -> None:
    machine = layered(0, 2, window=1)
    anatomy = as_anatomy(machine, p0={"count": 4, "minutes": 3}, p1={"places": ["inlet", "exhaust"], "minutes": 2})
    assert cost_of(["p0", "p1"], work_of(anatomy), None, Prices()) == 5.0


def test_a_spanner_follows_from_thread_and_head_is_overruled_by_name_and_a_circlip_needs_none() -> None:
    held_by = [
        {"thread": "M6", "head": "hex"},
        {"thread": "M6", "head": "hex", "spanner": "8 mm"},
        {"kind": "circlip"},
        {"kind": "circlip", "spanner": "circlip pliers"},
    ]
    anatomy = as_anatomy(layered(0, 1), p0={"held_by": held_by, "tools": ["soft mallet", "8 mm"]})
    part = anatomy.part_by_id["p0"]
    assert [spanner_of(fasteners) for fasteners in part.held_by] == ["10 mm", "8 mm", None, "circlip pliers"]
    assert tools_of(part) == {"10 mm", "8 mm", "circlip pliers", "soft mallet"}


def test_minutes_with_many_decimals_are_counted_in_full() -> None:
    machine = layered(0, 3, window=1)
    anatomy = as_anatomy(machine, **{part: {"minutes": 0.3333333} for part in machine})
    assert cost_of(machine, work_of(anatomy), None, Prices()) == pytest.approx(0.9999999, abs=1e-9)


def test_a_price_with_many_decimals_is_counted_in_full() -> None:
    anatomy = as_anatomy(layered(0, 1), p0={"tools": ["8 mm"]})
    assert cost_of(["p0"], work_of(anatomy), None, Prices(change_min=0.12345678)) == pytest.approx(1.12345678, abs=1e-9)
