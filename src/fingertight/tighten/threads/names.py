"""A thread by its name: "M6", "M6x0.75", "1/4-20 UNC", "#10-24", "1/4-20 BSW", "G1/4"."""

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from fingertight.quantity import plain
from fingertight.tighten.tables import rows

INCH_MM = 25.4
SERIES: dict[str, str] = {
    "coarse": "ISO metric, coarse pitch",
    "fine": "ISO metric, fine pitch",
    "UNC": "Unified coarse (UNC)",
    "UNF": "Unified fine (UNF)",
    "BSW": "British Standard Whitworth (BSW)",
    "G": "ISO pipe thread, parallel (G)",
}
# Patterns as text: `re` compiles each where it is first used and keeps it, so a start needs only the one it uses.
_METRIC = r"M\s*([0-9]+(?:[.,][0-9]+)?)(?:\s*[xX×*-]\s*([0-9]+(?:[.,][0-9]+)?))?(?: coarse)?\Z"
_INCH = (
    r"(?:(UNC|UNF|BSW|W)\s*)?((?:#|No\.?\s*)?[0-9]+(?:[ -][0-9]+(?=/))?(?:/[0-9]+)?)\s*(?:\"|in\b)?"
    r"(?:\s*[-xX×]\s*([0-9]+(?:\.[0-9]+)?))?\s*-?\s*(UNC|UNF|UN|BSW|W)?\Z"
)
_PIPE = r"(?:G|BSPP?)\s*([0-9]+(?:[ -][0-9]+)?(?:/[0-9]+)?)(?:-[0-9]+)?\Z|([0-9 /-]+?)\s*(?:G|BSPP?)\Z"
# A tolerance class behind the name says how closely it is made, not which thread it is.
_CLASS = r"(?<=[0-9A-Z])\s*(?:[- ]\s*(?:[456][gh][456]?[gh]?|[4-7]H)|[- ]?\s*(?<![0-9])[123][AB])\Z"
_PIPE_CLASS = r"((?:G|BSPP?)\s*[0-9 /-]*[0-9])\s*[AB]\Z"
# Taper pipe threads seal on the thread itself: naming a parallel one of the same size as "near" would mislead.
_TAPERED = r"\bR[cp]?\s*[0-9]|NPTF?\b|BSPT\b"


class NoSuchThread(ValueError):
    """No table here has this thread; the message names the nearest that exist, and `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...]) -> None:
        meant = f"; the nearest are {', '.join(nearest)}" if nearest else '; write for example "M6" or "1/4-20 UNC"'
        super().__init__(f"There is no thread “{typed}” in the tables{meant}.")
        self.nearest = nearest


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread of a published series, with the basic sizes that follow from its diameter and pitch.

    ISO and Unified threads have the 60° profile of ISO 68-1, BSW and G the 55° Whitworth profile.
    """

    name: str
    size: str
    series: str
    diameter_mm: float
    pitch_mm: float

    @property
    def _depth(self) -> tuple[float, float, float]:
        """How far pitch, nut minor and bolt root diameter lie below the diameter, in pitches."""
        if self.series in {"BSW", "G"}:
            return 0.640327, 1.280654, 1.280654  # BS 84: depth 0.640327 P, the same for bolt and nut
        # ISO 724: H = 0.866025 P; d − 3/4 H, d − 5/4 H, d − 17/12 H
        height = math.sqrt(3) / 2
        return 0.75 * height, 1.25 * height, 17 / 12 * height

    @property
    def flank_angle_deg(self) -> int:
        """Angle between the flanks [deg]: 60 for ISO and Unified threads (ISO 68-1, ASME B1.1), 55 by BS 84 (BSW, G).

        >>> thread_named("M6").flank_angle_deg, thread_named("G1/8").flank_angle_deg
        (60, 55)
        """
        return 55 if self.series in {"BSW", "G"} else 60

    @property
    def threads_per_inch(self) -> float:
        """How many threads there are to the inch: 25.4 / P.

        >>> round(thread_named("M6").threads_per_inch, 1), thread_named("1/4-20 UNC").threads_per_inch
        (25.4, 20.0)
        """
        return round(INCH_MM / self.pitch_mm, 6)

    @property
    def pitch_diameter_mm(self) -> float:
        """Basic pitch diameter d2 [mm]: d − 0.6495 P for 60° threads (ISO 724, ASME B1.1).

        >>> round(thread_named("M6").pitch_diameter_mm, 3)
        5.35
        """
        return self.diameter_mm - self._depth[0] * self.pitch_mm

    @property
    def minor_internal_mm(self) -> float:
        """Basic minor diameter D1 of the nut thread [mm]: d − 1.0825 P for 60° threads (ISO 724, ASME B1.1).

        >>> round(thread_named("M6").minor_internal_mm, 3)
        4.917
        """
        return self.diameter_mm - self._depth[1] * self.pitch_mm

    @property
    def minor_external_mm(self) -> float:
        """Diameter d3 at the root of the bolt thread [mm]: d − 1.2269 P for 60° threads (ISO 724).

        >>> round(thread_named("M6").minor_external_mm, 3)
        4.773
        """
        return self.diameter_mm - self._depth[2] * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """Nominal tensile stress area [mm²] of a bolt.

        ISO 898-1 (ISO threads; here also BSW and G): π/4 · ((d2 + d3)/2)². ASME B1.1 (UNC, UNF): π/4 · (d − 0.9743 P)²,
        at most 2.2 % less for the same diameter and pitch.

        >>> round(thread_named("M8").stress_area_mm2, 1), round(thread_named("1/4-20 UNC").stress_area_mm2, 1)
        (36.6, 20.5)
        """
        if self.series in {"UNC", "UNF"}:
            return math.pi / 4 * (self.diameter_mm - 0.9743 * self.pitch_mm) ** 2
        return math.pi / 4 * ((self.pitch_diameter_mm + self.minor_external_mm) / 2) ** 2


