"""How far a sound thread may lie from its basic sizes: the formulas of each standard, rounded as it rounds them."""

import math
from functools import cache
from typing import NamedTuple

from fingertight.tighten.tables import rows

# ISO 965-1, table 4: basic diameters over … up to and including … [mm].
_RANGES_MM = ((0.99, 1.4), (1.4, 2.8), (2.8, 5.6), (5.6, 11.2), (11.2, 22.4), (22.4, 45.0), (45.0, 90.0))
# ISO 3, the R 40 series of preferred numbers, one decade.
_R40 = (
    100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
    315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950, 1000,
)  # fmt: skip


class Tolerances(NamedTuple):
    """How far limits lie from basic sizes, all positive, in the unit of the standard (mm for ISO, inch for the others).

    allowance: how far the largest bolt lies under the basic sizes. crest, pitch, root: the tolerance of a bolt's
    outside, pitch and root diameter (None: the standard gives none). nut_pitch, nut_crest: of a nut's pitch and minor
    diameter.
    """

    allowance: float
    crest: float
    pitch: float
    root: float | None
    nut_pitch: float
    nut_crest: float


def preferred(micrometres: float) -> int:
    """Which number of the R 40 series is nearest, in whole micrometres (a half to the even, as it prints)?

    micrometres: a tolerance by formula [µm], above 0. Returns the nearest preferred number [µm].

    >>> preferred(176.85), preferred(28.75)
    (180, 28)

    Raises ValueError for 0 or less.
    Source: ISO 965-1:1998, clause 13 (rounding), ISO 3 (series R 40).
    """
    if not micrometres > 0:
        raise ValueError("a tolerance is above 0")
    decade = 10.0 ** (math.floor(math.log10(micrometres)) - 2)
    return round(min(_R40, key=lambda number: abs(number * decade - micrometres)) * decade)


@cache
def iso_tolerances(diameter_mm: float, pitch_mm: float) -> Tolerances:
    """How far may an ISO thread 6g/6H lie from its basic sizes (up to 1.4 mm: 6h/5H)?

    es = 15 + 11 P; Td(6) = 180 ∛P² − 3.15/√P; Td2(6) = 90 P^0.4 d^0.1; TD2(6) = 1.32 Td2(6), TD2(5) = 1.06 Td2(6);
    TD1(6) = 230 P^0.7 from P = 1 and 433 P − 190 P^1.22 below, TD1(5) = 0.8 TD1(6); all in µm, P and d in mm, d the
    geometric mean of the diameter range, each rounded to the R 40 series. Where the standard's own tables depart from
    that, its tables hold (tables/iso-965-1.csv).

    diameter_mm: 0.99 to 90 [mm]. pitch_mm: above 0 [mm]. Returns the tolerances [mm], without one for the root.

    >>> tolerances = iso_tolerances(6, 1)
    >>> tolerances.allowance, tolerances.crest, tolerances.pitch, tolerances.nut_pitch, tolerances.nut_crest
    (0.026, 0.18, 0.112, 0.15, 0.236)

    Raises ValueError for a diameter outside the ranges of the standard.
    Source: ISO 965-1:1998, clause 13, tables 1 and 3 to 5; ISO 965-2 (6h/5H up to 1.4 mm). Checked against a reprint of
    the limits of 69 threads (tests/outside/thread-limits.csv).
    """
    small, large = _range_of(diameter_mm)
    bolt = 90 * pitch_mm**0.4 * math.sqrt(small * large) ** 0.1
    nut = 230 * pitch_mm**0.7 if pitch_mm >= 1 else 433 * pitch_mm - 190 * pitch_mm**1.22
    fine = large <= 1.4

    def tabled(symbol: str, formula: float, over: float | None = None) -> float:
        key = (symbol, over, pitch_mm)
        return _departures().get(key, preferred(formula)) / 1000

    return Tolerances(
        allowance=0.0 if fine else tabled("es_g", 15 + 11 * pitch_mm),
        crest=tabled("Td_6", 180 * pitch_mm ** (2 / 3) - 3.15 / math.sqrt(pitch_mm)),
        pitch=tabled("Td2_6", bolt, small),
        root=None,
        nut_pitch=tabled("TD2_5", 1.06 * bolt, small) if fine else tabled("TD2_6", 1.32 * bolt, small),
        nut_crest=tabled("TD1_5", 0.8 * nut) if fine else tabled("TD1_6", nut),
    )


