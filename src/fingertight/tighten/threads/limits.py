"""Between which sizes a sound bolt and a sound nut or tapped hole measure, by the tolerance class usual for each."""

import math
from functools import cache
from typing import NamedTuple

from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names import INCH_MM, Thread
from fingertight.tighten.threads.tolerances import (
    Tolerances,
    iso_tolerances,
    unified_tolerances,
    whitworth_tolerances,
)

Span = tuple[float, float]


class BoltLimits(NamedTuple):
    """A sound bolt: its tolerance class, and the least and largest outside, pitch and root diameter [mm]."""

    tolerance: str
    major_mm: Span
    pitch_mm: Span
    minor_mm: Span


class NutLimits(NamedTuple):
    """A sound nut or tapped hole: its tolerance class, the least and largest pitch and minor diameter [mm].

    minor_mm is the bore over the crests, what a caliper measures inside. major_min_mm: the least diameter at the root.
    """

    tolerance: str
    pitch_mm: Span
    minor_mm: Span
    major_min_mm: float


@cache
def bolt_limits(thread: Thread) -> BoltLimits:
    """Between which sizes does a sound bolt of this thread measure?

    ISO threads 6g (up to 1.4 mm 6h), UNC and UNF 2A, BSW medium, G class A. With the tolerances of tolerances.py:
    outside d − es − Td … d − es, pitch d2 − es − Td2 … d2 − es. Root, ISO: from a rounding of P/8 under the least
    flanks to one of H/6 under the largest; Unified (UNR): d − es − 11/8 H … and d2 − es − Td2 − 3/4 H.

    thread: one of the tables. Returns the limits [mm], before plating or paint; wear comes off the outside first.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> limits = bolt_limits(thread_named("M6"))
    >>> [round(size, 3) for size in (*limits.major_mm, *limits.pitch_mm, *limits.minor_mm)]
    [5.794, 5.974, 5.212, 5.324, 4.596, 4.747]

    Raises ValueError for a metric thread above 90 mm (none is in the tables).
    Source: ISO 965-1:1998, ASME B1.1-2003, BS 84:2007, ISO 228-1:2000; checked as named in tolerances.py, ISO 228-1
    against bd-warehouse's table.
    """
    pitch = thread.pitch_mm
    if thread.series in {"coarse", "fine"}:
        by = iso_tolerances(thread.diameter_mm, pitch)
        major, middle = _under(thread, by)
        # ISO 68-1: the sharp V ends H/2 of radius under the flanks' middle; a rounding R bottoms out R above its point.
        sharp = 0.866025 * pitch
        root = (middle[0] - sharp + 0.25 * pitch, thread.minor_external_mm - by.allowance)
        return BoltLimits("6h" if by.allowance == 0 else "6g", major, middle, root)
    if thread.series in {"UNC", "UNF"}:
        by = _in_mm(unified_tolerances(thread.diameter_mm / INCH_MM, pitch / INCH_MM))
        major, middle = _under(thread, by)
        return BoltLimits("2A", major, middle, (middle[0] - 0.649519 * pitch, major[1] - 1.190785 * pitch))
    by = _of_whitworth_form(thread)
    major, middle = _under(thread, by)
    least_root = thread.minor_external_mm - (by.root if by.root is not None else by.crest)
    return BoltLimits(_class_of(thread)[0], major, middle, (least_root, thread.minor_external_mm))


@cache
def nut_limits(thread: Thread) -> NutLimits:
    """Between which sizes does a sound nut or tapped hole of this thread measure?

    ISO threads 6H (up to 1.4 mm 5H), UNC and UNF 2B, BSW medium, G. Pitch D2 … D2 + TD2, minor D1 … D1 + TD1, with the
    tolerances of tolerances.py; Unified minor diameters to 0.001 in from #6 up, as the standard's tables print them.

    thread: one of the tables. Returns the limits [mm].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> limits = nut_limits(thread_named("1/4-20 UNC"))
    >>> round(limits.pitch_mm[1] / 25.4, 4), [round(bore / 25.4, 3) for bore in limits.minor_mm]
    (0.2224, [0.196, 0.207])

    Raises ValueError for a metric thread above 90 mm (none is in the tables).
    Source and checks: as for `bolt_limits`.
    """
    if thread.series in {"coarse", "fine"}:
        by = iso_tolerances(thread.diameter_mm, thread.pitch_mm)
        return _over(thread, by, "5H" if by.allowance == 0 else "6H")
    if thread.series in {"UNC", "UNF"}:
        by = _in_mm(unified_tolerances(thread.diameter_mm / INCH_MM, thread.pitch_mm / INCH_MM))
        limits = _over(thread, by, "2B")
        places = 3 if thread.diameter_mm / INCH_MM >= 0.138 else 4
        least, most = (_half_up(bore / INCH_MM, places) * INCH_MM for bore in limits.minor_mm)
        return NutLimits("2B", limits.pitch_mm, (least, most), limits.major_min_mm)
    return _over(thread, _of_whitworth_form(thread), _class_of(thread)[1])


def _under(thread: Thread, by: Tolerances) -> tuple[Span, Span]:
    """Outside and pitch diameter of a bolt: from the basic size less the allowance downwards."""
    major, middle = thread.diameter_mm - by.allowance, _printed_mm(thread, thread.pitch_diameter_mm) - by.allowance
    return (major - by.crest, major), (middle - by.pitch, middle)


def _over(thread: Thread, by: Tolerances, tolerance: str) -> NutLimits:
    """Pitch and minor diameter of a nut: from the basic size upwards."""
    middle, bore = _printed_mm(thread, thread.pitch_diameter_mm), _printed_mm(thread, thread.minor_internal_mm)
    return NutLimits(tolerance, (middle, middle + by.nut_pitch), (bore, bore + by.nut_crest), thread.diameter_mm)


def _printed_mm(thread: Thread, basic_mm: float) -> float:
    """A basic size as the standard prints it: the limits of inch threads start from four decimals of an inch."""
    return _half_up(basic_mm / INCH_MM, 4) * INCH_MM if thread.series in {"UNC", "UNF", "BSW"} else basic_mm


def _half_up(inches: float, places: int) -> float:
    """Rounded as ASME B1.1 rounds its limits: 1.5335 is 1.534."""
    scale = 10.0**places
    return math.floor(inches * scale + 0.5 + 1e-6) / scale


def _of_whitworth_form(thread: Thread) -> Tolerances:
    if thread.series == "BSW":
        return _in_mm(whitworth_tolerances(thread.diameter_mm / INCH_MM, thread.pitch_mm / INCH_MM))
    return _pipe_tolerances()[thread.size]


@cache
def _pipe_tolerances() -> dict[str, Tolerances]:
    """The tolerances of ISO 228-1 by the size [mm]."""
    found = {}
    for row in rows("iso-228-1.csv"):
        pitch, crest, bore = (float(row[f"{name}_tolerance_mm"]) for name in ("pitch", "major", "minor"))
        found[row["size"]] = Tolerances(0.0, crest, pitch, None, pitch, bore)
    return found


def _class_of(thread: Thread) -> tuple[str, str]:
    return ("A", "ISO 228-1") if thread.series == "G" else ("medium", "medium")


def _in_mm(by: Tolerances) -> Tolerances:
    """The same tolerances, from inches to mm."""
    root = None if by.root is None else by.root * INCH_MM
    sizes = (size * INCH_MM for size in (by.allowance, by.crest, by.pitch, by.nut_pitch, by.nut_crest))
    allowance, crest, pitch, nut_pitch, nut_crest = sizes
    return Tolerances(allowance, crest, pitch, root, nut_pitch, nut_crest)
