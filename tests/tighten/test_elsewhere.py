"""Threads that are real but stand in no table of sizes here are called by their name, and never offered as another."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from fingertight.tighten.threads.names import INCH_MM, NoSuchThread, named_elsewhere, taper_pipes, thread_meant, threads
from fingertight.tighten.threads.names.elsewhere import TAPER, association_size

OUTSIDE = Path(__file__).parent.parent / "outside" / "taper-and-british.toml"
PUBLISHED: dict[str, Any] = tomllib.loads(OUTSIDE.read_text(encoding="utf-8"))
TAPERS = {one.name: one for one in taper_pipes()}


@pytest.mark.parametrize(("name", "pitch_in", "engaged_in"), PUBLISHED["npt"]["rows"])
def test_an_npt_thread_has_the_pitch_diameter_that_its_standard_prints(
    name: str, pitch_in: float, engaged_in: float
) -> None:
    # By the formula of ASME B1.20.1 (from memory): E1 = D − (0.05 D + 1.1) p + L1 / 16, D the outside of the pipe.
    taper = TAPERS[name]
    outside, pitch = taper.most_mm / INCH_MM, 1 / taper.threads_per_inch
    worked_out = outside - (0.05 * outside + 1.1) * pitch + engaged_in * TAPER
    assert worked_out == pytest.approx(pitch_in, abs=0.0002), PUBLISHED["npt"]["source"]


@pytest.mark.parametrize("name", [name for name in TAPERS if name.endswith("NPT")])
def test_the_effective_length_of_npt_follows_its_formula(name: str) -> None:
    # ASME B1.20.1 (from memory): L2 = (0.80 D + 6.8) p.
    taper = TAPERS[name]
    length_in = (taper.most_mm - taper.least_mm) / TAPER / INCH_MM
    assert length_in == pytest.approx((0.8 * taper.most_mm / INCH_MM + 6.8) / taper.threads_per_inch, abs=0.0003)


@pytest.mark.parametrize(("name", "gauge_mm", "per_inch"), PUBLISHED["r"]["rows"])
def test_a_taper_thread_passes_its_gauge_diameter_on_the_way(name: str, gauge_mm: float, per_inch: float) -> None:
    taper = TAPERS[name]
    assert taper.least_mm < gauge_mm < taper.most_mm
    assert taper.threads_per_inch == per_inch


@pytest.mark.parametrize("name", [name for name in TAPERS if name.startswith("R")])
def test_a_taper_thread_has_the_pitch_of_the_parallel_one_and_its_size_at_the_gauge(name: str) -> None:
    # ISO 228-1 has the major diameters of ISO 7-1.
    taper = TAPERS[name]
    parallel = threads()[taper.parallel]
    assert parallel.threads_per_inch == taper.threads_per_inch
    assert taper.least_mm < parallel.diameter_mm < taper.most_mm


@pytest.mark.parametrize(("number", "diameter_in", "per_inch"), PUBLISHED["ba"]["rows"])
def test_a_british_association_thread_has_the_size_its_table_prints(
    number: int, diameter_in: float, per_inch: float
) -> None:
    diameter_mm, pitch_mm = association_size(number)
    assert diameter_mm / INCH_MM == pytest.approx(diameter_in, abs=0.0002)
    # That table goes by pitches of a ten-thousandth of an inch.
    assert pitch_mm / INCH_MM == pytest.approx(1 / per_inch, abs=0.00005)


@pytest.mark.parametrize("number", [-1, 26])
def test_a_number_that_no_british_association_thread_has_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match="0 to 25"):
        association_size(number)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "1/8 NPT",
            "“1/8 NPT” is a taper pipe thread, which seals on its thread: it is not in these tables. The parallel pipe "
            "thread of that size is G1/8 (28 threads to the inch, where NPT has 27); never force the two together.",
        ),
        (
            "1/4-18 NPT",
            "“1/4-18 NPT” is a taper pipe thread, which seals on its thread: it is not in these tables. The parallel "
            "pipe thread of that size is G1/4 (19 threads to the inch, where NPT has 18); never force the two "
            "together.",
        ),
        (
            "npt 1/2",
            "“npt 1/2” is a taper pipe thread, which seals on its thread: it is not in these tables. The parallel pipe "
            "thread of that size is G1/2; never force the two together.",
        ),
        (
            "R1/8",
            "“R1/8” is a taper pipe thread, which seals on its thread: it is not in these tables. The parallel pipe "
            "thread of that size is G1/8; never force the two together.",
        ),
        (
            "1/2 BSPT",
            "“1/2 BSPT” is a taper pipe thread, which seals on its thread: it is not in these tables. The parallel "
            "pipe thread of that size is G1/2; never force the two together.",
        ),
        (
            "Rp 3/4",
            "“Rp 3/4” takes a taper pipe thread, which seals on its thread: it is not in these tables. The parallel "
            "pipe thread of that size is G3/4; never force the two together.",
        ),
        ("7/16 NPT", "“7/16 NPT” is a taper pipe thread, which seals on its thread: it is not in these tables."),
        (
            "2 BA",
            "“2 BA” is a British Association thread, 4.7 mm over its thread with a pitch of 0.81 mm and flanks of "
            "47.5° (BS 93): it is not in these tables, and no thread that is in them fits it.",
        ),
        (
            "1/4 BSF",
            "“1/4 BSF” is a British Standard Fine thread with 26 threads to the inch: it is not in these tables. Of "
            "that size are 1/4-20 BSW, 1/4-20 UNC, 1/4-28 UNF; none of them fits it.",
        ),
    ],
)
def test_a_thread_of_no_table_here_is_called_what_it_is(typed: str, said: str) -> None:
    with pytest.raises(NoSuchThread) as refused:
        thread_meant(typed)
    assert str(refused.value) == said


@pytest.mark.parametrize("typed", ["1/8 NPT", "Rc 1/4", "1/2 BSPT", "2 BA", "BA 4"])
def test_no_other_thread_is_offered_in_its_place(typed: str) -> None:
    with pytest.raises(NoSuchThread) as refused:
        thread_meant(typed)
    assert refused.value.nearest == ()


@pytest.mark.parametrize("name", sorted(threads()))
def test_no_thread_of_the_tables_is_taken_for_one_of_them(name: str) -> None:
    assert named_elsewhere(name) is None
