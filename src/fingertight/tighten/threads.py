"""A thread by its name: "M6", "M6x0.75", "1/4-20 UNC", "#10-24", "1/4-20 BSW", "G1/4"."""

import difflib
import math
import re
from dataclasses import dataclass
from functools import cache

from fingertight.quantity import plain
from fingertight.tighten.tables import rows

_INCH_MM = 25.4
_METRIC = re.compile(r"M\s*([0-9]+(?:\.[0-9]+)?)(?:\s*[xX×]\s*([0-9]+(?:[.,][0-9]+)?))?\Z")
_INCH = re.compile(r"(#?[0-9]+(?: [0-9]+)?(?:/[0-9]+)?)(?:\s*-\s*([0-9]+))?\s*(UNC|UNF|BSW)?\Z")
_PIPE = re.compile(r"G\s*([0-9]+(?: [0-9]+)?(?:/[0-9]+)?)\Z")


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
        diameter, pitch = float(row["diameter_in"]) * _INCH_MM, _INCH_MM / float(per_inch)
        found.append(Thread(f"{size}-{per_inch} {row['series']}", size, row["series"], diameter, pitch))
    for row in rows("iso-228-1.csv"):
        pitch = _INCH_MM / float(row["threads_per_inch"])
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
    """The text with its spaces and signs as `_spellings` writes them."""
    text = " ".join(typed.split())
    if metric := _METRIC.match(text):
        size, pitch = metric.groups()
        name = f"M{plain(float(size))}"
        return f"{name}x{plain(float(pitch.replace(',', '.')))}" if pitch else name
    if pipe := _PIPE.match(text):
        return f"G{pipe[1]}"
    if inch := _INCH.match(text):
        size, per_inch, series = inch.groups()
        return size + (f"-{per_inch}" if per_inch else "") + (f" {series}" if series else "")
    return text


@cache
def thread_named(text: str) -> Thread:
    """Which thread is meant by this name? Without a pitch the coarse one (ISO 261); without a series UNC before UNF.

    >>> thread_named("M8").pitch_mm, thread_named("#10-24").name
    (1.25, '#10-24 UNC')

    Raises NoSuchThread, naming the nearest that exist.
    Source: ISO 261, ASME B1.1, BS 84, ISO 228-1 (tables/).
    """
    evened = _evened(text)
    found = _spellings().get(evened)
    if found is None:
        raise NoSuchThread(text, _nearest(evened))
    return found


def _nearest(evened: str) -> tuple[str, ...]:
    """The threads a wrong name most likely meant: those of the same size, else those written most alike."""
    size = re.split(r"[x -](?![0-9]+/)", evened, maxsplit=1)[0]
    same = [thread.name for thread in threads().values() if thread.size == size and thread.series != "G"]
    if same:
        return tuple(same[:4])
    if metric := _METRIC.match(evened):
        coarse = [thread for thread in threads().values() if thread.series == "coarse"]
        coarse.sort(key=lambda thread: abs(thread.diameter_mm - float(metric[1])))
        return tuple(thread.name for thread in coarse[:3])
    near = difflib.get_close_matches(evened[:40], _spellings(), n=4, cutoff=0.5)
    return tuple(dict.fromkeys(_spellings()[name].name for name in near))[:3]
