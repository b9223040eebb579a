"""The sums about piston and rim, and the pictures: what a person reads and sees."""

import math
import re
from typing import cast

import pytest

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, svg
from fingertight.cards.pictures.timing import crank_picture, dwell_picture, valve_circle
from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.setting.timing.piston import SUM as PISTON
from fingertight.cards.sums.setting.timing.piston import PistonCard
from fingertight.cards.sums.setting.timing.rim import SUM as RIM
from fingertight.cards.sums.setting.timing.rim import RimCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.crank import Crank
from fingertight.setting.timing.events import Opening

ENGINE = {"stroke": "45", "rod": "84"}


def one_line(name: str, **said: str) -> str:
    return " ".join(answer_page(sum_named(name).ask(said)).split())


def test_an_angle_is_answered_in_millimetres_before_top_dead_centre() -> None:
    page = one_line("piston", angle="23 before", **ENGINE)
    # By hand: 22.5 (1 − cos 23°) + 84 − √(84² − (22.5 sin 23°)²) = 1.7887 + 0.4605.
    assert "23° before TDC the piston is 2.25 mm below its top." in page
    assert "It is fastest 75.9° after TDC, 19.91 mm down: before the crank is at 90°, because of the rod." in page
    assert "3° of the crank hide in 0.01 mm of piston." in page
    assert "fastest 76.25° instead of 75.92°" in page


def test_a_depth_is_answered_with_both_angles() -> None:
    page = one_line("piston", depth="2.25", **ENGINE)
    assert "The piston is 2.25 mm below its top 23° before TDC, going up, and 23° after TDC, going down." in page


def test_a_dial_that_leans_reads_more_than_the_piston_goes() -> None:
    page = one_line("piston", angle="23 before", lean="45", **ENGINE)
    assert "A dial in a plug hole that leans by 45° reads 3.18 mm there." in page


def test_turns_a_minute_give_the_speed() -> None:
    page = one_line("piston", angle="90 after", speed="3000 rpm", **ENGINE)
    # ω r = 2π · 50 · 0.0225 = 7.07 m/s; at 90° the rod adds nothing. Mean: 2 · 0.045 · 50.
    assert "It goes down at 7.07 m/s at 3000 turns a minute." in page
    assert "mean 4.5 m/s" in page


def test_nothing_but_the_engine_gives_the_whole_stroke() -> None:
    assert "The whole stroke stands in the table." in one_line("piston", **ENGINE)
    card = cast(PistonCard, PISTON.ask(ENGINE))
    assert (card.table[0].depth_mm, card.table[-1].depth_mm) == (0.0, pytest.approx(45))


def test_an_unlikely_rod_is_asked_back_and_an_offset_is_counted() -> None:
    assert "Is that right? This rod is 0.67 strokes long; most are 1.3 to 2.5" in one_line(
        "piston", stroke="45", rod="30"
    )
    # √((84 + 22.5)² − 3²) − √((84 − 22.5)² − 3²), by hand.
    assert "from top to bottom 45.031 mm" in one_line("piston", offset="3", **ENGINE)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"rod": "84"}, "Stroke: nothing was typed; write for example 45 mm."),
        ({"stroke": "45"}, "Rod: nothing was typed; write for example 84 mm."),
        ({"stroke": "45", "rod": "22.5"}, "Rod: 22.5 mm is no longer than half the stroke (22.5 mm)"),
        ({**ENGINE, "depth": "46"}, "Depth: 46 mm is more than the stroke of 45 mm, so the piston never goes there"),
        ({**ENGINE, "depth": "2 bar"}, "Depth: bar is a pressure, mm a length: write it in mm."),
        ({**ENGINE, "angle": "2 mm"}, "Angle: “2 mm”: “mm” is no word for an angle here"),
        ({**ENGINE, "lean": "85"}, "Plug hole: 85° is nearly square to the cylinder"),
        ({**ENGINE, "speed": "0"}, "Speed: “0” must be more than 0"),
    ],
)
def test_a_piston_that_cannot_be_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        PISTON.ask(said)
    assert sentence in str(refused.value)


def test_degrees_are_laid_off_with_a_tape_or_with_dividers() -> None:
    page = one_line("rim", flywheel="180 mm", angle="23", distance="36")
    # Chord 35.886 and arc 36.128: tests/outside/timing.toml and the circle.
    assert "23° are 36.13 mm round the rim with a tape, or 35.89 mm straight with dividers." in page
    assert "36 mm are 22.92° round the rim, 23.07° straight." in page
    assert "it lies on the side to which the rim runs." in page
    around = cast(RimCard, RIM.ask({"round": "540", "distance": "27"}))
    assert around.deg_by_arc == pytest.approx(18)
    assert around.diameter_mm == pytest.approx(540 / math.pi)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Flywheel: nothing was typed; write its outside diameter, for example 180 mm, or once round."),
        (
            {"flywheel": "180", "round": "600"},
            "Once round: 600 mm does not belong to a diameter of 180 mm, which is 565.49",
        ),
        ({"flywheel": "180", "distance": "600"}, "Distance: 600 mm is more than once round the rim (565.49 mm)"),
        ({"flywheel": "180", "angle": "x"}, "Angle: “x” is no angle"),
        ({"flywheel": "180 kg"}, "Flywheel: kg is a mass, mm a length: write it in mm."),
    ],
)
def test_a_rim_that_cannot_be_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        RIM.ask(said)
    assert sentence in str(refused.value)


