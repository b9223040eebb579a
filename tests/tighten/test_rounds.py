"""Passes, the last round, and layouts in a few words."""

import numpy as np
import pytest

from fingertight.quantity import NotUnderstood
from fingertight.tighten.pattern.joint import Joint
from fingertight.tighten.pattern.layouts import checked, layout_named, ring, rows
from fingertight.tighten.pattern.rounds import FINGER_TIGHT, held, on_the_way, passes_for

STAR, CIRCLE = (1, 5, 3, 7, 2, 6, 4, 8), tuple(range(1, 9))


def test_from_four_bolts_on_there_are_three_passes_within_what_flange_practice_asks() -> None:
    # ASME PCC-1: 20 to 30 %, 50 to 70 %, 100 % (from memory); 30, 60, 100 % on two public pages of gasket makers.
    for count in (4, 8, 12, 30):
        first, second, last = passes_for(count)
        assert 0.2 <= first <= 0.3
        assert 0.5 <= second <= 0.7
        assert last == 1.0
    assert passes_for(1) == (1.0,)


def test_passes_keep_the_joint_pressed_everywhere_where_one_pass_lets_a_side_gape() -> None:
    at_once = on_the_way(ring(8), CIRCLE, (1.0,))[0]
    in_passes = on_the_way(ring(8), STAR, passes_for(8))
    assert at_once.least < 0 < min(one.least for one in in_passes)
    assert at_once.most > 2 > max(one.most for one in in_passes)


def test_each_bolt_slackens_its_neighbours_and_a_last_round_brings_them_back() -> None:
    passes = [(STAR, share) for share in passes_for(8)]
    after, after_round = held(ring(8), passes), held(ring(8), [*passes, (CIRCLE, 1.0)])
    assert min(after) < 0.8
    assert 0.93 < min(after_round) <= max(after_round) < 1.03
    assert after[STAR[-1] - 1] == 1.0


def test_what_a_bolt_loses_is_what_springs_in_a_row_say() -> None:
    # Two bolts far apart on a bed of their own each share nothing; on one stiff cover two bolts at one bed of two
    # springs: a plate held at two points can follow each bolt alone, so neither loses anything.
    assert held([(0, 0), (60, 0)], [((1, 2), 1.0)]) == pytest.approx((1.0, 1.0))
    # Three in a row, the middle one last: solved here by hand for a rigid bar (bending left out, stiffness 1e9).
    at = [(-1.0, 0.0), (0.0, 0.0), (1.0, 0.0)]
    beds = Joint(at).beds
    rigid = np.column_stack([np.ones(3), [-1.0, 0.0, 1.0]])
    load = np.full(3, FINGER_TIGHT)
    for bolt in (0, 2, 1):
        springs = beds + np.where(np.arange(3) == bolt, 0.0, 1.0)
        moved = rigid @ np.linalg.solve((rigid.T * springs) @ rigid, rigid[bolt] * (1.0 - load[bolt]))
        load = np.where(np.arange(3) == bolt, 1.0, load - moved)
    assert held(at, [((1, 3, 2), 1.0)]) == pytest.approx(tuple(load), abs=0.02)


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("ring 8", ring(8)),
        ("Ring of 12 bolts", ring(12)),
        ("circle 4", ring(4)),
        ("rows 2x5", rows(2, 5)),
        ("rows 2 x 5 40x70", rows(2, 5, (40, 70))),
        ("0 0; 60 0; 60 40", ((0, 0), (60, 0), (60, 40))),
        ("0,0;60,0;60,40", ((0, 0), (60, 0), (60, 40))),
        ("0,5 1,5; 2 3", ((0.5, 1.5), (2, 3))),
        ("(0, 0); (1.5, -2)", ((0, 0), (1.5, -2))),
        ("10 10", ((10, 10),)),
    ],
)
def test_a_layout_is_said_in_a_few_words(text: str, places: tuple[tuple[float, float], ...]) -> None:
    assert layout_named(text) == places


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", 'No position was written; write for example "ring 8", "rows 2x5" or "0 0; 60 0; 60 40".'),
        ("ring 0", 'No position was written; write for example "ring 8", "rows 2x5" or "0 0; 60 0; 60 40".'),
        (
            "ring 200",
            "200 bolts are more than the 64 that are worked out here; take neighbours as one, four by four, as flange "
            "practice does for large rings.",
        ),
        ("0 0; 60 0; 0 0", "Positions 1 and 3 are at one place; write where each of them is."),
        ("rows 2x2 0x5", "Positions 1 and 2 are at one place; write where each of them is."),
        ("0 0; x 0", "Position 2: “x” is not a number; write digits with one decimal mark, for example 68.02."),
        ("0 0; nan 0", "Position 2: “nan” is not a number; write digits with one decimal mark, for example 68.02."),
        (
            "star 5 bolts",
            "Position 1, “star 5 bolts”, is not two numbers; write x and y with a space between, and ; between "
            'positions: "0 0; 60 0; 60 40". A ring is "ring 8", a head "rows 2x5".',
        ),
        ("0 0; 1000000 0", "Position 2 is out of range; write it in millimetres from one corner."),
    ],
)
def test_a_layout_that_no_joint_has_is_answered_with_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        layout_named(text)
    assert str(refused.value) == sentence


def test_no_position_may_be_endless() -> None:
    with pytest.raises(NotUnderstood):
        checked([(0, 0), (float("inf"), 0)])
