"""Repeats, temperature and instruments in a log: what the size is, and how sure."""

import pytest

from fingertight.ledger import verdict_of
from fingertight.ledger.asked.measured import could_measure, settled_by_of, standing_of
from fingertight.ledger.entry import NotAnEntry
from fingertight.measure.verdict import Way
from fingertight.uncertainty.coverage import factor
from tests.ledger.bench import Bench

ENGINE = """
[[instrument]]
id = "gauge"
name = "Bore gauge"
kind = "bore gauge"
resolution = 0.01
error = 0.005
[[instrument]]
id = "fine-gauge"
name = "Bore gauge, 0.001"
kind = "bore gauge"
resolution = 0.001
error = 0.002
[[instrument]]
id = "calliper"
name = "Calliper"
kind = "vernier"
resolution = 0.02
error = 0.03
[[instrument]]
id = "micrometer"
kind = "micrometer"
resolution = 0.01
error = 0.005
range = [50, 75]
[[part]]
id = "case"
stays = true
material = "cast iron"
[[part]]
id = "piston"
material = "aluminium"
[[check]]
id = "bore"
part = "case"
bare = ["piston"]
at = ["top", "bottom"]
instrument = "gauge"
new = [68.000, 68.015]
max = 68.165
[[check]]
id = "skirt"
part = "piston"
instrument = "micrometer"
new = [67.965, 67.985]
min = 67.845
[[check]]
id = "clearance"
gap = { outer = "bore", inner = "skirt" }
max = 0.30
"""
TOP, BOTTOM = {"at": "top"}, {"at": "bottom"}


def bare() -> Bench:
    bench = Bench(ENGINE)
    bench.off("piston", "1")
    return bench


def reads(bench: Bench, check: str, *values: dict[str, object], **fields: object) -> None:
    bench.say("reading", check=check, values=list(values), unit="mm", **fields)


def test_repeats_of_a_spot_count_as_their_mean() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.16}, {**TOP, "value": 68.17}, {**TOP, "value": 68.15})
    found = verdict_of(bench.ledger.state, "bore")
    assert found is not None
    assert found.worst == pytest.approx(68.16)


def test_scatter_of_repeats_makes_a_size_less_sure_with_its_few_degrees_of_freedom() -> None:
    """s = 0.02 of three readings: s/√3, k for 95.45 % as GUM G.4 has it."""
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.10}, {**TOP, "value": 68.12}, {**TOP, "value": 68.14})
    found = standing_of(bench.ledger.state, bench.plan.anatomy.check_by_id["bore"])
    assert found is not None
    mean, error = 0.02 / 3**0.5, 0.005 / 3**0.5
    standard = (mean**2 + error**2) ** 0.5
    dof = standard**4 / (mean**4 / 2)
    assert found.budget.standard == pytest.approx(standard)
    assert found.verdict.uncertainty == pytest.approx(factor(0.9545, dof) * standard)


def test_repeats_that_agree_are_as_sure_as_the_step_they_are_read_in() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.10}, {**TOP, "value": 68.10})
    once = bare()
    reads(once, "bore", {**TOP, "value": 68.10})
    both = [verdict_of(each.ledger.state, "bore") for each in (bench, once)]
    assert both[0] is not None
    assert both[1] is not None
    assert both[0].uncertainty == pytest.approx(both[1].uncertainty)


def test_readings_of_no_named_spot_each_count() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.95}, {"value": 67.90})
    found = verdict_of(bench.ledger.state, "skirt")
    assert found is not None
    assert found.worst == 67.90


def test_a_warm_piston_is_judged_at_20_degrees() -> None:
    """67.95 at 35 °C against a steel micrometer: 67.95 · (23.1 − 11.5) · 10⁻⁶ · 15 = 0.0118 smaller (Swyt 1994)."""
    bench = bare()
    reads(bench, "skirt", {"value": 67.95}, temperature=35)
    found = verdict_of(bench.ledger.state, "skirt")
    assert found is not None
    assert found.worst == pytest.approx(67.95 - 0.0118, abs=5e-5)
    assert found.uncertainty > 0.0082


