"""An engine that no crank can turn, and an instrument that cannot show what it is to measure."""

import pytest

from fingertight.anatomy import read
from tests.anatomy.hand_pump import HAND_PUMP, mistakes_with

MICROMETER = 'id = "caliper"\nresolution = 0.02'
ENGINE = "\n[engine]\nstroke = 45\nrod = 84\ncrank_teeth = 22\ncam_teeth = 44\ninlet = [8, 42]\n"
CASES = [
    (
        "rod = 84",
        "rod = 22.5",
        "9:1 engine no-such-crank",
        "The rod is 22.5 mm and the throw, half the stroke, 22.5 mm: it cannot turn.",
        "Look both up again; rod is from pin to pin.",
    ),
    (
        "cam_teeth = 44",
        "cam_teeth = 45",
        "11:1 engine cam-teeth",
        "The crank has 22 teeth and the camshaft 45; a four-stroke wants 44.",
        "Count both wheels again, or write strokes = 2.",
    ),
    (
        "inlet = [8, 42]",
        "inlet = [352, 42]",
        "12:1 engine no-such-events",
        "“inlet” opens 352° before top and closes 42° after bottom dead centre: open for 574°.",
        "Write inlet = [before top, after bottom], each less than 180.",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "place", "text", "mend"), CASES, ids=[case[2] for case in CASES])
def test_an_engine_that_cannot_be_is_told_with_its_line(
    right: str, wrong: str, place: str, text: str, mend: str
) -> None:
    with_engine = HAND_PUMP.replace("\n[[instrument]]", f"{ENGINE}\n[[instrument]]", 1)
    assert read(with_engine).mistakes == ()
    found = read(with_engine.replace(right, wrong)).mistakes
    assert [(f"{one.line}:{one.column} {one.where} {one.code}", one.text, one.mend) for one in found] == [
        (place, text, mend)
    ]


def test_a_two_stroke_may_turn_its_valve_as_it_likes() -> None:
    two_stroke = ENGINE.replace("cam_teeth = 44", "cam_teeth = 22\nstrokes = 2")
    assert read(HAND_PUMP.replace("\n[[instrument]]", f"{two_stroke}\n[[instrument]]", 1)).mistakes == ()


def test_an_instrument_that_cannot_show_the_limit_is_told_where_it_is_named() -> None:
    assert mistakes_with(MICROMETER, f"{MICROMETER}\nrange = [0, 25]") == [
        (
            "61:1 check 'bore' out-of-reach",
            "“caliper” shows 0 to 25 mm; this goes from 40 to 40.2 mm.",
            "Name another instrument, or mend its range.",
        ),
        (
            "68:1 check 'skirt' out-of-reach",
            "“caliper” shows 0 to 25 mm; this is 39.8 mm.",
            "Name another instrument, or mend its range.",
        ),
    ]


def test_a_little_overrun_is_usual() -> None:
    assert read(HAND_PUMP.replace(MICROMETER, f"{MICROMETER}\nrange = [0, 40]")).mistakes == ()


def test_a_range_runs_upwards() -> None:
    found = mistakes_with(MICROMETER, f"{MICROMETER}\nrange = [150, 0]")
    assert found == [
        ("10:1 instrument 'caliper' range-reversed", "“range” runs from 150 down to 0.", "Write range = [0, 150].")
    ]


def test_a_reference_to_nothing_is_told() -> None:
    assert read(HAND_PUMP.replace('part = "barrel"', 'part = ""')).mistakes != ()
