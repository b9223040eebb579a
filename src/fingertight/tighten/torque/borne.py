"""A bolt in its place: what it bears, what is usually asked of it, and what a torque or a turn does to it."""

from dataclasses import dataclass, replace

from fingertight.tighten.spanners.heads import head_named
from fingertight.tighten.threads.names import Thread, thread_named
from fingertight.tighten.torque.friction import (
    Band,
    Bearing,
    Surface,
    aimed_preload_n,
    bearing_under,
    most_torque_nm,
    preload_band_n,
    surface_taken,
)
from fingertight.tighten.torque.preload import (
    Lever,
    Twist,
    lever_of,
    linear_torque_nm,
    preload_at_share_of_yield_n,
    stress_while_tightening_mpa,
)
from fingertight.tighten.torque.strength import (
    Grade,
    Strain,
    Strength,
    bears_n,
    breaking_load_n,
    grade_named,
    on_metric,
    proof_load_n,
    strain_of,
    strength_of,
)
from fingertight.tighten.torque.stripping import Link, Links, links_of

LOOSE_SHARE_OF_PROOF = 1 / 3
"""Under this share of its proof load a bolt may come loose: common practice, no source."""
TABLE_SHARE_OF_YIELD = 0.9
"""The share of yield that printed torque tables are made for: VDI 2230."""
_HEAD_BEARS = {"countersunk socket": 0.8, "button socket": 0.8}
"""What a head with a socket in it bears, as a share of its thread's breaking load: ISO 10642:2004 and ISO 7380-1:2011,
from memory; ISO 14581 (public scope) says the same of its head. That its proof load is as much less is common practice,
no source."""


@dataclass(frozen=True, slots=True)
class Bolted:
    """A bolt in its place.

    head_bears: the share of its thread's loads that its head bears. links: what its hole holds; None in a nut, and
    where the engaged length is not known.
    """

    thread: Thread
    grade: Grade
    strength: Strength
    surface: Surface
    bearing: Bearing
    head_bears: float
    links: Links | None

    @property
    def lever(self) -> Lever:
        """What its torque turns against: thread and head (`lever_of`).

        >>> _an_m8().lever.middle_mm
        7.188101...
        """
        return lever_of(self.thread, self.bearing.middle_mm)

    @property
    def proof_n(self) -> float:
        """Its proof load [N] (`proof_load_n`), less where its head bears less than its thread.

        >>> round(_an_m8().proof_n), round(_an_m8(head="countersunk").proof_n)
        (21228, 16982)
        """
        return self.head_bears * proof_load_n(self.thread, self.grade)

    @property
    def breaks_n(self) -> float:
        """At which pull it must not yet break [N] (`breaking_load_n`), in its thread or in its head.

        >>> round(_an_m8().breaks_n), round(_an_m8(head="countersunk").breaks_n)
        (29280, 23424)
        """
        return self.head_bears * breaking_load_n(self.thread, self.grade)

    def bears_n(self, thread_friction: float) -> float:
        """Which preload it bears [N] (`bears_n`): not over proof when done, nor over yield while it is being turned.

        >>> _an_m8().bears_n(0.08) == _an_m8().proof_n
        True
        """
        return min(self.proof_n, bears_n(self.thread, self.grade, thread_friction))

    @property
    def limit_n(self) -> float:
        """At which pull is a slippery bolt no longer borne, or does something strip [N]?

        min(what it bears at the least friction, the weakest of `links_of`)

        >>> round(_an_m8().limit_n, -2), round(_an_m8("aluminium", 8).limit_n, -2)
        (21200.0, 12700.0)
        """
        bears = self.bears_n(self.surface.thread.low)
        return bears if self.links is None else min(bears, self.links.weakest_n)

    @property
    def most_nm(self) -> float:
        """Up to which torque does even a slippery bolt bear it, and nothing strip [N·m] (`most_torque_nm`)? 0: none.

        >>> round(_an_m8().most_nm, 1), round(_an_m8("aluminium", 8).most_nm, 1)
        (21.4, 12.8)
        """
        return most_torque_nm(self.limit_n, self.lever, self.surface) if self.limit_n > 0 else 0.0

    @property
    def aimed_n(self) -> float:
        """Which preload is usually aimed at, in a hole that holds [N] (`aimed_preload_n`)?

        >>> round(_an_m8().aimed_n / _an_m8().proof_n, 2)
        0.75
        """
        bears = self.bears_n(self.surface.thread.low)
        return aimed_preload_n(self.proof_n, bears, self.lever, self.surface)

    @property
    def usual_n(self) -> float:
        """Which preload is usual here [N]? As aimed at, or less where the threads hold less and are worth tightening.

        >>> round(_an_m8("aluminium", 12).usual_n, -2), _an_m8("aluminium", 3).usual_n == _an_m8().aimed_n
        (15200.0, True)
        """
        if self.links is None or not self.links.is_worth_tightening(self.proof_n):
            return self.aimed_n
        return aimed_preload_n(self.proof_n, self.limit_n, self.lever, self.surface)

    @property
    def may_seize(self) -> bool:
        """Whether bolt and hole may weld to each other as it is turned: stainless steel without paste.

        >>> _an_m8().may_seize
        False

        Source: common practice, no source.
        """
        return self.grade.material == "stainless" and self.surface.name != "paste"

    @property
    def has_odd_mark(self) -> bool:
        """Whether its mark is one of inch bolts and its thread metric, or the other way round.

        >>> _an_m8().has_odd_mark
        False
        """
        return self.grade.is_metric != on_metric(self.thread)


