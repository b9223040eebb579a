"""The budget of a reading: what counts, what is contained, what warmth adds, and how two sizes hang together."""

import math
import random

import numpy as np
import pytest

from fingertight.measure.budget import (
    APART,
    ERROR,
    PART_GROWS,
    REPEATS,
    RESOLUTION,
    THERMOMETER,
    Tool,
    Warmth,
    difference_budget,
    enough_readings,
    reading_budget,
)
from fingertight.measure.temperature import Expansion, at_20_c, expansion_of
from fingertight.uncertainty.budget import Budget
from fingertight.uncertainty.standard import combined, expanded, of_limits, of_resolution, scatter

GAUGE = Tool(0.01, 0.005)
STEEL, ALUMINIUM = expansion_of("steel"), expansion_of("aluminium")


def part_of(budget: Budget, source: str) -> float:
    return next(line.part for line in budget.lines if line.source == source)


@pytest.mark.parametrize("seed", range(30))
def test_without_repeats_and_temperature_u_is_to_the_last_bit_what_it_always_was(seed: int) -> None:
    chance = random.Random(seed)
    tool = Tool(chance.choice((0.001, 0.01, 0.02, 0.0005)), chance.uniform(0.0, 0.03))
    assert reading_budget(tool).expanded == expanded(combined([of_resolution(tool.resolution), of_limits(tool.error)]))


def test_a_scatter_larger_than_the_step_counts_and_contains_it() -> None:
    spot = [68.10, 68.12, 68.16]
    budget = reading_budget(GAUGE, [spot], 3)
    assert [line.source for line in budget.lines] == [REPEATS, RESOLUTION, ERROR]
    assert part_of(budget, REPEATS) == pytest.approx(scatter(spot) / math.sqrt(3))
    assert part_of(budget, RESOLUTION) == 0
    assert budget.lines[0].note == "3 readings"
    assert budget.lines[1].note == "step 0.01; contained in the scatter"
    # Two degrees of freedom in the scatter, and hardly more in the whole: U is far from 2u.
    assert 2 < budget.dof < 3
    assert 3.31 < budget.coverage < 4.53  # t for 95.45 % at 3 and 2 degrees of freedom, NIST TN 1297 table B.1


def test_a_scatter_smaller_than_the_step_is_listed_and_contained_in_it() -> None:
    budget = reading_budget(GAUGE, [[68.11, 68.11, 68.11, 68.11, 68.11, 68.12]], 6)
    assert [line.source for line in budget.lines] == [RESOLUTION, REPEATS, ERROR]
    assert part_of(budget, REPEATS) == 0
    assert budget.lines[1].standard == pytest.approx(0.01 / 6)
    assert budget.lines[1].note == "6 readings; contained in the step"
    assert budget.expanded == reading_budget(GAUGE).expanded


def test_repeats_of_several_spots_say_together_how_it_scatters() -> None:
    few = reading_budget(GAUGE, [[68.10, 68.14]], 2)
    many = reading_budget(GAUGE, [[68.10, 68.14], [68.20, 68.16], [68.01, 68.05], [68.09]], 2)
    assert part_of(few, REPEATS) == pytest.approx(part_of(many, REPEATS))
    assert few.lines[0].dof == 1
    assert many.lines[0].dof == 3
    assert many.expanded < few.expanded / 2


def test_identical_repeats_say_no_more_than_the_step() -> None:
    assert reading_budget(GAUGE, [[68.11, 68.11, 68.11]], 3).expanded == reading_budget(GAUGE).expanded


def test_warm_aluminium_under_a_steel_micrometer_is_less_sure_than_at_20_degrees() -> None:
    warmth = Warmth(35.0, ALUMINIUM, STEEL)
    warm = reading_budget(GAUGE, size=68.0, warmth=warmth)
    # By hand: 68 mm · 11.6e-6 · 1 °C/√3; 68 mm · 11.5e-6 · 1 °C/√3; 68 mm · √(15² + 1/3) °C · 2e-6/√3.
    assert part_of(warm, THERMOMETER) == pytest.approx(0.000455, abs=1e-6)
    assert part_of(warm, APART) == pytest.approx(0.000451, abs=1e-6)
    assert part_of(warm, PART_GROWS) == pytest.approx(0.001179, abs=1e-6)
    assert warm.expanded > reading_budget(GAUGE).expanded


def test_steel_on_steel_at_the_same_warmth_needs_no_correction() -> None:
    assert at_20_c(68.0, STEEL, STEEL, 35.0) == pytest.approx(68.0)
    budget = reading_budget(GAUGE, size=68.0, warmth=Warmth(35.0, STEEL, STEEL))
    assert part_of(budget, THERMOMETER) == 0