@cache
def threads() -> dict[str, Thread]:
    """Every thread of the tables under its name, as they stand there.

    >>> threads()["M8x1"].pitch_mm
    1.0
    """
    found = []
    for row in rows("iso-261.csv"):
        size, pitch = f"M{plain(float(row['diameter_mm']))}", float(row["pitch_mm"])
        name = size if row["series"] == "coarse" else f"{size}x{plain(pitch)}"
        found.append(Thread(name, size, row["series"], float(row["diameter_mm"]), pitch))
    for row in [*rows("asme-b1.1.csv"), *rows("bs-84.csv")]:
        per_inch, size = row["threads_per_inch"], row["size"]
        diameter, pitch = float(row["diameter_in"]) * INCH_MM, INCH_MM / float(per_inch)
        found.append(Thread(f"{size}-{per_inch} {row['series']}", size, row["series"], diameter, pitch))
    for row in rows("iso-228-1.csv"):
        pitch = INCH_MM / float(row["threads_per_inch"])
        found.append(Thread(f"G{row['size']}", row["size"], "G", float(row["diameter_mm"]), pitch))
    return {thread.name: thread for thread in found}


@cache
def _spellings() -> dict[str, Thread]:
    """Every way a thread may be written, once spaces and the sign × are evened out; the first series wins."""
    spelt: dict[str, Thread] = {}
    for thread in threads().values():
        names = [thread.name]
        if thread.series in {"coarse", "fine"}:
            names.append(f"{thread.size}x{plain(thread.pitch_mm)}")
        elif thread.series != "G":
            names += [thread.name.split(f" {thread.series}")[0], f"{thread.size} {thread.series}"]
        for name in names:
            spelt.setdefault(name, thread)
    return spelt


def _evened(typed: str) -> str:
    """The text with its spaces and signs as `_spellings` writes them, without a tolerance class."""
    text = " ".join(typed.split())
    metric = re.match(_METRIC, text)
    if not metric:
        text = re.sub(_PIPE_CLASS, r"\1", text) if re.match(_PIPE_CLASS, text) else re.sub(_CLASS, "", text)
        metric = re.match(_METRIC, text)
    if metric:
        size, pitch = (number.replace(",", ".") if number else "" for number in metric.groups())
        name = f"M{plain(float(size))}"
        return f"{name}x{plain(float(pitch))}" if pitch else name
    if pipe := re.match(_PIPE, text):
        return f"G{_spaced(pipe[1] or pipe[2])}"
    if inch := re.match(_INCH, text):
        before, size, per_inch, behind = inch.groups()
        series = {"W": "BSW", "UN": ""}.get(before or behind or "", before or behind or "")
        size = _spaced(re.sub(r"No\.?\s*", "#", size))
        return size + (f"-{per_inch}" if per_inch else "") + (f" {series}" if series else "")
    return text


def _spaced(size: str) -> str:
    """A mixed fraction with a space in it: "1-1/4" is "1 1/4"."""
    return re.sub(r"\s*[ -]\s*(?=[0-9]+/)", " ", size.strip())