def test_a_part_of_no_stated_material_is_not_corrected() -> None:
    bench = Bench(ENGINE.replace('material = "aluminium"', ""))
    bench.off("piston", "1")
    reads(bench, "skirt", {"value": 67.95}, temperature=35)
    found = verdict_of(bench.ledger.state, "skirt")
    assert found is not None
    assert found.worst == 67.95


def test_warmth_is_for_lengths_a_pressure_read_in_a_warm_room_stays_what_it_was() -> None:
    """compression of an aluminium piston in bar: linear expansion says nothing about it."""
    pressure = """
[[instrument]]
id = "pressure-gauge"
unit = "bar"
resolution = 0.1
error = 0.2
[[check]]
id = "pressure"
part = "piston"
bare = ["piston"]
unit = "bar"
min = 8
instrument = "pressure-gauge"
"""
    bench = Bench(ENGINE + pressure)
    bench.off("piston", "1")
    bench.say("reading", check="pressure", values=[{"value": 8.9}], unit="bar", temperature=60)
    found = verdict_of(bench.ledger.state, "pressure")
    assert found is not None
    assert found.worst == 8.9


@pytest.mark.parametrize("temperature", [-40, 400, "warm"])
def test_nobody_measures_in_the_fire(temperature: object) -> None:
    with pytest.raises(NotAnEntry, match="temperature"):
        reads(bare(), "skirt", {"value": 67.95}, temperature=temperature)


def test_the_instrument_that_was_used_counts_and_not_the_usual_one() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.163}, instrument="gauge")
    assert bench.verdict("bore") == "too close to call"
    reads(bench, "bore", {**TOP, "value": 68.160}, instrument="fine-gauge")
    assert bench.verdict("bore") == "good"


def test_an_instrument_the_file_does_not_have_counts_as_the_usual_one() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.163}, instrument="somebody's own")
    assert bench.verdict("bore") == "too close to call"


def test_what_would_settle_it_is_a_finer_instrument_that_the_workshop_has() -> None:
    bench = bare()
    check = bench.plan.anatomy.check_by_id["bore"]
    reads(bench, "bore", {**TOP, "value": 68.160})
    found = settled_by_of(bench.ledger.state, check)
    assert found is not None
    assert (found.way, found.instrument) == (Way.BETTER_INSTRUMENT, "Bore gauge, 0.001")
    assert [one.id for one in could_measure(bench.ledger.state, check)] == ["gauge", "fine-gauge"]


def test_what_would_settle_it_is_more_readings_where_they_scatter() -> None:
    bench = bare()
    check = bench.plan.anatomy.check_by_id["bore"]
    spread = [{**TOP, "value": value} for value in (68.10, 68.12, 68.14, 68.13, 68.11, 68.12)]
    reads(bench, "bore", *spread, *({**BOTTOM, "value": value} for value in (68.135, 68.165)))
    found = settled_by_of(bench.ledger.state, check)
    assert found is not None
    assert found.way is Way.READ_AGAIN
    assert found.readings > 2


def test_right_at_the_limit_the_instructor_decides() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.165})
    found = settled_by_of(bench.ledger.state, bench.plan.anatomy.check_by_id["bore"])
    assert found is not None
    assert found.way is Way.INSTRUCTOR


def test_what_is_clear_needs_no_settling() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.05})
    check = bench.plan.anatomy.check_by_id["bore"]
    assert settled_by_of(bench.ledger.state, check) is None
    found = standing_of(bench.ledger.state, check)
    assert found is not None
    assert found.chance_good > 0.999


def test_a_clearance_of_warm_parts_is_that_at_20_degrees() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 68.05}, temperature=30)
    reads(bench, "skirt", {"value": 67.95}, temperature=30)
    found = verdict_of(bench.ledger.state, "clearance")
    assert found is not None
    bore = 68.05 * (1 + 11.5e-6 * 10) / (1 + 11.4e-6 * 10)
    skirt = 67.95 * (1 + 11.5e-6 * 10) / (1 + 23.1e-6 * 10)
    assert found.worst == pytest.approx(bore - skirt, abs=1e-6)


def test_a_worn_part_fitted_again_is_flagged_though_it_was_read_warm_and_often() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.80}, {"value": 67.80}, temperature=25)
    bench.on("piston", "1")
    assert bench.wrong() == ["worn piston"]
