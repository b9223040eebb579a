"""What rubs when a bolt is tightened: how slippery thread and head are, and the band of preload that leaves open."""

import math
from dataclasses import dataclass
from functools import cache

from fingertight.tighten.spanners.heads import head_named
from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names import Thread
from fingertight.tighten.torque.preload import Lever, arm_mm, preload_n, torque_nm
from fingertight.tighten.torque.wrench import may_be_off
from fingertight.uncertainty.standard import combined, expanded, of_limits

USUAL_SHARE_OF_PROOF = 0.75
"""The share of its proof load a bolt that comes off again is tightened to: Shigley's Mechanical Engineering Design,
9th ed., equation 8-31."""


@dataclass(frozen=True, slots=True)
class Band:
    """A size that is not known better than between two ends, and what is usual."""

    low: float
    usual: float
    high: float


class NoSuchSurface(ValueError):
    """This state is not known here, or not for this metal; the message names those that are (`nearest`)."""

    def __init__(self, typed: str, nearest: tuple[str, ...], of: str = "") -> None:
        said = typed if len(typed) <= 20 else f"{typed[:20]}…"
        metal = f" for {of} bolts" if of else ""
        super().__init__(f"There is no surface “{said}” here{metal}; choose one of {', '.join(nearest)}.")
        self.nearest = nearest


class NoSuchBearing(ValueError):
    """Nothing bears under this head, or it is tightened by the fingers; the message says so."""


@dataclass(frozen=True, slots=True)
class Surface:
    """A state of thread and head: friction coefficients as bands, and the class of VDI 2230 each is taken from.

    nut_factor: what a published table of nut factors gives for it, under the name `finish`; 0.0 where it has none.
    """

    name: str
    says: str
    thread: Band
    head: Band
    classes: tuple[str, str]
    finish: str
    nut_factor: float


@cache
def friction_class(letter: str) -> Band:
    """How slippery is a friction class of VDI 2230, A to E? Its two ends, and what is usual.

    >>> friction_class("B")
    Band(low=0.08, usual=0.12, high=0.16)

    The classes hold at room temperature, for new parts. What is usual is common practice, no source: the guideline has
    only ends, and chooses torques by the lower one. It lies where published nut factors do (0.12 to 0.16 are K 0.17 to
    0.21 on M8). The upper end of E, which the guideline leaves open, is common practice too.
    Raises KeyError for another letter.
    Source: VDI 2230 part 1 (2003 and later), friction classes, as reprinted on three public pages that agree.
    """
    bands = {row["class"]: Band(*(float(row[end]) for end in ("low", "usual", "high"))) for row in _classes()}
    return bands[letter]


def _classes() -> list[dict[str, str]]:
    return rows("vdi-2230-friction.csv")


def published_nut_factor(finish: str) -> float:
    """Which nut factor K does the published table give for this finish?

    >>> published_nut_factor("zinc-plated")
    0.2

    It holds for T = K F d, without scatter. Raises KeyError for a finish that is not in the table.
    Source: Shigley's Mechanical Engineering Design, 9th ed., table 8-15.
    """
    return {row["finish"]: float(row["nut_factor"]) for row in rows("shigley-nut-factors.csv")}[finish]


@cache
def surfaces(material: str = "steel") -> dict[str, Surface]:
    """Every state a bolt of this metal may be in, by name; brass is taken as steel.

    >>> list(surfaces())
    ['dry', 'oiled', 'plated', 'thread lock', 'paste']

    Which state has which class is common practice, no source (tables/workshop-surfaces.csv).
    """
    metal = "stainless" if material == "stainless" else "steel"
    return {
        row["state"]: Surface(
            name=row["state"],
            says=row["says"],
            thread=friction_class(row["thread_class"]),
            head=friction_class(row["head_class"]),
            classes=(row["thread_class"], row["head_class"]),
            finish=row["finish"],
            nut_factor=published_nut_factor(row["finish"]) if row["finish"] else 0.0,
        )
        for row in rows("workshop-surfaces.csv")
        if row["material"] == metal
    }


