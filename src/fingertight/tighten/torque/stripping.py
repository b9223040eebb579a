"""The weakest link of a bolt in a hole: the bolt breaks, its thread strips, or the tapped hole strips."""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from fingertight.tighten.tables import rows
from fingertight.tighten.threads.limits import bolt_limits, nut_limits
from fingertight.tighten.threads.names import Thread
from fingertight.tighten.torque.strength import Grade, breaking_load_n, strength_of

BOLT_SHEAR_SHARE = 0.6
"""Shear strength of a bolt as a share of its tensile strength: VDI 2230 (2003) has 0.60 to 0.65 for steel, from memory;
for stainless steel and brass, which have more, common practice, no source."""
DEAD_PITCHES = 0.8
"""How many pitches of the engaged thread carry nothing, at the mouth of the hole and the end of the bolt: VDI 2230
(2003), from memory."""

WORTH_SHARE_OF_PROOF = 0.25


class NoSuchHole(ValueError):
    """This material of a hole is not known here; the message names those that are, and `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...]) -> None:
        said = typed if len(typed) <= 20 else f"{typed[:20]}…"
        super().__init__(f"There is no hole in “{said}” here; choose one of {', '.join(nearest)}.")
        self.nearest = nearest


@dataclass(frozen=True, slots=True)
class HoleMaterial:
    """What a hole is tapped into: least tensile strength, shear strength as a share of it, stiffness [MPa]."""

    name: str
    means: str
    tensile_mpa: float
    shear_share: float
    modulus_mpa: float

    @property
    def shear_mpa(self) -> float:
        """Shear strength [MPa].

        >>> hole_material("aluminium").shear_mpa
        108.0
        """
        return self.tensile_mpa * self.shear_share


@cache
def hole_materials() -> dict[str, HoleMaterial]:
    """Every material there is, by its name.

    >>> list(hole_materials())
    ['steel', 'cast iron', 'aluminium']
    """
    return {
        row["into"]: HoleMaterial(
            row["into"],
            row["means"],
            float(row["tensile_mpa"]),
            float(row["shear_share"]),
            float(row["modulus_gpa"]) * 1000,
        )
        for row in rows("tapped-holes.csv")
    }


def hole_material(text: str) -> HoleMaterial:
    """Which material of a hole is meant by this text?

    >>> hole_material("Cast iron").tensile_mpa, hole_material("aluminum").name
    (250.0, 'aluminium')

    The weakest that is usual: plain steel S235, grey iron GJL-250, cast aluminium. Raises NoSuchHole, naming those
    there are. Source: tables/tapped-holes.csv, from memory, by the standards named there.
    """
    lowered = " ".join(text.split()).lower()
    spelt = {"aluminum": "aluminium", "alloy": "aluminium", "iron": "cast iron", "grey iron": "cast iron"}
    found = hole_materials().get(spelt.get(lowered, lowered))
    if found is None:
        raise NoSuchHole(text, tuple(hole_materials()))
    return found


def shear_area_of_hole_mm2(
    pitch_mm: float, engaged_mm: float, bolt_major_mm: float, nut_pitch_mm: float, flank_angle_deg: float = 60
) -> float:
    """Over which area does the thread of a nut or tapped hole strip?

    AS_n = π · Le/P · Ds · [P/2 + tan(α/2) · (Ds − En)]     (tan 30° = 0.57735; n = 1/P)

    pitch_mm: P. engaged_mm: Le, the thread that carries. bolt_major_mm: Ds, the least outside diameter of the bolt.
    nut_pitch_mm: En, the largest pitch diameter of the hole. flank_angle_deg: α. Returns the area [mm²].

    >>> round(shear_area_of_hole_mm2(25.4 / 20, 25.4, 0.2408 * 25.4, 0.2224 * 25.4) / 25.4**2, 3)
    0.539

    It holds for the worst fit that is allowed, and a hole that does not widen. Raises ValueError for a size of 0 or
    less, or flanks that do not meet.
    Source: FED-STD-H28/2, shear area of internal threads (a US government work); checked against its areas an inch, as
    a dealer's sheet prints them. For flanks other than 60° the same geometry, no source.
    """
    return _shear_area_mm2(pitch_mm, engaged_mm, bolt_major_mm, bolt_major_mm - nut_pitch_mm, flank_angle_deg)


def shear_area_of_bolt_mm2(
    pitch_mm: float, engaged_mm: float, nut_minor_mm: float, bolt_pitch_mm: float, flank_angle_deg: float = 60
) -> float:
    """Over which area does the thread of a bolt strip?

    AS_s = π · Le/P · Kn · [P/2 + tan(α/2) · (Es − Kn)]

    nut_minor_mm: Kn, the largest bore of the hole's thread. bolt_pitch_mm: Es, the least pitch diameter of the bolt.
    The rest as for `shear_area_of_hole_mm2`. Returns the area [mm²].

    >>> round(shear_area_of_bolt_mm2(25.4 / 20, 25.4, 0.207 * 25.4, 0.2127 * 25.4) / 25.4**2, 3)
    0.368

    Holds and raises as that does.
    Source: FED-STD-H28/2, shear area of external threads; the 1/4-20 value from memory, recomputed.
    """
    return _shear_area_mm2(pitch_mm, engaged_mm, nut_minor_mm, bolt_pitch_mm - nut_minor_mm, flank_angle_deg)


def _shear_area_mm2(pitch_mm: float, engaged_mm: float, at_mm: float, apart_mm: float, flank_angle_deg: float) -> float:
    thick = pitch_mm / 2 + math.tan(math.radians(flank_angle_deg / 2)) * apart_mm
    if not (pitch_mm > 0 and engaged_mm > 0 and at_mm > 0 and thick > 0):
        raise ValueError("sizes are above 0, and the flanks meet")
    return math.pi * engaged_mm / pitch_mm * at_mm * thick


class Link(StrEnum):
    """What gives first."""

    BOLT_BREAKS = "the bolt breaks"
    BOLT_STRIPS = "the thread of the bolt strips"
    HOLE_STRIPS = "the tapped hole strips"


@dataclass(frozen=True, slots=True)
class Links:
    """At which pull each of the three gives [N]; `weakest` is the one that gives first."""

    bolt_breaks_n: float
    bolt_strips_n: float
    hole_strips_n: float

    @property
    def weakest(self) -> Link:
        """What gives first; of equals, the bolt: it is the one that is seen and cheaply replaced.

        >>> Links(29_000, 40_000, 25_000).weakest.value
        'the tapped hole strips'
        """
        return min(zip(self._loads_n, Link, strict=True), key=lambda pair: pair[0])[1]

    @property
    def weakest_n(self) -> float:
        """At which pull the first one gives [N].

        >>> Links(29_000, 40_000, 25_000).weakest_n
        25000
        """
        return min(self._loads_n)

    def holds(self, slippery_n: float) -> bool:
        """Whether none of the three gives at this pull, the most that a slippery bolt may be given [N].

        >>> Links(29_000, 40_000, 25_000).holds(20_900), Links(29_000, 40_000, 20_000).holds(20_900)
        (True, False)
        """
        return slippery_n <= self.weakest_n * (1 + 1e-9)

    def is_worth_tightening(self, proof_n: float) -> bool:
        """Whether the threads hold enough of the bolt's proof load [N] to be tightened at all: a quarter.

        >>> [Links(29_000, 40_000, hole).is_worth_tightening(21_200) for hole in (25_000, 500)]
        [True, False]

        Source: common practice, no source.
        """
        return self.weakest_n >= WORTH_SHARE_OF_PROOF * proof_n

    @property
    def _loads_n(self) -> tuple[float, float, float]:
        return self.bolt_breaks_n, self.bolt_strips_n, self.hole_strips_n


def links_of(thread: Thread, grade: Grade, into: str, engaged_mm: float) -> Links:
    """At which pull does the bolt break, its thread strip, the hole strip?

    bolt: Rm · As. threads: shear strength · shear area of the engaged thread, less 0.8 P that carry nothing.

    thread: at the worst fit its tolerances allow. grade: of the bolt. into: "steel", "cast iron" or "aluminium".
    engaged_mm: from the first thread that meets to the last [mm], above 0. Returns the three loads [N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> from fingertight.tighten.torque.strength import grade_named
    >>> links = links_of(thread_named("M8"), grade_named("8.8"), "aluminium", 12)
    >>> round(links.bolt_breaks_n, -2), round(links.hole_strips_n, -2), links.weakest.value
    (29300.0, 20000.0, 'the tapped hole strips')

    It holds for full threads, cut not worn, pulled straight and slowly, in metal that is thick around the hole. Worn,
    corroded and repaired holes hold less. A thread insert is another hole. Raises NoSuchHole, NoSuchStrength, and
    ValueError for an engagement of 0 or less.
    Source: areas FED-STD-H28/2; shear strengths and 0.8 P by VDI 2230 (2003), from memory.
    """
    if engaged_mm <= 0:
        raise ValueError("the engagement is above 0")
    metal = hole_material(into)
    hole_mm2, bolt_mm2 = _areas_mm2(thread, engaged_mm - DEAD_PITCHES * thread.pitch_mm)
    bolt_shear_mpa = BOLT_SHEAR_SHARE * strength_of(grade, thread).tensile_mpa
    return Links(breaking_load_n(thread, grade), bolt_shear_mpa * bolt_mm2, metal.shear_mpa * hole_mm2)


def _areas_mm2(thread: Thread, carries_mm: float) -> tuple[float, float]:
    """Shear areas of hole and bolt at the worst fit the tolerances allow; none where no thread carries."""
    if carries_mm <= 0:
        return 0.0, 0.0
    bolt, nut, flanks = bolt_limits(thread), nut_limits(thread), thread.flank_angle_deg
    return (
        shear_area_of_hole_mm2(thread.pitch_mm, carries_mm, bolt.major_mm[0], nut.pitch_mm[1], flanks),
        shear_area_of_bolt_mm2(thread.pitch_mm, carries_mm, nut.minor_mm[1], bolt.pitch_mm[0], flanks),
    )


def least_engagement_mm(thread: Thread, grade: Grade, into: str) -> float:
    """How much thread must be engaged, so that the bolt breaks before any thread strips?

    Le = Rm · As / (least shear load a mm) + 0.8 P

    thread, grade, into: as for `links_of`. Returns the length [mm], from the first thread that meets to the last.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> from fingertight.tighten.torque.strength import grade_named
    >>> m8, grade = thread_named("M8"), grade_named("8.8")
    >>> [round(least_engagement_mm(m8, grade, into), 1) for into in ("steel", "cast iron", "aluminium")]
    [9.1, 8.7, 17.1]

    Holds and raises as `links_of` does. A bolt stronger than its grade's least wants as much more.
    Source: as for `links_of`; checked against lengths published from trials (1.0 to 1.25 d in steel, 1.0 to 1.3 d in
    grey iron, 2 to 2.5 d in aluminium, for coarse 8.8).
    """
    one = DEAD_PITCHES * thread.pitch_mm + 1.0
    links = links_of(thread, grade, into, one)
    return links.bolt_breaks_n / min(links.bolt_strips_n, links.hole_strips_n) + DEAD_PITCHES * thread.pitch_mm
