"""Limits of holes and shafts by their letters (25 H7, 25 g6), and how a pair of them fits."""

import re
from dataclasses import dataclass
from functools import cache

from fingertight.measure.tables import rows
from fingertight.quantity import NotUnderstood, one_of, plain, read_number

LARGEST_MM = 500.0
LETTERS = ("d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s")
GRADES = tuple(range(5, 15))
_ZONE = re.compile(r"\s*([A-Za-z]{1,2})\s*([0-9]{1,2})\s*\Z")
_NAMED = re.compile(r"\s*[ØøΦ⌀]?\s*([0-9.,]+)\s*(?:mm)?\s*([A-Za-z].*)\Z")


@dataclass(frozen=True, slots=True)
class Zone:
    """Where a hole or a shaft may lie: its nominal size [mm], its letters and grade, its deviations from it [µm]."""

    nominal_mm: float
    name: str
    lower_um: float
    upper_um: float

    @property
    def is_hole(self) -> bool:
        """Capital letters are holes, small ones shafts."""
        return self.name[0].isupper()

    @property
    def least_mm(self) -> float:
        """The smallest it may be [mm]."""
        return round(self.nominal_mm + self.lower_um / 1000, 6)

    @property
    def most_mm(self) -> float:
        """The largest it may be [mm]."""
        return round(self.nominal_mm + self.upper_um / 1000, 6)


@dataclass(frozen=True, slots=True)
class Fit:
    """A hole and a shaft of the same nominal size."""

    hole: Zone
    shaft: Zone

    @property
    def least_play_um(self) -> float:
        """The tightest pair [µm]; below 0 it is interference."""
        return self.hole.lower_um - self.shaft.upper_um

    @property
    def most_play_um(self) -> float:
        """The loosest pair [µm]."""
        return self.hole.upper_um - self.shaft.lower_um

    @property
    def kind(self) -> str:
        """clearance, interference, or transition, where it may be either."""
        if self.least_play_um >= 0:
            return "clearance"
        return "interference" if self.most_play_um <= 0 else "transition"


def zone(nominal_mm: float, name: str) -> Zone:
    """Between which deviations lies such a hole or shaft?

    Shafts d to h hang from their upper deviation, k to s stand on their lower one, js lies evenly to both sides. Holes
    are their mirror; K to N up to grade 8 and P to S up to grade 7 stand Δ = IT(n) − IT(n − 1) higher.

    >>> [(one.lower_um, one.upper_um) for one in (zone(25, "g6"), zone(40, "H7"), zone(25, "K7"))]
    [(-20.0, -7.0), (0.0, 25.0), (-15.0, 6.0)]

    Range: over 0 to 500 mm, grades 5 to 14. Raises NotUnderstood for letters, grades or sizes that are not here.
    Source: ISO 286-1:1988 and 2010, tables 1 to 3 and rules for holes, from memory; checked against the zones and
    pairs of tests/outside/fits.toml and the formula of each grade.
    """
    if not 0 < nominal_mm <= LARGEST_MM:
        raise NotUnderstood(f"{plain(nominal_mm)} mm: sizes over 0 up to {plain(LARGEST_MM)} mm are here.")
    letters, grade = _parted(name)
    wide, letter = _width(nominal_mm, grade), letters.lower()
    if letter == "js":
        return Zone(nominal_mm, f"{letters}{grade}", -wide / 2, wide / 2)
    deviation = _deviation(nominal_mm, letter, grade)
    if letters.islower():
        ends = (deviation - wide, deviation) if letter <= "h" else (deviation, deviation + wide)
    elif letter <= "h":
        ends = (0.0 - deviation, wide - deviation)
    else:
        upper = _upper_of_hole(nominal_mm, letter, grade, deviation)
        ends = (upper - wide, upper)
    return Zone(nominal_mm, f"{letters}{grade}", *ends)


def fit_said(text: str) -> tuple[Zone, ...]:
    """What was typed: “25 g6”, “40 H7”, or a pair “25 H7/g6”; the hole first.

    >>> [one.name for one in fit_said("25 h6/H7")]
    ['H7', 'h6']

    Raises NotUnderstood with the mend.
    """
    found = _NAMED.match(text)
    if not found:
        raise NotUnderstood(f"“{text}” is no fit; write size, letters and grade, for example 25 H7/g6.")
    nominal_mm = read_number(found[1])
    zones = [zone(nominal_mm, each) for each in re.split(r"[/\s]+", found[2].strip())]
    if len(zones) > 2:
        raise NotUnderstood(f"“{text}” names {len(zones)} of them; write one, or a hole and a shaft as in 25 H7/g6.")
    if len(zones) == 2 and zones[0].is_hole == zones[1].is_hole:
        both = "holes" if zones[0].is_hole else "shafts"
        raise NotUnderstood(f"“{text}” names two {both}; capital letters are holes, small ones shafts: 25 H7/g6.")
    return tuple(sorted(zones, key=lambda one: not one.is_hole))


def _parted(name: str) -> tuple[str, int]:
    found = _ZONE.match(name)
    letters = found[1] if found else ""
    if not found or letters.lower() not in LETTERS or not (letters.islower() or letters.isupper()):
        raise NotUnderstood(f"“{name}” is no tolerance here; write {one_of(LETTERS)}, capital for holes.")
    grade = int(found[2])
    if grade not in GRADES:
        raise NotUnderstood(f"“{name}”: grades {GRADES[0]} to {GRADES[-1]} are here.")
    return letters, grade


def _width(nominal_mm: float, grade: int) -> float:
    """The width of a grade [µm]; grade 4, which only Δ asks for, is 1.6 steps of five below grade 5 in the table."""
    row = _row("iso-286-grades.csv", nominal_mm)
    return float(row[f"IT{grade}"]) if grade > 4 else _IT4[_steps().index(float(row["to_mm"]))]


# IT4 [µm], for the deviations of holes of grade 5 (from memory, as the table).
_IT4 = (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20)


@cache
def _steps() -> tuple[float, ...]:
    return tuple(float(row["to_mm"]) for row in rows("iso-286-grades.csv"))


@cache
def _table(table: str) -> tuple[dict[str, str], ...]:
    return tuple(rows(table))


def _row(table: str, nominal_mm: float) -> dict[str, str]:
    return next(row for row in _table(table) if nominal_mm <= float(row["to_mm"]))


def _deviation(nominal_mm: float, letter: str, grade: int) -> float:
    """The fundamental deviation of a shaft [µm]; k has one only from grade 4 to 7."""
    if letter == "k" and grade > 7:
        return 0.0
    return float(_row("iso-286-shafts.csv", nominal_mm)[letter])


def _upper_of_hole(nominal_mm: float, letter: str, grade: int, deviation: float) -> float:
    """The upper deviation of a hole K to S [µm]."""
    finest = 8 if letter in {"k", "m", "n"} else 7
    if letter == "k" and grade > 8:
        raise NotUnderstood(f"K{grade}: K is there up to grade 8.")
    if letter == "n" and grade > 8:
        return 0.0 if nominal_mm > 3 else -deviation
    if letter == "k":
        deviation = float(_row("iso-286-shafts.csv", nominal_mm)["k"])
    if grade > finest or nominal_mm <= 3:
        return -deviation
    if letter == "m" and grade == 6 and 250 < nominal_mm <= 315:
        return -9.0  # the standard's own exception
    return -deviation + _width(nominal_mm, grade) - _width(nominal_mm, grade - 1)
