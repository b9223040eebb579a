"""Which drill comes before tapping a thread, and which clearance holes a bolt of it goes through."""

from fractions import Fraction
from functools import cache
from typing import NamedTuple

from fingertight.quantity import plain
from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names import INCH_MM, Thread

# Full thread depth by which the trade counts its percentages, both sides together, in pitches: 3/4 H of the 60° V
# twice (ASME B1.1), and BS 84's own depth twice.
_FULL_DEPTH = {60: 1.299038, 55: 1.280654}


class NoSuchHole(ValueError):
    """No table here has a clearance hole for this thread; the message says so."""


class Drill(NamedTuple):
    """A drill as the rack names it, "5 mm", "No. 7", "F" or "27/64 in", and its diameter [mm]."""

    name: str
    diameter_mm: float


class TappingDrill(NamedTuple):
    """The drill before the tap, how much of a full thread it leaves [%], what the rule d − P gives, its table."""

    drill: Drill
    thread_percent: float
    rule_mm: float
    source: str


class ClearanceHoles(NamedTuple):
    """The holes a bolt goes through, by how exactly the holes of two parts have to meet, and their table."""

    close: Drill
    normal: Drill
    loose: Drill
    source: str


def drill_named(name: str) -> Drill:
    """Which diameter has the inch drill of this name?

    name: "No. 7", "F", or a fraction of an inch as text. Returns the drill, its diameter in mm.

    >>> round(drill_named("No. 7").diameter_mm, 3), drill_named("27/64").name, drill_named("1 3/64").diameter_mm
    (5.105, '27/64 in', 26.590625)

    Raises KeyError for a name no drill has.
    Source: ASME B94.11M (number and letter sizes).
    """
    if name in _gauge():
        return Drill(name, _gauge()[name] * INCH_MM)
    try:
        inches = float(sum(Fraction(part) for part in name.split()))
    except (ValueError, ZeroDivisionError):
        inches = 0.0
    if inches <= 0:
        raise KeyError(name)
    return Drill(f"{name} in", inches * INCH_MM)


def tapping_drill(thread: Thread) -> TappingDrill:
    """Which drill comes before the tap, in steel, aluminium or brass, and how much of the thread does it leave?

    Percentage = 100 · (d − drill) / (1.299 P), for 55° threads 1.281 P: of the full depth of the bolt's thread, as the
    trade counts. Rule of thumb: drill = d − P, which leaves 77 %.

    thread: one of the tables. Returns the drill, the percentage [%], the rule's drill d − P [mm] and the table's name;
    a fine metric pitch that the table has no row for follows the rule, as the table itself does.

    It holds for cut threads in soft metal; hard or tough metal, and taps that form the thread, want a larger drill.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> tapping_drill(thread_named("M6")).drill.name, round(tapping_drill(thread_named("M6")).thread_percent)
    ('5 mm', 77)
    >>> tapping_drill(thread_named("1/4-20 UNC")).drill.name
    'No. 7'

    Raises nothing for a thread of the tables.
    Source: ISO 2306:1972, BS 1157:1975 (BSW, G), handbook tables for UNC and UNF. Checked against bd-warehouse's table;
    every drill lies within the bores of `nut_limits`.
    """
    drill, source = _tapping(thread.series).get(thread.name) or _by_rule(thread)
    full = _FULL_DEPTH[thread.flank_angle_deg] * thread.pitch_mm
    percent = 100 * (thread.diameter_mm - drill.diameter_mm) / full
    return TappingDrill(drill, percent, thread.diameter_mm - thread.pitch_mm, source)


def clearance_holes(thread: Thread) -> ClearanceHoles:
    """Which holes does a bolt of this thread go through: close, normal, loose?

    thread: one of the tables. Returns the three holes and the table's name; BSW bolts have the inch bolts' holes, since
    only the diameter counts.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> holes = clearance_holes(thread_named("M6"))
    >>> holes.close.name, holes.normal.name, holes.loose.name
    ('6.4 mm', '6.6 mm', '7 mm')

    Raises NoSuchHole where the tables have none: a size between the usual ones, a pipe thread.
    Source: ISO 273:1979, ASME B18.2.8-1999. Checked against bd-warehouse's table.
    """
    metric = thread.series in {"coarse", "fine"}
    found = None if thread.series == "G" else _clearance(metric).get(thread.size)
    if found is None:
        raise NoSuchHole(f"No table here has a clearance hole for {thread.name}.")
    return found


@cache
def _gauge() -> dict[str, float]:
    return {row["drill"]: float(row["diameter_in"]) for row in rows("asme-b94.11.csv")}


@cache
def _tapping(series: str) -> dict[str, tuple[Drill, str]]:
    """Drill and table by the thread's name, for the table that has this series; one start needs one table."""
    found: dict[str, tuple[Drill, str]] = {}
    if series in {"coarse", "fine"}:
        for row in rows("iso-2306.csv"):
            for name in (row["size"], f"{row['size']}x{plain(float(row['pitch_mm']))}"):
                found.setdefault(name, (_metric(float(row["drill_mm"])), "ISO 2306:1972"))
    elif series in {"UNC", "UNF"}:
        for row in rows("asme-b18-tap-drills.csv"):
            name = f"{row['size']}-{row['threads_per_inch']} {series}"
            found[name] = drill_named(row["drill"]), "handbook tables for Unified threads"
    else:
        per_inch = {row["size"]: row["threads_per_inch"] for row in rows("bs-84.csv")}
        for row in rows("bs-1157.csv"):
            whitworth = row["series"] == "BSW"
            name = f"{row['size']}-{per_inch[row['size']]} BSW" if whitworth else f"G{row['size']}"
            found[name] = _metric(float(row["drill_mm"])), "BS 1157:1975"
    return found


@cache
def _clearance(metric: bool) -> dict[str, ClearanceHoles]:
    """The three holes by the thread's size, of the metric or of the inch table."""
    found = {}
    for row in rows("iso-273.csv" if metric else "asme-b18.2.8.csv"):
        if metric:
            close, normal, loose = (_metric(float(row[f"{fit}_mm"])) for fit in ("close", "normal", "loose"))
        else:
            close, normal, loose = (drill_named(row[fit]) for fit in ("close", "normal", "loose"))
        found[row["size"]] = ClearanceHoles(close, normal, loose, "ISO 273:1979" if metric else "ASME B18.2.8-1999")
    return found


def _by_rule(thread: Thread) -> tuple[Drill, str]:
    return _metric(round(thread.diameter_mm - thread.pitch_mm, 2)), "the rule diameter less pitch, as in ISO 2306:1972"


def _metric(diameter_mm: float) -> Drill:
    return Drill(f"{plain(diameter_mm)} mm", diameter_mm)