@cache
def thread_named(text: str) -> Thread:
    """Which thread is meant by this name? Without a pitch the coarse one (ISO 261); without a series UNC before UNF.

    A tolerance class behind it (6g, 2A) is passed over; a small inch size is also known without its sign #.

    >>> thread_named("M8").pitch_mm, thread_named("#10-24").name, thread_named("10-24").name
    (1.25, '#10-24 UNC', '#10-24 UNC')
    >>> thread_named("M8 * 1,25").name, thread_named("1/4-20UNC-2A").name, thread_named("1/4 BSW").name
    ('M8', '1/4-20 UNC', '1/4-20 BSW')

    Raises NoSuchThread, naming the nearest that exist.
    Source: ISO 261, ASME B1.1, BS 84, ISO 228-1 (tables/).
    """
    evened = _evened(text)
    found = _spellings().get(evened) or _spellings().get(f"#{evened}")
    if found is None:
        raise NoSuchThread(text, _nearest(evened))
    return found


def thread_meant(text: str) -> Thread:
    """Which thread does a person mean who types on a phone: "m8", "1/4-20 unc", "g1/8"? As `thread_named`, in any case.

    A machine file is read with `thread_named`: what is kept must be written as it should be.

    >>> thread_meant("m8x1").name, thread_meant("1/4 unf").name
    ('M8x1', '1/4-28 UNF')

    Raises NoSuchThread, naming the nearest that exist.
    """
    try:
        return thread_named(text)
    except NoSuchThread as refused:
        try:
            return thread_named(text.upper().replace("COARSE", "coarse").replace("X", "x"))
        except NoSuchThread as again:
            raise NoSuchThread(text, again.nearest or refused.nearest) from None


def _nearest(evened: str) -> tuple[str, ...]:
    """The threads a wrong name most likely meant: of the same size, of the nearest size, or written most alike."""
    size = re.split(r"[x -](?![0-9]+/)", evened, maxsplit=1)[0]
    for name in (size, f"#{size}"):
        same = [thread.name for thread in threads().values() if thread.size == name and thread.series != "G"]
        if same:
            return tuple(same[:4])
    if re.search(_TAPERED, evened) or evened.startswith("-"):
        return ()
    wanted_mm, among = _size_meant(evened)
    if among:
        near = [thread for thread in threads().values() if thread.series in among]
        near.sort(key=lambda thread: abs(thread.diameter_mm - wanted_mm))
        return tuple(dict.fromkeys(thread.name for thread in near[:3]))
    from difflib import get_close_matches  # only here: it takes longer to import than a thread to find

    alike = get_close_matches(evened[:40], _spellings(), n=4, cutoff=0.5)
    return tuple(dict.fromkeys(_spellings()[name].name for name in alike))[:3]


def _size_meant(evened: str) -> tuple[float, tuple[str, ...]]:
    """The diameter [mm] a name of the right form speaks of, and the series to look in; none without such a form."""
    if metric := re.match(_METRIC, evened):
        return float(metric[1]), ("coarse",)
    if pipe := re.match(r"G([0-9]+)(?: ([0-9]+))?(?:/([0-9]+))?\Z", evened):
        inches = _inches(*pipe.groups())
        sizes = {thread.size: thread for thread in threads().values() if thread.series == "G"}
        near = min(sizes, key=lambda size: abs(sum(map(Fraction, size.split())) - inches))
        return sizes[near].diameter_mm, ("G",)
    if inch := re.match(r"#?([0-9]+)(?: ([0-9]+))?(?:/([0-9]+))?(?:-[0-9.]+)?(?: (UNC|UNF|BSW))?\Z", evened):
        first, second, bottom, series = inch.groups()
        numbered = not (second or bottom) and (evened[0] == "#" or int(first) > 4)
        # ASME B1.1: number sizes go up by 0.013 in from 0.060 in
        inches = Fraction(60 + 13 * int(first), 1000) if numbered else _inches(first, second, bottom)
        return float(inches) * INCH_MM, (series,) if series else ("UNC", "UNF")
    if decimal := re.match(r"([0-9]*[.][0-9]+)(?: *in)?(?:-[0-9.]+)?\Z", evened):
        return float(decimal[1]) * INCH_MM, ("UNC", "UNF")
    return 0.0, ()


def _inches(first: str, second: str | None, bottom: str | None) -> Fraction:
    """A size in inches from the parts of "1", "1/4" or "1 1/4"."""
    if bottom is None or int(bottom) == 0:
        return Fraction(first)
    return int(first) + Fraction(int(second), int(bottom)) if second else Fraction(int(first), int(bottom))
