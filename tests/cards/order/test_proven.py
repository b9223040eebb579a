"""Orders in words: each answer better or surer than the one before, the last proven; what can be reached in a time."""

from itertools import pairwise

import pytest

from fingertight.cards.order.whole import Asked, NoOrderCard, OrderCard, order_card, proof_sentence, proven_cards
from fingertight.cards.order.within import within_card
from fingertight.order import Prices, cost_of, work_of
from tests.web.honest import machine


def answers(name: str, asked: Asked) -> list[OrderCard]:
    """Every answer, the last one proven."""
    found = [card for card in proven_cards(machine(name), asked) if isinstance(card, OrderCard)]
    assert found[-1].proof == "best"
    return found


@pytest.mark.parametrize("asked", [Asked(), Asked("rebuild"), Asked(to=("drum",)), Asked(to=("drum", "pawl"))])
def test_each_answer_is_better_or_surer_than_the_one_before(asked: Asked) -> None:
    cards = answers("hand-winch", asked)
    for before, after in pairwise(cards):
        assert after.cost_min <= before.cost_min
        assert after.bound_min >= before.bound_min
        assert (after.cost_min, after.bound_min) != (before.cost_min, before.bound_min)
    works = work_of(machine("hand-winch"), rebuild=asked.way == "rebuild")
    last = cards[-1]
    assert last.cost_min == cost_of(last.order, works, machine("hand-winch").machine.rests[0], Prices())
    assert last.cost_min == pytest.approx(sum(step.minutes for step in last.steps) + 0.25 * last.changes + last.turns)


def test_the_usual_order_stands_where_none_costs_less() -> None:
    """Bags and labels follow the usual order: another one of the same cost would only confuse."""
    usual = order_card(machine("bench-vice"))
    assert answers("bench-vice", Asked())[-1].order == usual.order


def test_the_words_say_what_is_asked_and_how_sure_the_answer_is() -> None:
    assert answers("bench-vice", Asked(first=("jaw-plate",)))[-1].about == "a whole strip, Jaw plate first"
    assert answers("hand-winch", Asked(to=("drum", "pawl")))[-1].about == "the way to Drum with the ring gear and Pawl"
    first = next(iter(proven_cards(machine("pump-engine"), Asked())))
    assert isinstance(first, OrderCard)
    assert first.proof == "within"
    said = proof_sentence(first)
    assert said.startswith(f"No order can cost less than {first.bound_min:g} min: at most ")
    assert said.endswith("%) could be saved.")


def test_what_is_fragile_is_off_by_its_own_shortest_way_first() -> None:
    whole = answers("bench-vice", Asked(first=("spring",)))[-1]
    way = answers("bench-vice", Asked(to=("spring",)))[-1]
    assert whole.order[: len(way.order)] == way.order
    assert len(whole.order) == 10


def test_what_stays_is_reached_by_no_order() -> None:
    [card] = proven_cards(machine("bench-vice"), Asked(to=("base",)))
    assert isinstance(card, NoOrderCard)
    assert "never comes off: it stays" in card.because


def test_what_can_be_reached_in_a_time_is_sorted_and_nothing_is_left_out() -> None:
    card = within_card(machine("bench-vice"), 6)
    costs = [one.cost_min for one in (*card.reached, *card.beyond)]
    assert costs == sorted(costs)
    assert all(one.cost_min <= 6 for one in card.reached)
    assert all(one.cost_min > 6 for one in card.beyond)
    assert {one.part for one in (*card.reached, *card.beyond)} == {
        part.id for part in machine("bench-vice").parts if not part.stays
    }
    assert all(one.proof == "best" for one in (*card.reached, *card.beyond))
