"""Threads that are real, but stand in no table of sizes here: taper pipe threads, British Association, British Fine."""

import re
from functools import cache
from typing import NamedTuple

from fingertight.quantity import plain
from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names.table import INCH_MM, spaced, threads

# ISO 7-1 and ASME B1.20.1: the diameter grows by 1 in 16 along the thread.
TAPER = 1 / 16
_LAST_BA = 25

# As in spelling.py: patterns as text, compiled where they are first used.
_INCHES = r"([0-9]{1,2}(?:[ -][0-9]{1,2}(?=/))?(?:/[0-9]{1,2})?)\s*(?:\"|in\b)?"
_TAPERED = rf"(?:(R[cp]?|NPTF?|BSPT[rR]?)\s*{_INCHES}|{_INCHES}(?:\s*-\s*[0-9.]+)?\s*-?\s*(R[cp]?|NPTF?|BSPT[rR]?))\Z"
_BRITISH_FINE = rf"(?:BSF\s*{_INCHES}|{_INCHES}(?:\s*-\s*[0-9]+)?\s*-?\s*BSF)(?:\s*-?\s*[0-9]+)?\Z"
_ASSOCIATION = r"(?:No\.?\s*)?(?:([0-9]{1,2})\s*-?\s*BA|BA\s*(?:No\.?\s*)?([0-9]{1,2}))\Z"


class TaperPipe(NamedTuple):
    """A taper pipe thread for outside: its name, the parallel one of the same size, what it measures, its standard.

    least_mm, most_mm: over the crests at the thin end, and where the useful thread ends [mm].
    """

    name: str
    parallel: str
    least_mm: float
    most_mm: float
    threads_per_inch: float
    source: str


@cache
def taper_pipes() -> tuple[TaperPipe, ...]:
    """Which taper pipe threads are there up to 2 in, and what does a caliper read over them along their length?

    R: from d − a/16 to d + (l − a)/16, d the gauge diameter, a the gauge length, l the useful length. NPT: from
    D − L2/16 to D, D the outside of the pipe, L2 the effective length.

    Returns them with their sizes [mm], R first. They hold for a sound thread over its crests; the first one or two are
    often chamfered and read less.

    >>> [(one.name, one.parallel, round(one.least_mm, 2), round(one.most_mm, 2)) for one in taper_pipes()[1:2]]
    [('R1/8', 'G1/8', 9.48, 9.88)]

    Raises nothing.
    Source: ISO 7-1, ASME B1.20.1 (tables/iso-7-1.csv and asme-b1.20.1.csv say how they were read). The gauge diameters
    were checked against those of ISO 228-1, which are the same (tests/tighten/test_elsewhere.py).
    """
    found = []
    for row in rows("iso-7-1.csv"):
        gauge, length, useful = (float(row[name]) for name in ("gauge_diameter_mm", "gauge_length_mm", "useful_mm"))
        span = gauge - TAPER * length, gauge + TAPER * (useful - length)
        found.append(TaperPipe(f"R{row['size']}", f"G{row['size']}", *span, float(row["threads_per_inch"]), "ISO 7-1"))
    for row in rows("asme-b1.20.1.csv"):
        outside, effective = float(row["outside_in"]) * INCH_MM, float(row["effective_in"]) * INCH_MM
        span, per_inch = (outside - TAPER * effective, outside), float(row["threads_per_inch"])
        found.append(TaperPipe(f"{row['size']} NPT", f"G{row['size']}", *span, per_inch, "ASME B1.20.1"))
    return tuple(found)


def association_size(number: int) -> tuple[float, float]:
    """How thick is a British Association thread, and what is its pitch? P = 0.9ⁿ, d = 6 P^1.2, to two digits each

    number: n, 0 to 25. Returns diameter and pitch [mm].

    >>> association_size(2)
    (4.7, 0.81)

    Raises ValueError for another number.
    Source: BS 93, as two public descriptions have it; checked against a table of 0 to 12 BA in inches
    (tests/tighten/test_elsewhere.py).
    """
    if not 0 <= number <= _LAST_BA:
        raise ValueError("British Association threads are numbered 0 to 25")
    pitch_mm = float(f"{0.9**number:.2g}")
    return float(f"{6 * pitch_mm**1.2:.2g}"), pitch_mm


def named_elsewhere(text: str) -> tuple[str, tuple[str, ...]] | None:
    """What is there to say of a thread that is real, but stands in no table here? None where it is none of them.

    text: as typed, in any case. Returns a sentence that says what it is, and the threads of the tables that have its
    size; none of these fits it, and for a taper pipe thread, which seals on its thread, none is listed.

    >>> named_elsewhere("1/8 NPT")[0].partition(":")[0]
    '“1/8 NPT” is a taper pipe thread, which seals on its thread'
    >>> named_elsewhere("1/4 BSF")[1], named_elsewhere("M6")
    (('1/4-20 BSW', '1/4-20 UNC', '1/4-28 UNF'), None)

    Raises nothing.
    Source: ISO 7-1, ASME B1.20.1, BS 93, BS 1083 (threads to the inch of BSF).
    """
    typed = " ".join(text.split())
    if tapered := re.match(_TAPERED, typed, re.IGNORECASE):
        before, size, other, behind = tapered.groups()
        return _taper_said(typed, (before or behind).upper(), spaced(size or other)), ()
    if fine := re.match(_BRITISH_FINE, typed, re.IGNORECASE):
        size = spaced(fine[1] or fine[2])
        same = tuple(one.name for one in threads().values() if one.size == size and one.series != "G")
        same = tuple(sorted(same, key=lambda name: not name.endswith("BSW")))
        per_inch = {row["size"]: row["threads_per_inch"] for row in rows("bs-1083-fine.csv")}
        pitch = f" with {per_inch[size]} threads to the inch" if size in per_inch else ""
        beside = f" Of that size are {', '.join(same)}; none of them fits it." if same else ""
        return f"“{typed}” is a British Standard Fine thread{pitch}: it is not in these tables.{beside}", same
    if small := re.match(_ASSOCIATION, typed, re.IGNORECASE):
        number = int(small[1] or small[2])
        if number <= _LAST_BA:
            diameter_mm, pitch_mm = association_size(number)
            return (
                f"“{typed}” is a British Association thread, {plain(diameter_mm)} mm over its thread with a pitch of "
                f"{plain(pitch_mm)} mm and flanks of 47.5° (BS 93): it is not in these tables, and no thread that is "
                "in them fits it."
            ), ()
    return None


def _taper_said(typed: str, kind: str, size: str) -> str:
    """That it is one, and the parallel thread of the same size, which is another."""
    is_parallel = kind == "RP"  # ISO 7-1: parallel in the hole, for a taper thread to seal in
    what = "takes a taper pipe thread, which" if is_parallel else "is a taper pipe thread, which"
    said = f"“{typed}” {what} seals on its thread: it is not in these tables."
    parallel = threads().get(f"G{size}")
    if parallel is None:
        return said
    wanted = f"{size} NPT" if kind.startswith("NPT") else f"R{size}"
    pitch = ""
    for taper in taper_pipes():
        if taper.name == wanted and taper.threads_per_inch != parallel.threads_per_inch:
            per_inch = plain(parallel.threads_per_inch), plain(taper.threads_per_inch)
            pitch = f" ({per_inch[0]} threads to the inch, where NPT has {per_inch[1]})"
    return f"{said} The parallel pipe thread of that size is {parallel.name}{pitch}; never force the two together."