@dataclass(frozen=True, slots=True)
class Borne:
    """How a bolt bears a preload, on a rough bolt, a usual one and a slippery one.

    share_of_yield: pull and twist of the usual one, while it is tightened. strips: the thread that gives before the
    bolt itself is overdone, None where none does; strips_usually: whether it does so on a usual bolt.
    """

    preload: Band
    share_of_proof: Band
    share_of_yield: float
    strain: Strain
    strips: Link | None
    strips_usually: bool

    @property
    def may_come_loose(self) -> bool:
        """Whether the usual preload is so little that the bolt may come loose.

        >>> borne_torque(_an_m8(), 5).may_come_loose, borne_torque(_an_m8(), 10).may_come_loose
        (True, False)

        Source: `LOOSE_SHARE_OF_PROOF`.
        """
        return self.share_of_proof.usual < LOOSE_SHARE_OF_PROOF


def bolted(
    thread: Thread,
    grade: Grade,
    surface: Surface,
    head: str = "hex",
    *,
    into: str = "",
    engaged_mm: float | None = None,
) -> Bolted:
    """What is known of a bolt in its place?

    head: its style. into: the metal of a tapped hole, "" for a nut. engaged_mm: how much thread is in it [mm], above 0;
    None where that is not known.

    >>> bolt = bolted(thread_named("M8"), grade_named("8.8"), surface_taken(), into="aluminium", engaged_mm=8)
    >>> bolt.links.weakest.value
    'the tapped hole strips'

    Raises NoSuchStrength, NoSuchHead, NoSuchBearing and NoSuchHole as its parts do, and ValueError for an engagement of
    0 or less. Source: `strength_of`, `bearing_under`, `links_of`.
    """
    strength, bearing = strength_of(grade, thread), bearing_under(thread, head)
    head_bears = _HEAD_BEARS.get(head_named(head).name, 1.0)
    links = links_of(thread, grade, into, engaged_mm) if into and engaged_mm is not None else None
    if links is not None:
        links = replace(links, bolt_breaks_n=head_bears * links.bolt_breaks_n)
    return Bolted(thread, grade, strength, surface, bearing, head_bears, links)


