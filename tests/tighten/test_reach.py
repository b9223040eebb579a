"""A bolt too long for its hole or too short to hold is told from one that fits."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.tighten.bolts.reach import LEAST_HELD, Reach, reach
from fingertight.tighten.threads.names import thread_named

NUTS = Path(__file__).parent.parent / "outside" / "bd-warehouse-heads" / "hex_nut_parameters.csv"


@pytest.mark.parametrize(
    ("length", "grip", "depth", "word", "by"),
    [
        (28, 12, 18, Reach.HOLDS, 0),
        (30, 12, 18, Reach.HOLDS, 0),
        (32, 12, 18, Reach.TOO_LONG, 2),
        (16, 12, 18, Reach.TOO_SHORT, 0.8),
        (10, 12, 18, Reach.TOO_SHORT, 6.8),
        (100, 12, None, Reach.HOLDS, 0),
        (5, 2, 3, Reach.HOLDS, 0),
    ],
)
def test_an_m6_bolt_bottoms_holds_or_is_too_short(
    length: float, grip: float, depth: float | None, word: Reach, by: float
) -> None:
    reached = reach(length, grip, 6, depth)
    assert reached.word is word
    assert reached.by_mm == pytest.approx(by)


@given(st.floats(1, 100), st.floats(0, 50), st.floats(1, 100))
def test_a_bolt_cut_or_chosen_as_told_then_fits(length: float, grip: float, depth: float) -> None:
    reached = reach(length, grip, 6, depth)
    mended = {Reach.HOLDS: 0.0, Reach.TOO_LONG: -reached.by_mm, Reach.TOO_SHORT: reached.by_mm}[reached.word]
    assert reach(length + mended, grip, 6, depth).word is Reach.HOLDS


@pytest.mark.parametrize("sizes", [(0, 1, 6, 1), (1, -1, 6, 1), (1, 1, 0, 1), (1, 1, 6, 0), (float("nan"), 1, 6, 1)])
def test_sizes_that_no_bolt_has_are_refused(sizes: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        reach(*sizes)


def test_the_least_thread_is_about_what_a_regular_nut_has() -> None:
    # ISO 4032 nut heights m, from M5 to M16, as bd-warehouse v0.4.0 has them (Apache-2.0, copied unchanged).
    rows = csv.DictReader(NUTS.read_text("utf-8").splitlines())
    heights = {row["Size"].split("-")[0]: float(row["iso4032:m"]) for row in rows if row["iso4032:m"]}
    shares = [heights[size] / thread_named(size).diameter_mm for size in ("M5", "M6", "M8", "M10", "M12", "M14", "M16")]
    assert min(shares) - 0.06 < LEAST_HELD <= min(shares)
