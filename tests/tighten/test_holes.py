"""The drill before the tap and the hole for the bolt are those of the tables, and the tables are right."""

import csv
from pathlib import Path

import pytest

from fingertight.tighten.threads.holes import NoSuchHole, clearance_holes, drill_named, tapping_drill
from fingertight.tighten.threads.limits import nut_limits
from fingertight.tighten.threads.names import INCH_MM, NoSuchThread, Thread, thread_named, threads

COARSE = {thread.size: thread for thread in reversed(threads().values()) if thread.series in {"coarse", "UNC", "UNF"}}
LIBRARY = Path(__file__).parent.parent / "outside" / "bd-warehouse"


def _rows(name: str) -> list[dict[str, str]]:
    with (LIBRARY / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


# The library's drill for soft metal is another one; both cut a sound thread unless it says otherwise.
OTHER_DRILL = {
    "M4.5-0.75": "d − P; ISO 2306 has the standard drill 3.7 mm",
    "M6-0.75": "d − P; ISO 2306 has the standard drill 5.2 mm",
    "M7-0.75": "d − P; ISO 2306 has the standard drill 6.2 mm",
    "M12-1.75": "10.3 mm there, 10.2 mm in ISO 2306: both lie inside the 6H bore",
    "M14-2": "12.1 mm there, 12 mm in ISO 2306: both lie inside the 6H bore",
    "M22-2.5": "18.5 mm there, 1 mm too small: it is d − P for M21, and less than the least 6H bore",
    "1-12": "15/16 in there, that of 1-14: more than the largest 2B bore",
}
# ISO 273:1979 and the library, which follows an inch standard's metric table, differ by half a millimetre here.
OTHER_EDITION = {
    "M12": "ISO 273: 13.5 and 14.5 mm; the library 14 and 15",
    "M14": "ISO 273: 15.5 and 16.5 mm; the library 16 and 17",
    "M16": "ISO 273: 17.5 and 18.5 mm; the library 18 and 19",
}


def _library_drill_mm(name: str) -> float:
    """A drill of the library's tables: a number or letter, a fraction, or a decimal of an inch."""
    if name.startswith("#"):
        return drill_named(f"No. {name[1:]}").diameter_mm
    return float(name) * INCH_MM if "." in name else drill_named(name).diameter_mm


def _has_clearance(size: str) -> bool:
    """Whether both have a clearance hole for this size of the library's."""
    thread = COARSE.get(size.replace("-", " "))
    try:
        return thread is not None and bool(clearance_holes(thread))
    except NoSuchHole:
        return False


def _library_thread(size: str) -> Thread | None:
    """The thread of ours that the library's row speaks of, if we have it."""
    try:
        return thread_named(size.replace("-", "x") if size.startswith("M") else size)
    except NoSuchThread:
        return None


TAPS = _rows("tap_hole_sizes.csv")
TAPS_OF_BOTH = [row for row in TAPS if _library_thread(row["Size"])]
CLEARANCES = _rows("clearance_hole_sizes.csv")
CLEARANCES_OF_BOTH = [row for row in CLEARANCES if _has_clearance(row["Size"])]
DRILLS = [row for row in _rows("drill_sizes.csv") if not row["Size"][1:].isdigit() or int(row["Size"][1:]) <= 60]


@pytest.mark.parametrize("row", TAPS_OF_BOTH, ids=[row["Size"] for row in TAPS_OF_BOTH])
def test_a_tapping_drill_is_that_of_the_library(row: dict[str, str]) -> None:
    thread = _library_thread(row["Size"])
    assert thread is not None
    theirs_mm = float(row["Soft"]) if row["Size"].startswith("M") else _library_drill_mm(row["Soft"])
    same = abs(tapping_drill(thread).drill.diameter_mm - theirs_mm) < 0.001
    assert same is (row["Size"] not in OTHER_DRILL), f"{tapping_drill(thread).drill} here, {theirs_mm} mm there"


def test_only_threads_and_sizes_of_other_series_are_not_compared() -> None:
    # M1.5, M19 and M21, pitches that ISO 261 does not have for their size, and extra-fine inch threads.
    assert [row["Size"] for row in TAPS if row not in TAPS_OF_BOTH] == [
        *("M1.5-0.35", "M2-0.45", "M3-0.6", "M4-0.75", "M5-1", "M5-0.9", "M5.5-0.9", "M19-2.5", "M21-2"),
        *("#12-32", "1/4-32", "5/16-32", "3/8-32", "7/16-28", "1/2-28", "9/16-24", "5/8-24", "11/16-24", "3/4-20"),
        *("13/16-20", "7/8-20", "15/16-20", "1-20"),
    ]
    # Sizes that ISO 273 and ASME B18.2.8, or our tables of threads, do not have.
    assert [row["Size"] for row in CLEARANCES if row not in CLEARANCES_OF_BOTH and row["Size"][1:].isdigit()] == [
        *("M9", "M15", "M17", "M25", "M28", "M32", "M68", "M72", "M76", "M80", "M85", "M90", "M95"),
        *("M100", "M105", "M110", "M115", "M120", "M125", "M130", "M140", "M150", "#12"),
    ]
    assert len(TAPS_OF_BOTH) > 75
    assert len(CLEARANCES_OF_BOTH) > 50


@pytest.mark.parametrize("size", ["M22-2.5", "1-12"])
def test_where_the_library_is_called_wrong_its_drill_would_spoil_the_thread(size: str) -> None:
    thread = _library_thread(size)
    assert thread is not None
    theirs = next(row["Soft"] for row in TAPS if row["Size"] == size)
    theirs_mm = float(theirs) if size.startswith("M") else _library_drill_mm(theirs)
    least, most = nut_limits(thread).minor_mm
    assert not least <= theirs_mm <= most


@pytest.mark.parametrize("row", CLEARANCES_OF_BOTH, ids=[row["Size"] for row in CLEARANCES_OF_BOTH])
def test_a_clearance_hole_is_that_of_the_library(row: dict[str, str]) -> None:
    size = row["Size"].replace("-", " ")
    holes = clearance_holes(COARSE[size])
    inch = not size.startswith("M")
    theirs = [_library_drill_mm(row[fit]) if inch else float(row[fit]) for fit in ("Close", "Normal", "Loose")]
    ours = [hole.diameter_mm for hole in (holes.close, holes.normal, holes.loose)]
    if size in OTHER_EDITION:
        assert ours[0] == theirs[0]
        assert [one - other for one, other in zip(ours, theirs, strict=True)] == [0, -0.5, -0.5]
    else:
        assert ours == pytest.approx(theirs, abs=0.001)


@pytest.mark.parametrize("row", DRILLS, ids=[row["Size"] for row in DRILLS])
def test_an_inch_drill_has_the_size_of_the_library(row: dict[str, str]) -> None:
    name = row["Size"]
    # The library rounds to 0.001 in.
    assert drill_named(f"No. {name[1:]}" if name.startswith("#") else name).diameter_mm / INCH_MM == pytest.approx(
        float(row["Diameter"]), abs=0.00051
    )


def test_every_drill_cuts_a_bore_that_its_thread_allows() -> None:
    # An independent check of the drill tables: limits by the formulas of ISO 965-1, ASME B1.1, BS 84 and ISO 228-1.
    outside = {}
    for name, thread in threads().items():
        least, most = nut_limits(thread).minor_mm
        drill_mm = tapping_drill(thread).drill.diameter_mm
        if not least - 1e-6 <= drill_mm <= most + 1e-6:
            outside[name] = round(drill_mm - most, 3)
    # Two fractions of an inch as every handbook prints them, a hair over the bore.
    assert outside == {"9/16-18 UNF": 0.016, "5/8-18 UNF": 0.003}


@pytest.mark.parametrize(
    ("name", "percent"),
    # Machinists' rule, common practice: 1/4-20 with No. 7 gives 75 %, d − P on a metric thread 77 %; worked by hand:
    # (6.35 − 5.1054) / (1.299038 · 1.27) = 0.754; (6 − 5) / 1.299038 = 0.770.
    [("1/4-20 UNC", 75.4), ("M6", 77.0), ("M10", 77.0)],
)
def test_the_drill_leaves_as_much_thread_as_the_trade_counts(name: str, percent: float) -> None:
    assert tapping_drill(thread_named(name)).thread_percent == pytest.approx(percent, abs=0.05)


def test_the_rule_diameter_less_pitch_comes_near_every_metric_drill() -> None:
    for name, thread in threads().items():
        if thread.series in {"coarse", "fine"}:
            tapping = tapping_drill(thread)
            assert abs(tapping.drill.diameter_mm - tapping.rule_mm) <= 0.0501, name


@pytest.mark.parametrize("name", ["M9", "G1/4", "#12-24", "9/16-12"])
def test_where_no_table_has_a_clearance_hole_nothing_is_guessed(name: str) -> None:
    with pytest.raises(NoSuchHole) as refused:
        clearance_holes(thread_named(name))
    assert str(refused.value) == f"No table here has a clearance hole for {thread_named(name).name}."


def test_a_bolt_always_goes_through_its_clearance_holes() -> None:
    for name, thread in threads().items():
        try:
            holes = clearance_holes(thread)
        except NoSuchHole:
            continue
        sizes = [hole.diameter_mm for hole in (holes.close, holes.normal, holes.loose)]
        assert thread.diameter_mm < sizes[0] < sizes[1] < sizes[2], name


@pytest.mark.parametrize("name", ["No. 99", "AA", "banana", "", "1/0", "-1/4"])
def test_a_drill_that_no_rack_has_is_refused(name: str) -> None:
    with pytest.raises(KeyError):
        drill_named(name)