_SPELT = {
    "oil": "oiled", "lubricated": "oiled", "greased": "oiled", "zinc": "plated", "zinc-plated": "plated",
    "zinc plated": "plated", "galvanised": "plated", "threadlock": "thread lock", "thread-lock": "thread lock",
    "locked": "thread lock", "moly": "paste", "anti-seize": "paste", "waxed": "paste", "wax": "paste", "clean": "dry",
}  # fmt: skip


def surface_named(text: str, material: str = "steel") -> Surface:
    """Which state of a bolt's surface is meant by this text?

    text: "dry", "oiled", "plated", "thread lock", "paste". material: as a grade has it, "steel", "stainless", "brass".

    >>> surface_named("Oiled").thread, surface_named("dry", "stainless").classes
    (Band(low=0.08, usual=0.12, high=0.16), ('E', 'E'))

    Raises NoSuchSurface, naming those there are: stainless steel is not plated.
    Source: VDI 2230 classes; which state has which is common practice, no source.
    """
    lowered = " ".join(text.split()).lower()
    known = surfaces(material)
    found = known.get(_SPELT.get(lowered, lowered))
    if found is None:
        raise NoSuchSurface(text, tuple(known), material if material == "stainless" else "")
    return found


def surface_taken(material: str = "steel") -> Surface:
    """In which state is a bolt taken to be, where nobody says?

    Steel and brass oiled, as bolts come out of the box. Stainless steel with paste: of all its states that takes the
    least torque, and dry it may have three times the friction.

    >>> surface_taken().name, surface_taken("stainless").name
    ('oiled', 'paste')

    Source: common practice, no source.
    """
    return surfaces(material)["paste" if material == "stainless" else "oiled"]


@dataclass(frozen=True, slots=True)
class Bearing:
    """The ring a head presses on: outer diameter and hole [mm], and where they are from.

    cone_deg: the angle of the cone it forms, 180 where it is flat.
    """

    outer_mm: float
    hole_mm: float
    source: str
    cone_deg: float = 180.0

    @property
    def middle_mm(self) -> float:
        """The diameter at which head friction is taken to act [mm].

        (outer + hole) / 2 / sin(cone / 2): flat as VDI 2230 has it; a cone presses harder by 1 / sin than it is pulled.

        >>> Bearing(11.6, 9.0, "").middle_mm, round(Bearing(16.0, 9.0, "", 90).middle_mm, 2)
        (10.3, 17.68)

        Source of the cone: a truncated conical pivot of uniform wear, T = μ W (r1 + r2) / 2 / sin α (theory of
        machines, as in a public examination question; the cone clutch of Shigley, 9th ed., chapter 16, from memory).
        """
        return (self.outer_mm + self.hole_mm) / 2 / math.sin(math.radians(self.cone_deg / 2))


_NO_RING = {"set screw": "has no head that bears on anything", "wing nut": "is tightened by the fingers",
            "wing screw": "is tightened by the fingers", "knurled": "is tightened by the fingers"}  # fmt: skip
_AS = {"hex nut": "hex"}


