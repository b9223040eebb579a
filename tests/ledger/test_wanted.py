"""What is to be ordered follows from what was measured, what is used once and what is lost."""

from fingertight.ledger.asked.wanted import ToOrder, to_order
from tests.ledger.bench import Bench
from tests.ledger.test_sized import ENGINE, TOP, reads

WITH_SMALL = ENGINE.replace(
    'id = "piston"\n',
    'id = "piston"\nspare = "Piston, standard size"\n'
    'with = [{ name = "pin clip", count = 2, single_use = true, spare = "Pin clip 16" }, { name = "shim" }]\n',
)


def stripped() -> Bench:
    bench = Bench(WITH_SMALL)
    bench.off("piston", "1")
    return bench


def names(bench: Bench) -> list[str]:
    return [
        f"{one.count} × {one.name}: {one.why}{' (perhaps)' if one.perhaps else ''}"
        for one in to_order(bench.ledger.state)
    ]


def test_what_is_used_once_is_ordered_until_it_is_here() -> None:
    bench = stripped()
    assert to_order(bench.ledger.state) == (ToOrder("piston", "pin clip", 2, "Pin clip 16", "used once only"),)
    bench.renews("piston", "pin clip", 1)
    assert names(bench) == ["1 × Pin clip 16: used once only"]
    bench.renews("piston", "pin clip", 1)
    assert names(bench) == []


def test_a_worn_part_is_ordered_with_its_reason_and_drops_off_when_it_is_renewed() -> None:
    bench = stripped()
    bench.renews("piston", "pin clip", 2)
    reads(bench, "skirt", {"value": 67.80})
    assert names(bench) == ["1 × Piston, standard size: Skirt: worn, 67.8 mm, limit 67.845"]
    bench.renews("piston")
    assert names(bench) == []


def test_what_is_too_close_to_call_is_perhaps_ordered_until_it_is_decided() -> None:
    bench = stripped()
    bench.renews("piston", "pin clip", 2)
    reads(bench, "skirt", {"value": 67.85})
    assert names(bench) == ["1 × Piston, standard size: Skirt: too close to call, 67.85 mm, limit 67.845 (perhaps)"]
    bench.decides("skirt", "good")
    assert names(bench) == []


def test_of_a_wide_clearance_the_part_that_is_further_gone_is_ordered() -> None:
    bench = Bench(WITH_SMALL.replace("max = 0.30", "max = 0.25"))
    bench.off("piston", "1")
    bench.renews("piston", "pin clip", 2)
    reads(bench, "bore", {**TOP, "value": 68.10})
    reads(bench, "skirt", {"value": 67.87})
    assert bench.verdict("clearance") == "good"
    reads(bench, "bore", {**TOP, "value": 68.12})
    reads(bench, "skirt", {"value": 67.855})
    assert [bench.verdict(check) for check in ("bore", "skirt", "clearance")] == ["good", "good", "worn"]
    assert [one.part for one in to_order(bench.ledger.state)] == ["piston"]


def test_what_is_lost_is_ordered_until_it_is_found() -> None:
    bench = stripped()
    bench.renews("piston", "pin clip", 2)
    bench.counts({"1": {"shim": 0}})
    assert names(bench) == ["1 × shim: missing"]
    bench.counts({"1": {"shim": 1}})
    assert names(bench) == []