def ends(drawing: Drawing, look: str) -> list[tuple[float, float, float, float]]:
    """Where the straight lines of one look begin and end."""
    found = []
    for shape in drawing.shapes:
        line = re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", shape.path) if isinstance(shape, Stroke) else None
        if line and isinstance(shape, Stroke) and shape.look == look:
            x1, y1, x2, y2 = (float(number) for number in line.groups())
            found.append((x1, y1, x2, y2))
    return found


def test_the_drawn_crank_stands_at_its_angle_and_its_rod_is_as_long_as_it_is() -> None:
    picture = crank_picture(Crank(45, 84), 23)
    ((x1, y1, x2, y2),) = ends(picture, "bold")
    assert math.degrees(math.atan2(x2 - x1, y1 - y2)) == pytest.approx(23, abs=0.01)
    ((a, b, c, d),) = ends(picture, "steel")
    assert math.dist((a, b), (c, d)) / math.dist((x1, y1), (x2, y2)) == pytest.approx(84 / 22.5, rel=1e-4)
    ((_, top, _, crown),) = ends(picture, "go")
    assert (crown - top) / math.dist((x1, y1), (x2, y2)) == pytest.approx(2.2493 / 22.5, abs=1e-3)
    assert picture.says.startswith("The crank 23° after TDC: throw 22.5 mm, rod 84 mm, the piston 2.25 mm below")


def test_the_marks_of_the_valve_circle_stand_at_their_angles_and_no_words_lie_on_others() -> None:
    picture = valve_circle(Opening(-15, 225), Opening(-250, 10), 28)
    for look, angles in (("go", [-15, 225]), ("warn", [-250, 10]), ("steel", [-28])):
        drawn = [math.degrees(math.atan2(x2, -y2)) for _, _, x2, y2 in ends(picture, look)]
        assert sorted(at % 360 for at in drawn) == pytest.approx(sorted(at % 360 for at in angles), abs=0.05)
    beside = [shape for shape in picture.shapes if isinstance(shape, Words) and shape.anchor in ("start", "end")]
    for one in beside:
        for other in beside:
            assert one is other or one.anchor != other.anchor or abs(one.y - other.y) >= 11
    assert "inlet opens 15° before TDC, closes 45° after BDC; exhaust opens 70° before BDC" in picture.says


def test_the_arc_of_a_valve_goes_the_long_way_round() -> None:
    picture = valve_circle(Opening(-15, 225), None)
    (arc,) = (
        shape.path for shape in picture.shapes if isinstance(shape, Stroke) and shape.look == "go" and "A" in shape.path
    )
    assert arc.count("A84 84 0 0 1") == 2  # two pieces of 120°, none the shorter way


def test_the_dwell_is_drawn_as_wide_as_it_is() -> None:
    picture = dwell_picture(Crank(45, 84), 34, 0.01)
    ((x1, _, x2, _),) = ends(picture, "warn")
    # The box is 190 wide and shows the dwell once to either side: 2 · 3.03° for its width.
    assert x2 - x1 == pytest.approx(190 / 2, rel=1e-6)
    assert "Within 0.01 mm of its top the piston stays for 3° of the crank." in picture.says


@pytest.mark.parametrize("name", ["piston", "tdc", "timing"])
def test_every_drawing_lies_within_its_frame(name: str) -> None:
    said = {
        "piston": {"angle": "100 before", **ENGINE},
        "tdc": {"first": "31 before", "second": "37 after", **ENGINE},
        "timing": {"inlet-opens": "20.9", "inlet-closes": "45.5", "exhaust-opens": "70.2", "exhaust-closes": "1"},
    }[name]
    for drawing in sum_named(name).ask(said).answer.drawings:
        for shape in drawing.shapes:
            if isinstance(shape, Words):
                assert drawing.left <= shape.x <= drawing.left + drawing.width
                assert drawing.top <= shape.y - shape.size * 0.7
                assert shape.y <= drawing.top + drawing.height
                # Letters are about 0.6 of their size wide (judged by eye).
                reach = 0.6 * shape.size * len(shape.text) * {"start": 1, "middle": 0.5, "end": 0}[shape.anchor]
                back = 0.6 * shape.size * len(shape.text) * {"start": 0, "middle": 0.5, "end": 1}[shape.anchor]
                assert shape.x + reach <= drawing.left + drawing.width, shape.text
                assert shape.x - back >= drawing.left, shape.text
        assert svg(drawing).startswith('<svg class="drawing"')