def bearing_under(thread: Thread, head: str = "hex") -> Bearing:
    """On which ring does this head press?

    thread: gives the size. head: its style, as spanners are asked for. Returns the least outer diameter of the bearing
    face over a clearance hole of ISO 273 (medium) [mm]. A countersunk head is a cone of 90° (82° on inch threads) from
    that hole to 2 d. Where no table has the head or the size: 1.5 d over a hole of d, mean diameter 1.25 d.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> [round(bearing_under(thread_named(name)).middle_mm, 2) for name in ("M8", "1/4-20")]
    [10.32, 7.94]

    It holds for a seat without a washer, or with one that turns with the head; for a cone, where head and seat have the
    same angle. Raises NoSuchHead, and NoSuchBearing for set screws and what fingers tighten.
    Source: ISO 4014, DIN 931, ISO 4762, EN 1665, EN 1662, EN 1661, ISO 273 (tables/vdi-2230-bearing.csv says which were
    read where); countersunk heads 2 d wide and of 90°: ISO 10642 as package bd-warehouse 0.4.0 has it (M3 to M12), of
    82°: ASME B18.3, from memory; 1.25 d is the mean collar diameter of Shigley's Mechanical Engineering Design, 9th
    ed., section 8-8.
    """
    style = head_named(head).name
    if style in _NO_RING:
        raise NoSuchBearing(f"A {style} {_NO_RING[style]}; no torque is worked out for it.")
    if style == "countersunk socket":
        return _cone_under(thread)
    wanted = _AS.get(style, style)
    for kind in (wanted, "hex" if wanted == "hex DIN 931" else wanted):
        for row in rows("vdi-2230-bearing.csv"):
            if row["head"] == kind and row["size"] == thread.size:
                return Bearing(float(row["outer_mm"]), float(row["hole_mm"]), f"{style} head, published bearing face")
    return Bearing(1.5 * thread.diameter_mm, thread.diameter_mm, "mean diameter 1.25 d; no table has this head")


def _cone_under(thread: Thread) -> Bearing:
    """The cone of a countersunk head, over the same hole as under a hex head where a table has that."""
    holes = [float(row["hole_mm"]) for row in rows("vdi-2230-bearing.csv") if row["size"] == thread.size]
    cone_deg = 82.0 if thread.series in {"UNC", "UNF"} else 90.0
    hole_mm = holes[0] if holes else thread.diameter_mm
    return Bearing(2 * thread.diameter_mm, hole_mm, f"a cone of {cone_deg:.0f}° from its hole to 2 d", cone_deg)


def friction_scatter(lever: Lever, surface: Surface) -> tuple[float, float]:
    """By what share may the torque for a preload differ, less and more, because friction is only known as a band?

    u = √(u_thread² + u_head²) / arm, each u = what the band's end changes / √3; the share is 2 u.

    lever: as for `arm_mm`. surface: its bands. Returns two shares: how much less a slippery bolt takes, how much more a
    rough one, for about 19 bolts of 20.

    >>> [round(share, 2) for share in friction_scatter(Lever(8, 1.25, 7.188, 10.3), surface_named("oiled"))]
    [0.23, 0.23]

    It holds where thread and head rub independently; where one coating does for both, they move together and the shares
    are larger, at most 1.4 times. Source: GUM (JCGM 100:2008) 4.3.7, 5.1.2, 6.2.1 on the bands of VDI 2230.
    """
    thread, head = surface.thread, surface.head
    usual = arm_mm(lever, thread.usual, head.usual)

    def share(by_thread: float, by_head: float) -> float:
        changes = (arm_mm(lever, by_thread, head.usual) - usual, arm_mm(lever, thread.usual, by_head) - usual)
        return expanded(combined([of_limits(change) for change in changes])) / usual

    return share(thread.low, head.low), share(thread.high, head.high)


def torque_band_nm(force_n: float, lever: Lever, surface: Surface) -> Band:
    """Which torque does this preload take, on a slippery bolt, a usual one and a rough one?

    T · (1 − r1), T, T · (1 + r2), with r1 and r2 the `friction_scatter`

    force_n: F, the preload [N], above 0. Returns the torque [N·m].

    >>> band = torque_band_nm(15_900, Lever(8, 1.25, 7.188, 10.3), surface_named("oiled"))
    >>> [round(torque, 1) for torque in (band.low, band.usual, band.high)]
    [16.1, 21.0, 25.9]

    Holds, raises and is from where `torque_nm` and `friction_scatter` are.
    """
    usual = torque_nm(force_n, lever, surface.thread.usual, surface.head.usual)
    less, more = friction_scatter(lever, surface)
    return Band(usual * (1 - less), usual, usual * (1 + more))