def borne(bolt: Bolted, preload: Band) -> Borne:
    """How does this bolt bear a preload, and what gives first?

    bolt: as `bolted` has it. preload: of a rough bolt, a usual one and a slippery one [N]. Returns its shares, how the
    bolt ends, and the thread that strips before that, if one does: at the pull of a usual bolt, or at that of a
    slippery one where the bolt itself would bear more.

    >>> ends = borne(_an_m8("aluminium", 8), Band(15_300, 18_900, 24_800))
    >>> ends.strain.value, ends.strips.value, ends.strips_usually
    ('over what it bears when slippery', 'the tapped hole strips', True)

    It holds at room temperature, for a straight pull. Source: `strain_of`, `bears_n`, `links_of`; while it is twisted a
    bolt yields and breaks earlier (VDI 2230, `preload_at_share_of_yield_n`).
    """
    thread, rubs = bolt.thread, (bolt.surface.thread.usual, bolt.surface.thread.low)
    bears = bolt.bears_n(rubs[0]), bolt.bears_n(rubs[1])
    twisted = (preload_at_share_of_yield_n(thread, bolt.strength.tensile_mpa, 1.0, one) for one in rubs)
    breaks = tuple(min(bolt.breaks_n, one) for one in twisted)
    strips, usually = None, False
    if bolt.links is not None and bolt.links.weakest is not Link.BOLT_BREAKS:
        weakest_n = bolt.links.weakest_n * (1 + 1e-9)
        usually = weakest_n < preload.usual
        strips = bolt.links.weakest if usually or weakest_n < min(preload.high, bears[1]) else None
    return Borne(
        preload=preload,
        share_of_proof=Band(*(pull / bolt.proof_n for pull in (preload.low, preload.usual, preload.high))),
        share_of_yield=stress_while_tightening_mpa(preload.usual, thread, rubs[0]) / bolt.strength.yield_mpa,
        strain=strain_of(preload.usual, preload.high, bears, (breaks[0], breaks[1])),
        strips=strips,
        strips_usually=usually,
    )


def borne_torque(bolt: Bolted, set_nm: float) -> Borne:
    """How does this bolt bear a torque, and what gives first?

    set_nm: as the wrench is set [N·m], above 0, however much. The rest as for `borne`.

    >>> [borne_torque(_an_m8(), torque).strain.value for torque in (20, 25, 25_000)]
    ['within what it bears', 'over what it bears when slippery', 'may break']

    Raises ValueError for a torque of 0 or less. Source: `preload_band_n` (friction classes of VDI 2230, torque wrench
    of ISO 6789) and `borne`.
    """
    return borne(bolt, preload_band_n(set_nm, bolt.lever, bolt.surface))


def table_torque_nm(bolt: Bolted, twist: Twist) -> float:
    """What has a printed table of 90 % of yield for this bolt, at the usual friction?

    T = linear arm · F at 90 % of yield, twist included

    twist: YIELDING in tables of 2001 and later, ELASTIC in older ones. Returns the torque [N·m].

    >>> round(table_torque_nm(_an_m8(), Twist.YIELDING), 1), round(table_torque_nm(_an_m8(), Twist.ELASTIC), 1)
    (24.5, 22.7)

    It holds for property classes; a slippery bolt may be overdone by it. Source: VDI 2230, as
    `preload_at_share_of_yield_n` and `linear_torque_nm`.
    """
    rubs = bolt.surface.thread.usual, bolt.surface.head.usual
    force_n = preload_at_share_of_yield_n(bolt.thread, bolt.strength.yield_mpa, TABLE_SHARE_OF_YIELD, rubs[0], twist)
    return linear_torque_nm(force_n, bolt.lever, *rubs)


def _an_m8(into: str = "", engaged_mm: float | None = None, head: str = "hex") -> Bolted:
    """The bolt of the examples above: M8, 8.8, oiled, hex."""
    return bolted(thread_named("M8"), grade_named("8.8"), surface_taken(), head, into=into, engaged_mm=engaged_mm)