def test_a_cold_instrument_on_a_warm_part_reads_the_growth_of_the_part_alone() -> None:
    grown = 68.0 * (1 + 23.1e-6 * 30)
    assert at_20_c(grown, ALUMINIUM, STEEL, 50.0, 20.0) == pytest.approx(68.0)


def test_the_warmth_lines_agree_with_drawing_the_correction_itself() -> None:
    """By drawing degrees and growths and correcting each draw: the budget knows how wide that spreads."""
    warmth, read, draws = Warmth(45.0, ALUMINIUM, STEEL, instrument_c=25.0), 68.0, 400_000
    chance = np.random.default_rng(45)

    def around(middle: float, limits: float) -> np.ndarray:
        return middle + limits * (2 * chance.random(draws) - 1)

    by_c, apart = around(25.0, warmth.limits_c), around(0.0, warmth.apart_c)
    tool_by_c = by_c - 20.0 - apart
    part = around(ALUMINIUM.per_c, ALUMINIUM.limits_per_c)
    tool = around(STEEL.per_c, STEEL.limits_per_c)
    drawn = read * (1 + tool * tool_by_c) / (1 + part * by_c)
    budget = reading_budget(Tool(1e-9, 0.0), size=read, warmth=warmth)
    assert budget.standard == pytest.approx(float(drawn.std()), rel=0.01)


def test_two_sizes_at_one_temperature_share_its_doubt() -> None:
    warmth = Warmth(60.0, ALUMINIUM, STEEL)
    outer, inner = (reading_budget(GAUGE, size=size, warmth=warmth) for size in (68.05, 67.96))
    shared = difference_budget(outer, inner)
    apart = difference_budget(outer, inner, one_room=False)
    assert shared.standard < apart.standard
    both = 2 * part_of(outer, THERMOMETER) ** 2
    assert apart.standard**2 - shared.standard**2 == pytest.approx(both, rel=0.01)


def test_an_iron_bore_and_its_aluminium_piston_share_degrees_but_not_growth() -> None:
    bore = reading_budget(GAUGE, size=68.05, warmth=Warmth(60.0, expansion_of("cast iron"), STEEL))
    piston = reading_budget(GAUGE, size=67.96, warmth=Warmth(60.0, ALUMINIUM, STEEL))
    shared = difference_budget(bore, piston)
    one, other = (next(line for line in each.lines if line.source == THERMOMETER) for each in (bore, piston))
    degrees = of_limits(1.0) * abs(one.sensitivity - other.sensitivity)
    without = combined(line.part for line in shared.lines if THERMOMETER not in line.source)
    assert shared.standard == pytest.approx(math.hypot(degrees, without))


def test_the_same_instrument_for_both_sizes_takes_its_error_out_of_the_difference() -> None:
    one = reading_budget(GAUGE)
    assert difference_budget(one, one, one_tool=True).standard == pytest.approx(math.sqrt(2) * of_resolution(0.01))
    assert difference_budget(one, one).standard == pytest.approx(math.sqrt(2) * one.standard)


def test_how_many_readings_would_do_is_worked_out_and_then_does() -> None:
    tool, spot = Tool(0.001, 0.002), [68.150, 68.156, 68.159]
    budget = reading_budget(tool, [spot], 3)
    enough = enough_readings(budget, [spot], 3, margin=0.006)
    assert enough is not None
    assert enough > 3
    # As many readings that scatter alike: now U is within the margin, and with one less it was not.
    alike = [68.155 + scatter(spot) * (math.sqrt((enough - 1) / enough)) * sign for sign in (1, -1)] * (enough // 2)
    alike += [68.155] * (enough % 2)
    assert reading_budget(tool, [alike], enough).expanded < 0.006 * 1.05
    assert budget.expanded > 0.006


def test_more_readings_are_not_asked_for_where_step_and_error_alone_are_too_much() -> None:
    spot = [68.150, 68.156, 68.159]
    assert enough_readings(reading_budget(GAUGE, [spot], 3), [spot], 3, margin=0.006) is None
    assert enough_readings(reading_budget(GAUGE), [], 1, margin=0.1) is None


def test_a_material_without_doubt_adds_none() -> None:
    known = Expansion(20e-6)
    budget = reading_budget(GAUGE, size=68.0, warmth=Warmth(60.0, known, known, limits_c=0.0, apart_c=0.0))
    assert budget.standard == pytest.approx(reading_budget(GAUGE).standard)
