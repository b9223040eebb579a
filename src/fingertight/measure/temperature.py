"""What warmth does to a size: sizes hold at 20 °C (ISO 1), and part and instrument grow differently."""

from dataclasses import dataclass
from functools import cache

from fingertight.measure.tables import rows

REFERENCE_C = 20.0
THERMOMETER_C = 1.0
"""How far a workshop's thermometer may be off (common practice, no source)."""
LONG_MM = 5.0
"""From here on a part that is 10 degrees warm has grown by half a micrometre or more; below nobody need ask."""
APART_C = 1.0
"""How far part and instrument may differ, after lying beside each other for a while (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Expansion:
    """How a material grows, and how far that may be off [both per °C]."""

    per_c: float
    limits_per_c: float = 0.0


def expansion_of(material: str) -> Expansion:
    """How does this material grow when it gets warmer?

    >>> expansion_of("aluminium").per_c
    2.31e-05

    Source: tables/expansion.csv. Raises KeyError for a material that is not in it.
    """
    return _expansions()[material]


@cache
def _expansions() -> dict[str, Expansion]:
    return {
        row["material"]: Expansion(round(float(row["per_c_e6"]) * 1e-6, 9), round(float(row["limits_e6"]) * 1e-6, 9))
        for row in rows("expansion.csv")
    }


def materials() -> tuple[str, ...]:
    """The materials there are."""
    return tuple(_expansions())


def grown(size: float, per_c: float, by_c: float) -> float:
    """What becomes of a size when its part gets warmer by so much: L (1 + α ΔT) [as the size].

    >>> round(grown(68.0, 23.1e-6, 100), 3)
    68.157

    Source: linear expansion, any text on heat; ISO 1 for 20 °C.
    """
    return size * (1 + per_c * by_c)


def at_20_c(
    read: float, part: Expansion, instrument: Expansion, temperature_c: float, instrument_c: float | None = None
) -> float:
    """What would be read if part and instrument were both at 20 °C? [as read]

    read · (1 + α_instrument ΔT) / (1 + α_part ΔT): a warm steel micrometer reads a warm steel part right.
    temperature_c: of the part; instrument_c: of the instrument, as warm as the part where it is not known.

    >>> round(68.0 - at_20_c(68.0, expansion_of("aluminium"), expansion_of("steel"), 35), 4)
    0.0118

    Source: GUM (JCGM 100:2008) H.1.2; Swyt, J. Res. NIST 99 (1994) 31; ISO 1.
    """
    by_c = temperature_c - REFERENCE_C
    tool_by_c = by_c if instrument_c is None else instrument_c - REFERENCE_C
    return read * (1 + instrument.per_c * tool_by_c) / (1 + part.per_c * by_c)


def gap_when_warm(
    outer: float, inner: float, outer_per_c: float, inner_per_c: float, *, by_c: float, inner_by_c: float | None = None
) -> float:
    """What becomes of the clearance of two sizes when they get warmer by so much, each by its own growth? [as given]

    outer, inner: both at the temperature they start from. inner_by_c: where the inner part gets warmer by more.

    >>> round(gap_when_warm(81.5, 80.0, 10e-6, 19e-6, by_c=105) / 2, 3)
    0.713

    Source: linear expansion; the example is an engineering-science exercise, read in a public forum copy.
    """
    return grown(outer, outer_per_c, by_c) - grown(inner, inner_per_c, by_c if inner_by_c is None else inner_by_c)
