"""The play between jaw and hexagon, beside a hexagon that is turned step by step."""

from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.spanners.jaws import (
    Ends,
    Grip,
    across_corners_mm,
    bite_without_play,
    play,
    turns_round_from,
)

Point = tuple[float, float]
GRIPS = list(Grip)


def corners(flats: float, turned_deg: float) -> list[Point]:
    """The six corners of a hexagon, flats lying square to the x axis before it is turned."""
    reach = flats / 2 / cos(pi / 6)
    return [
        (reach * cos(radians(turned_deg + 30 + 60 * k)), reach * sin(radians(turned_deg + 30 + 60 * k)))
        for k in range(6)
    ]


def within(point: Point, opening: float, grip: Grip) -> bool:
    """Whether a point has room: between two jaws, in a hexagon, or in two hexagons laid over each other."""
    x, y = point

    def in_hexagon(first_deg: int) -> bool:
        faces = (radians(first_deg + 60 * k) for k in range(6))
        return all(x * cos(face) + y * sin(face) <= opening / 2 + 1e-9 for face in faces)

    if grip is Grip.OPEN_END:
        return abs(x) <= opening / 2 + 1e-9
    return in_hexagon(0) or (grip is Grip.TWELVE_POINTS and in_hexagon(30))


def turned_until_it_bites(opening: float, flats: float, grip: Grip) -> float | None:
    """Turn the hexagon by hundredths of a degree until a corner has no room; None when it never bites."""
    for step in range(6001):
        if not all(within(corner, opening, grip) for corner in corners(flats, step / 100)):
            return (step - 1) / 100
    return None


def narrowest(opening: float, grip: Grip) -> float:
    """How near to the middle the outline comes: what a corner has to pass to turn round."""

    def reach(angle: float) -> float:
        def hexagon(first_deg: int) -> float:
            faces = (radians(first_deg + 60 * k) for k in range(6))
            return min(opening / 2 / cos(angle - face) for face in faces if cos(angle - face) > 1e-9)

        return max(hexagon(0), hexagon(30)) if grip is Grip.TWELVE_POINTS else hexagon(0)

    return min(reach(radians(step / 10)) for step in range(600))


@pytest.mark.parametrize("grip", GRIPS)
@pytest.mark.parametrize("wider", [1.0, 1.005, 1.02, 1.05, 1.08, 1.11, 1.12, 1.14, 1.16])
def test_a_hexagon_turned_step_by_step_bites_where_the_formula_says(wider: float, grip: Grip) -> None:
    said, found = play(13 * wider, 13, grip), turned_until_it_bites(13 * wider, 13, grip)
    if found is None:
        assert said.ends is Ends.TURNS_ROUND
    else:
        assert said.ends is Ends.BITES
        assert said.deg == pytest.approx(found, abs=0.011)


@pytest.mark.parametrize("grip", GRIPS)
@pytest.mark.parametrize("wider", [1.0, 1.03, 1.07, 1.1])
def test_the_bite_is_what_the_corner_reaches_past_the_narrowest_place(wider: float, grip: Grip) -> None:
    corner = hypot(*corners(13, 0)[0])
    # Steps of a tenth of a degree miss the narrowest place by a millionth.
    assert play(13 * wider, 13, grip).bite_mm == pytest.approx(corner - narrowest(13 * wider, grip), abs=1e-5)


@pytest.mark.parametrize("grip", GRIPS)
def test_an_open_end_presses_on_two_corners_and_a_ring_on_six(grip: Grip) -> None:
    turned = corners(13, play(13.2, 13, grip).deg + 0.01)
    assert sum(not within(corner, 13.2, grip) for corner in turned) == grip.corners


def test_six_points_hold_up_to_30_degrees_and_twelve_up_to_15() -> None:
    just_below = {grip: play(13 * turns_round_from(grip) - 1e-6, 13, grip).deg for grip in GRIPS}
    assert just_below == pytest.approx({Grip.OPEN_END: 30, Grip.SIX_POINTS: 30, Grip.TWELVE_POINTS: 15}, abs=0.1)
    assert all(play(13 * turns_round_from(grip) + 1e-6, 13, grip).ends is Ends.TURNS_ROUND for grip in GRIPS)


def test_twelve_points_catch_three_quarters_of_what_six_do_and_lose_it_sooner() -> None:
    assert bite_without_play(Grip.TWELVE_POINTS) == pytest.approx(0.77, abs=0.005)
    six, twelve = (play(13.6, 13, grip).bite_share for grip in (Grip.SIX_POINTS, Grip.TWELVE_POINTS))
    assert twelve / six < bite_without_play(Grip.TWELVE_POINTS)


def test_a_jaw_as_wide_as_the_head_has_no_play_and_the_whole_bite() -> None:
    tight = play(13, 13)
    assert (tight.ends, tight.deg, tight.bite_share) == (Ends.BITES, pytest.approx(0, abs=1e-6), pytest.approx(1))


def test_a_narrower_jaw_does_not_go_on() -> None:
    assert play(12.7, 13).ends is Ends.DOES_NOT_GO_ON


@settings(max_examples=60, deadline=None)
@given(st.floats(3, 100), st.floats(1, 1.15), st.floats(1, 1.15), st.sampled_from(GRIPS))
def test_a_wider_jaw_never_turns_less_nor_catches_more(flats: float, one: float, other: float, grip: Grip) -> None:
    tight, slack = (play(flats * wider, flats, grip) for wider in sorted((one, other)))
    assert tight.deg <= slack.deg + 1e-9
    assert tight.bite_mm >= slack.bite_mm - 1e-9


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan")])
def test_a_width_that_is_none_is_refused(wrong: float) -> None:
    for ask in (lambda: play(wrong, 13), lambda: play(13, wrong), lambda: across_corners_mm(wrong)):
        with pytest.raises(ValueError, match="above 0"):
            ask()