def preload_scatter(lever: Lever, surface: Surface, wrench_share: float) -> tuple[float, float]:
    """By what share may torque and preload disagree, on a slippery and on a rough bolt, torque wrench included?

    r = √(r_friction² + (2/√3 · w)²)

    wrench_share: w, how far the wrench may be off, as a share. The rest as for `friction_scatter`. Returns two shares.

    >>> [round(share, 2) for share in preload_scatter(Lever(8, 1.25, 7.188, 10.3), surface_named("dry"), 0.04)]
    [0.1, 0.37]

    Source: as for `friction_scatter`. Checked against the tightening factors VDI 2230 gives for a torque wrench and an
    estimated friction: 1.6 to 2.0 in class B.
    """
    wrench = expanded(of_limits(wrench_share))
    less, more = (combined([share, wrench]) for share in friction_scatter(lever, surface))
    return less, more


def preload_band_n(given_nm: float, lever: Lever, surface: Surface) -> Band:
    """Which preload does this torque give, on a rough bolt, a usual one and a slippery one?

    F / (1 + r2), F, F / (1 − r1), with r1 and r2 the `preload_scatter`

    given_nm: T, as the wrench is set [N·m], above 0; the wrench is taken to be as far off as ISO 6789 lets it be.
    Returns the preload [N].

    >>> band = preload_band_n(21, Lever(8, 1.25, 7.188, 10.3), surface_named("oiled"))
    >>> [round(force, -2) for force in (band.low, band.usual, band.high)]
    [12800.0, 15900.0, 20900.0]

    Holds, raises and is from where `preload_n` and `preload_scatter` are.
    """
    usual = preload_n(given_nm, lever, surface.thread.usual, surface.head.usual)
    slippery, rough = preload_scatter(lever, surface, may_be_off(given_nm))
    return Band(usual / (1 + rough), usual, usual / (1 - slippery))


def most_torque_nm(limit_n: float, lever: Lever, surface: Surface) -> float:
    """Up to which torque does even a slippery bolt stay within this preload?

    T = F · (1 − r1) · arm, with r1 the `preload_scatter` of a slippery bolt

    limit_n: the preload that is not to be passed, such as a proof load [N], above 0. Returns the torque [N·m].

    >>> round(most_torque_nm(21_200, Lever(8, 1.25, 7.188, 10.3), surface_named("oiled")), 1)
    21.3

    Holds and is from where `preload_band_n` is. Raises ValueError for a limit of 0 or less.
    """
    all_nm = torque_nm(limit_n, lever, surface.thread.usual, surface.head.usual)
    fine, coarse = (all_nm * (1 - preload_scatter(lever, surface, may_be_off(nm))[0]) for nm in (all_nm, 0.0))
    # A small wrench may be further off: where the torque comes out that small, its share counts.
    return fine if may_be_off(fine) == may_be_off(all_nm) else coarse


def aimed_preload_n(proof_n: float, bears_n: float, lever: Lever, surface: Surface) -> float:
    """Which preload is usually aimed at: 75 % of proof, or so much less that even a slippery bolt bears it?

    F = min(0.75 Fp, Fb (1 − r1)), with r1 the `preload_scatter` of a slippery bolt

    proof_n: Fp, the proof load [N], above 0. bears_n: Fb, what a slippery bolt bears [N], above 0. Returns the preload
    of a usual bolt [N].

    >>> m8 = Lever(8, 1.25, 7.188, 10.3)
    >>> [round(aimed_preload_n(21_200, 21_200, m8, surface_named(state))) for state in ("oiled", "paste")]
    [15900, 14253]

    It holds for bolts that come off again and are not fatigued; a maker's torque is worth more. Raises ValueError for a
    load of 0 or less.
    Source: 75 % is Shigley's Mechanical Engineering Design, 9th ed., equation 8-31; that no bolt may be overdone by
    slipperiness is how VDI 2230 chooses a torque (by the least friction).
    """
    most_nm = most_torque_nm(bears_n, lever, surface)
    most_n = preload_n(most_nm, lever, surface.thread.usual, surface.head.usual)
    return min(USUAL_SHARE_OF_PROOF * proof_n, most_n)