def unified_tolerances(diameter_in: float, pitch_in: float) -> Tolerances:
    """How far may a Unified thread 2A/2B lie from its basic sizes?

    Td2 = 0.0015 ∛D + 0.0015 √D + 0.015 ∛P²; es = 0.3 Td2; Td = 0.06 ∛P²; TD2 = 1.3 Td2; TD1 = 0.25 P − 0.4 P² from
    1/4 in, 0.15 P from 1/4 in where coarser than 4 to the inch, and below 1/4 in 0.05 ∛P² + 0.03 P/D − 0.002 but no
    less than 0.25 P − 0.4 P² and no more than 0.394 P.

    diameter_in: D [in], above 0; the length of engagement is taken as D, as the standard's tables for UNC and UNF do.
    pitch_in: P [in], above 0. Returns the tolerances [in], each rounded to 0.0001, without one for the root.

    >>> tolerances = unified_tolerances(0.25, 1 / 20)
    >>> tolerances.allowance, tolerances.crest, tolerances.pitch, tolerances.nut_pitch, tolerances.nut_crest
    (0.0011, 0.0081, 0.0037, 0.0049, 0.0115)

    Raises ValueError for 0 or less.
    Source: ASME B1.1-2003, clause 5. Checked against reprints of its tables (tests/outside/thread-limits.csv).
    """
    if not (diameter_in > 0 and pitch_in > 0):
        raise ValueError("diameter and pitch are above 0")
    steep = pitch_in ** (2 / 3)
    # The standard carries six decimals; 1/4-20 needs them to come out as it is printed.
    bolt = round(0.0015 * diameter_in ** (1 / 3) + 0.0015 * math.sqrt(diameter_in) + 0.015 * steep, 6)
    least = 0.25 * pitch_in - 0.4 * pitch_in**2
    if diameter_in >= 0.25:
        nut = least if pitch_in <= 0.25 else 0.15 * pitch_in
    else:
        nut = 0.05 * steep + 0.03 * pitch_in / diameter_in - 0.002
        nut = min(max(nut, least), 0.394 * pitch_in)
    return Tolerances(
        allowance=round(0.3 * bolt, 4),
        crest=round(0.06 * steep, 4),
        pitch=round(bolt, 4),
        root=None,
        nut_pitch=round(1.3 * bolt, 4),
        nut_crest=round(nut, 4),
    )


def whitworth_tolerances(diameter_in: float, pitch_in: float) -> Tolerances:
    """How far may a British Standard Whitworth thread of the medium class lie from its basic sizes?

    T = 0.002 ∛D + 0.003 √D + 0.005 √P. Bolts: outside T + 0.01 √P, effective T, root T + 0.02 √P. Nuts: effective T,
    core 0.2 P + 0.004 (26 to the inch and finer), + 0.005 (22 and 24), + 0.007 (20 and coarser).

    diameter_in: D [in], above 0; the length of engagement is taken as D. pitch_in: P [in], above 0. Returns the
    tolerances [in], each rounded to 0.0001.

    >>> tolerances = whitworth_tolerances(0.25, 1 / 20)
    >>> tolerances.crest, tolerances.pitch, tolerances.nut_pitch, tolerances.nut_crest
    (0.0061, 0.0039, 0.0039, 0.017)

    Raises ValueError for 0 or less.
    Source: BS 84:2007, formulas as reprinted in a public description of the standard; the note that bolts up to 3/4 in
    may be thinner for plating is left out. No table of limits was at hand to check them against.
    """
    if not (diameter_in > 0 and pitch_in > 0):
        raise ValueError("diameter and pitch are above 0")
    root = math.sqrt(pitch_in)
    basic = 0.002 * diameter_in ** (1 / 3) + 0.003 * math.sqrt(diameter_in) + 0.005 * root
    per_inch = 1 / pitch_in
    more = 0.004 if per_inch > 25 else 0.005 if per_inch > 21 else 0.007
    return Tolerances(
        allowance=0.0,
        crest=round(basic + 0.01 * root, 4),
        pitch=round(basic, 4),
        root=round(basic + 0.02 * root, 4),
        nut_pitch=round(basic, 4),
        nut_crest=round(0.2 * pitch_in + more, 4),
    )


def _range_of(diameter_mm: float) -> tuple[float, float]:
    for over, up_to in _RANGES_MM:
        if over < diameter_mm <= up_to:
            return over, up_to
    raise ValueError("ISO 965-1 is worked out here for diameters from 1 to 90 mm")


@cache
def _departures() -> dict[tuple[str, float | None, float], int]:
    """Where the standard's tables are not its rounded formula: symbol, start of the diameter range, pitch."""
    return {
        (
            row["symbol"],
            float(row["diameter_over_mm"]) if row["diameter_over_mm"] else None,
            float(row["pitch_mm"]),
        ): int(row["micrometres"])
        for row in rows("iso-965-1.csv")
    }
