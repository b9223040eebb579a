"""The choice of moves is the best there is, by trying them all; and each part moves once."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.model import Anatomy
from fingertight.lesson.film.captions.solve import EARLY, FLOOR, InTurn, Moment, chosen
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules

BOX = Anatomy.model_validate(
    {
        "format": 1,
        "machine": {"name": "Invented box"},
        "part": [
            {"id": "lid"},
            {"id": "tray", "behind": ["lid"]},
            {"id": "pin", "ways": [["lid"], ["foot"]]},
            {"id": "foot"},
        ],
    }
)
PARTS = [part.id for part in BOX.parts]
SCORES = st.dictionaries(st.sampled_from(PARTS), st.sampled_from([0.2, 0.35, 0.5, 0.7, 0.95]), min_size=1, max_size=2)
MOMENTS = st.lists(st.builds(Moment, SCORES), max_size=6)


def worth(picks: list[tuple[str, int]], moments: list[Moment]) -> float:
    """What a choice is worth, counted from the rules of the moves alone."""
    moves, total = Moves(Rules.of(BOX)), 0.0
    for part, moment in picks:
        way = moves.in_the_way(part)
        left = len(way.behind) + min((len(one) for one in way.ways), default=0)
        total += moments[moment].scores[part] * EARLY[left] - FLOOR
        moves.took(part)
    return total


@given(MOMENTS)
@settings(max_examples=150, deadline=None)
def test_no_other_choice_of_moves_is_worth_more(moments: list[Moment]) -> None:
    picks = [(one.part, one.moment) for one in chosen(moments, InTurn(BOX, "off"))]
    every = product(*[[None, *moment.scores] for moment in moments])
    best = max(
        worth([(part, number) for number, part in enumerate(choice) if part], moments)
        for choice in every
        if len(moved := [part for part in choice if part]) == len(set(moved))
    )
    assert abs(worth(picks, moments) - best) < 1e-9
    assert len({part for part, _ in picks}) == len(picks)


@given(MOMENTS, st.integers(0, 6), st.sampled_from(PARTS))
@settings(max_examples=50, deadline=None)
def test_what_was_put_by_hand_is_always_among_them(moments: list[Moment], place: int, part: str) -> None:
    others = [Moment({name: score for name, score in one.scores.items() if name != part}) for one in moments]
    place = min(place, len(others))
    others.insert(place, Moment({part: 1.0}, is_sure=True))
    assert (part, place) in [(one.part, one.moment) for one in chosen(others, InTurn(BOX, "off"))]


def test_building_back_is_stripping_turned_round() -> None:
    moments = [Moment({part: 0.9}) for part in ("lid", "tray", "foot", "pin")]  # the last that goes on, first
    assert [one.in_the_way for one in chosen(moments, InTurn(BOX, "on"))] == [(), (), (), ()]
